using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;

namespace Intervalometer.Settings.Store;

/// <summary>
/// The stored form of the settings: metered reading, film, limit, brightness, plan, waves, the lock, the reference of the battery gauge, the lag
/// and spread of the hand, the light of the display, and the light sensor. New fields go at the end. A record that ends before them leaves them as they are.
/// </summary>
public static class SettingsRecord
{
    /// <summary>The version of the stored form.</summary>
    public const int Version = 1;

    private const long DayUs = 86_400_000_000;

    /// <summary>Writes the settings.</summary>
    public static void Put(BoxSettings settings, Bytes bytes)
    {
        MeteredBase metered = settings.Base;
        bytes.Put(metered.Shutter.Index, 1);
        bytes.Put(metered.Aperture.Index, 1);
        bytes.Put(metered.Iso.Index, 1);
        bytes.Put(metered.HandThirds, 1);
        bytes.Put(settings.Film.Kept, 1);
        bytes.Put(settings.LimitSeconds, 2);
        bytes.Put(settings.Brightness, 1);
        bytes.PutFlag(settings.AlwaysBulb);
        ShotPlan plan = settings.Plan;
        bytes.Put((int)plan.Shape, 1);
        bytes.Put(plan.SettleUs, 5);
        bytes.Put(plan.Frames, 2);
        bytes.Put(plan.GapUs, 5);
        bytes.Put(plan.IntervalUs, 5);
        bytes.Put(plan.HoldUs, 5);
        bytes.Put(plan.BracketThirds, 1);
        WaveOrder waves = settings.Waves;
        bytes.Put((int)waves.Way, 1);
        bytes.Put(waves.DelayMs, 2);
        bytes.PutFlag(waves.BestMoment);
        bytes.Put(waves.FromTurnMs, 2);
        bytes.Put(waves.FramesPerWave, 1);
        bytes.Put(waves.GapMs, 2);
        bytes.Put(waves.EveryWave, 1);
        bytes.Put(waves.Waves, 1);
        bytes.Put(waves.Minutes, 1);
        bytes.Put(settings.LockMinutes, 1);
        bytes.PutFlag(settings.Locked);
        bytes.Put(settings.GaugeReference - BoxSettings.LeastGaugeReference, 1);
        bytes.Put(waves.HandLagMs, 2);
        bytes.Put(waves.HandSpreadMs, 2);
        bytes.Put(settings.NightBrightness, 1);
        bytes.Put(settings.DarkSeconds, 1);
        bytes.Put((int)settings.Sensor, 1);
        bytes.Put(settings.SensorThirds, 1);
        bytes.Put(settings.SeriesTenths, 1);
    }

    /// <summary>Reads the settings. Returns false when a value is out of range; the settings that could be read are then used, and the rest stay as before.</summary>
    public static bool Take(BoxSettings settings, Bytes bytes)
    {
        MeteredBase old = settings.Base;
        int shutter = bytes.TakeInt(1, ShutterSetting.MinIndex, ShutterSetting.MaxIndex, old.Shutter.Index);
        int aperture = bytes.TakeInt(1, ApertureSetting.MinIndex, ApertureSetting.MaxIndex, old.Aperture.Index);
        int iso = bytes.TakeInt(1, IsoSetting.MinIndex, IsoSetting.MaxIndex, old.Iso.Index);
        int hand = bytes.TakeInt(1, -MeteredBase.MaxHandThirds, MeteredBase.MaxHandThirds, old.HandThirds);
        int film = FilmCurve.FromKept(bytes.TakeInt(1, 0, FilmCurve.LastKept, settings.Film.Kept)).Index;
        settings.LimitSeconds = bytes.TakeInt(2, (int)ExposureSolver.MinLimitSeconds, (int)ExposureSolver.MaxLimitSeconds, settings.LimitSeconds);
        settings.Brightness = bytes.TakeInt(1, 0, 10, settings.Brightness);
        settings.AlwaysBulb = bytes.TakeFlag(settings.AlwaysBulb);
        TakePlan(settings.Plan, bytes);
        TakeWaves(settings.Waves, bytes);
        settings.LockMinutes = bytes.TakeInt(1, 0, 9, settings.LockMinutes);
        settings.Locked = bytes.TakeFlag(settings.Locked);
        int most = BoxSettings.MostGaugeReference - BoxSettings.LeastGaugeReference;
        settings.GaugeReference = BoxSettings.LeastGaugeReference + bytes.TakeInt(1, 0, most, settings.GaugeReference - BoxSettings.LeastGaugeReference);
        settings.Waves.HandLagMs = bytes.TakeInt(2, HandDrill.LeastLagMs, HandDrill.MostLagMs, settings.Waves.HandLagMs);
        settings.Waves.HandSpreadMs = bytes.TakeInt(2, HandDrill.LeastSpreadMs, HandDrill.MostSpreadMs, settings.Waves.HandSpreadMs);
        settings.NightBrightness = bytes.TakeInt(1, 0, 10, settings.NightBrightness);
        settings.DarkSeconds = bytes.TakeInt(1, 0, DisplayLight.MostSeconds, settings.DarkSeconds);
        settings.Sensor = (SensorUse)bytes.TakeInt(1, 0, (int)SensorUse.CarriesToo, (int)settings.Sensor);
        settings.SensorThirds = bytes.TakeInt(1, 1, BoxSettings.MostSensorThirds, settings.SensorThirds);
        settings.SeriesTenths = bytes.TakeInt(1, 0, BoxSettings.MostSeriesTenths, settings.SeriesTenths);
        settings.StepFilm(film - settings.Film.Index);
        settings.SetBase(new MeteredBase(new ApertureSetting(aperture), new IsoSetting(iso), new ShutterSetting(shutter), hand));
        return !bytes.Bad;
    }

    private static void TakePlan(ShotPlan plan, Bytes bytes)
    {
        plan.Shape = (PlanShape)bytes.TakeInt(1, 0, (int)PlanShape.ByHand, (int)plan.Shape);
        plan.SettleUs = bytes.Take(5, 0, DayUs, plan.SettleUs);
        plan.Frames = bytes.TakeInt(2, 1, ShotPlan.MostSeries, plan.Frames);
        plan.GapUs = bytes.Take(5, 0, DayUs, plan.GapUs);
        plan.IntervalUs = bytes.Take(5, 1, DayUs, plan.IntervalUs);
        plan.HoldUs = bytes.Take(5, 1, DayUs, plan.HoldUs);
        plan.BracketThirds = bytes.TakeInt(1, 1, 9, plan.BracketThirds);
    }

    private static void TakeWaves(WaveOrder waves, Bytes bytes)
    {
        waves.Way = (FiringWay)bytes.TakeInt(1, 0, (int)FiringWay.OnArrival, (int)waves.Way);
        waves.DelayMs = bytes.TakeInt(2, 0, 20000, waves.DelayMs);
        waves.BestMoment = bytes.TakeFlag(waves.BestMoment);
        waves.FromTurnMs = bytes.TakeInt(2, -3000, 5000, waves.FromTurnMs);
        waves.FramesPerWave = bytes.TakeInt(1, 1, 9, waves.FramesPerWave);
        waves.GapMs = bytes.TakeInt(2, 0, 5000, waves.GapMs);
        waves.EveryWave = bytes.TakeInt(1, 1, 9, waves.EveryWave);
        waves.Waves = bytes.TakeInt(1, 0, 99, waves.Waves);
        waves.Minutes = bytes.TakeInt(1, 0, 240, waves.Minutes);
    }
}

using System.Reflection;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Link;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.Fuzz.Targets;

/// <summary>
/// A memory that holds anything. It is loaded as the box loads it, the values lie in their ranges and can be drawn, the logbook
/// is read, and the keeper goes on for a while. Nothing may throw, hang or write before it is asked to.
/// </summary>
internal static class StoreTarget
{
    private const int ImageBytes = StoreMap.Pages * StoreMap.PageBytes;

    // Bits of the first byte: checksums are made right, versions are made known; the rest says when the chip goes silent.
    private const int Repair = 1, Known = 2, Silent = 4;

    /// <summary>A byte of flags, then the image.</summary>
    public const int Longest = 1 + ImageBytes;

    private sealed class Cells(byte[] image, int silentAfter) : IPageMemory
    {
        private const int Patience = 20_000;
        private int _calls;

        public int Writes { get; private set; }

        public bool ReadPage(int page, byte[] into, int offset)
        {
            if (!Answers()) return false;
            Array.Copy(image, page * StoreMap.PageBytes, into, offset, StoreMap.PageBytes);
            return true;
        }

        public bool WritePage(int page, byte[] from, int offset)
        {
            if (!Answers()) return false;
            Writes++;
            Array.Copy(from, offset, image, page * StoreMap.PageBytes, StoreMap.PageBytes);
            return true;
        }

        private bool Answers()
        {
            _calls++;
            if (_calls > Patience) throw new BrokenRuleException("the memory is asked again and again");
            return _calls <= silentAfter;
        }
    }

    private sealed class NoLines : IReleaseLines
    {
        public void Set(ReleaseLine line, bool closed) => throw new BrokenRuleException("a stored value closed a contact");

        public void OpenAll() { }
    }

    /// <summary>A box without pins: what the store fills.</summary>
    private sealed class Filled
    {
        public Filled(IPageMemory memory)
        {
            Link = new RunLink(new NoLines());
            Shore = new ShoreDesk(new ShoreSettings(), Settings);
            Panel = new FrontPanel(Settings, Link, Shore);
            // By type, so that whatever more the keeper learns to keep is tried as well.
            object[] parts = [memory, Settings, Link, Panel.Health, Shore, Shore.Settings];
            ConstructorInfo make = typeof(StoreKeeper).GetConstructors().Single();
            Keeper = (StoreKeeper)make.Invoke(BindingFlags.DoNotWrapExceptions, null, [.. make.GetParameters().Select(p => parts.First(p.ParameterType.IsInstanceOfType))], null);
        }

        public BoxSettings Settings { get; } = new();

        public RunLink Link { get; }

        public ShoreDesk Shore { get; }

        public FrontPanel Panel { get; }

        public StoreKeeper Keeper { get; }
    }

    private static readonly FieldInfo Cards = typeof(FrontPanel).GetField("_cards", BindingFlags.Instance | BindingFlags.NonPublic)!;
    private static readonly FieldInfo ShoreCards = typeof(FrontPanel).GetField("_shoreCards", BindingFlags.Instance | BindingFlags.NonPublic)!;

    public static void Take(byte[] input)
    {
        byte[] image = new byte[ImageBytes];
        Array.Fill(image, (byte)0xFF);
        int flags = input.Length > 0 ? input[0] : 0;
        Array.Copy(input, Math.Min(1, input.Length), image, 0, Math.Max(0, Math.Min(input.Length - 1, ImageBytes)));
        if ((flags & Repair) != 0) MakeRight(image, (flags & Known) != 0);
        byte[] before = (byte[])image.Clone();
        var cells = new Cells(image, (flags & Silent) != 0 ? flags : int.MaxValue);
        var box = new Filled(cells);
        box.Keeper.Load(1_000_000);
        Check(box);
        if (!image.AsSpan().SequenceEqual(before)) throw new BrokenRuleException("loading wrote to the memory");
        long now = 3_000_000;
        for (int i = 0; i < 400; i++, now += 1_000_000) box.Keeper.Step(now, true, now);
        bool may = box.Panel.Health.Memory is MemoryTrouble.None or MemoryTrouble.CutOff && (flags & Silent) == 0;
        if (may && !box.Keeper.Settled) throw new BrokenRuleException("what the memory takes is never kept");
        if (box.Panel.Health.MemoryHeld && box.Keeper.Logbook.Held && HeldRecords(box.Keeper) == StoreMap.Records && cells.Writes > 0) throw new BrokenRuleException("a memory that must stay was written");
        if (may) AgreesWhenReadAgain(box, image);
    }

    /// <summary>A memory as the box leaves it, new and changed, with a logbook; and one of noise.</summary>
    public static byte[][] Seeds()
    {
        byte[] noise = new byte[Longest];
        new Random(4).NextBytes(noise);
        return [Left(0, false), Left(Repair, true), Left(Repair | Known, true), Left(Silent | 64, true), noise, [Repair | Known]];
    }

    private static byte[] Left(int flags, bool changed)
    {
        byte[] image = new byte[ImageBytes];
        Array.Fill(image, (byte)0xFF);
        var box = new Filled(new Cells(image, int.MaxValue));
        box.Keeper.Load(1);
        if (changed)
        {
            box.Settings.StepShutter(20);
            box.Settings.Kit[0].On = true;
            box.Settings.Camera.DarkFrame = true;
            box.Settings.Waves.FromTurnMs = -700;
        }
        long now = 3_000_000;
        for (int i = 0; i < 400; i++, now += 1_000_000) box.Keeper.Step(now, true, now);
        if (changed) WriteLog(image, box.Keeper);
        return [(byte)flags, .. image];
    }

    private static void WriteLog(byte[] image, StoreKeeper keeper)
    {
        var cells = new Cells(image, int.MaxValue);
        var writer = new PageWriter(cells);
        var log = new Logbook(cells, writer);
        log.Scan();
        for (int i = 0; i < 3; i++)
        {
            var entry = new LogEntry { HasUtc = i == 1, StartUtcSeconds = 900_000_000, Session = i, StartTenths = 1000 * i, ExposureUs = 1_000_000L << i, WaveThousandths = i == 2 ? 500 : -1 };
            log.TryAppend(entry, i == 0 ? null : entry);
            for (int s = 0; s < 10 && writer.Busy; s++) writer.Step(s * 20_000);
            log.Written();
        }
        if (keeper.Logbook.Count != 0) throw new BrokenRuleException("a new memory holds frames");
    }

    private static int HeldRecords(StoreKeeper keeper)
    {
        int held = 0;
        for (int i = 1; i <= StoreMap.Records; i++) if (keeper.Records.Held((RecordId)i)) held++;
        return held;
    }

    private static void AgreesWhenReadAgain(Filled box, byte[] image)
    {
        var again = new Filled(new Cells(image, int.MaxValue));
        again.Keeper.Load(1);
        BoxSettings a = box.Settings, b = again.Settings;
        bool same = a.Base.Shutter.Index == b.Base.Shutter.Index && a.LimitSeconds == b.LimitSeconds && a.Plan.Shape == b.Plan.Shape && a.Plan.IntervalUs == b.Plan.IntervalUs
            && a.Waves.Way == b.Waves.Way && a.Waves.FromTurnMs == b.Waves.FromTurnMs && a.Camera.PulseMs == b.Camera.PulseMs && a.Kit.Count == b.Kit.Count;
        if (!same) throw new BrokenRuleException("what was kept is not what is read back");
    }

    // Ranges are those that the members' own documents give.
    private static void Check(Filled box)
    {
        BoxSettings s = box.Settings;
        Within(s.Base.Shutter.Index, ShutterSetting.MinIndex, ShutterSetting.MaxIndex, "shutter");
        Within(s.Base.Aperture.Index, ApertureSetting.MinIndex, ApertureSetting.MaxIndex, "aperture");
        Within(s.Base.Iso.Index, IsoSetting.MinIndex, IsoSetting.MaxIndex, "ISO");
        Within(s.Base.HandThirds, -MeteredBase.MaxHandThirds, MeteredBase.MaxHandThirds, "trim");
        Within(s.Film.Index, 0, FilmCurve.Count - 1, "film");
        Within(s.LimitSeconds, 1, 7200, "limit");
        Within(s.Brightness, 0, 10, "brightness");
        Within((int)s.Plan.Shape, 0, (int)PlanShape.ByHand, "shape");
        Within(s.NightBrightness, 0, 10, "brightness by night");
        Within((int)s.Sensor, 0, 2, "light sensor");
        Within(s.SensorThirds, 1, BoxSettings.MostSensorThirds, "longer by the light");
        Within(s.SeriesTenths, 0, BoxSettings.MostSeriesTenths, "change in a series by the light");
        Within(s.DarkSeconds, 0, DisplayLight.MostSeconds, "dark in a run");
        Within(s.Plan.Frames, 1, ShotPlan.MostSeries, "frames");
        Within(s.Plan.BracketThirds, 1, 9, "bracket");
        Within((int)s.Waves.Way, 0, 3, "way");
        Within(s.Waves.DelayMs, 0, 20_000, "delay");
        Within(s.Waves.FromTurnMs, -3000, 5000, "from the turn of the wave");
        Within(s.Waves.FramesPerWave, 1, 9, "frames on a wave");
        Within(s.Waves.GapMs, 0, 5000, "gap on a wave");
        Within(s.Waves.EveryWave, 1, 9, "every wave");
        Within(s.Waves.Waves, 0, 99, "waves");
        Within(s.Waves.Minutes, 0, 240, "minutes");
        Within(s.Camera.HalfPressLeadMs, 0, 5000, "lead");
        Within(s.Camera.ShutterLagMs, 0, 1000, "lag");
        Within(s.Camera.MinimumGapMs, 40, 5000, "least gap");
        Within(s.Camera.PulseMs, 30, 1000, "press length");
        Within(s.Camera.MirrorSettleMs, 200, 10_000, "mirror");
        Within(s.Lens.FocusCentimetres, LensSettings.LeastFocus, LensSettings.MostFocus, "focus");
        Within(s.Lens.FormatIndex, 0, Core.Optics.FilmFormat.Count - 1, "film or sensor");
        ShoreSettings shore = box.Shore.Settings;
        Within(shore.LatitudeHundredths, -9000, 9000, "latitude");
        Within(shore.LongitudeHundredths, -18_000, 18_000, "longitude");
        Within(shore.Offset.Before.Minutes, -720, 840, "local time");
        Within(shore.PointCount, 0, ShoreSettings.MostPoints, "low points");
        Within(shore.Table.Count, 0, TypedTable.Capacity, "turns of the tide");
        Within(shore.SprayMinutes, 0, 30, "wipe");
        Within(shore.Name.Length, 1, ShoreSettings.LongestName, "name");
        for (int i = 0; i < shore.PointCount; i++)
        {
            Within(shore.FloodCentimetres(i), -500, 2000, "flood");
            Within(shore.WalkMinutes(i), 0, 600, "walk");
            Within(shore.MarginCentimetres(i), 0, 500, "margin");
        }
        TextTargets.CheckKit(s.Kit);
        s.Plan.Fault();
        Draw(box);
        var entry = new LogEntry();
        Logbook log = box.Keeper.Logbook;
        for (int i = 0; i < log.Count; i++)
        {
            if (!log.Read(i, entry)) continue;
            Within(entry.Session, 0, LogEntry.Sessions - 1, "session");
            Within(entry.StartTenths, 0, LogEntry.MostTenths, "start");
            Within(entry.StartUtcSeconds, 0, int.MaxValue, "start in UTC");
            Within(entry.ExposureUs, 0, 34_400_000_000, "exposure");
            Within(entry.StopsHundredths, 0, LogEntry.MostStops, "stops");
            Within(entry.LightHundredths, -32_768, 32_767, "light");
            Within(entry.WaveThousandths, -1, 999, "place in the wave");
        }
    }

    // What came out of the memory is shown at once, on any card.
    private static void Draw(Filled box)
    {
        var frame = new Frame();
        foreach (Card card in (Card[])[.. (Card[])Cards.GetValue(box.Panel)!, .. (Card[])ShoreCards.GetValue(box.Panel)!])
        {
            frame.Clear();
            card.DrawOverview(frame, 5_000_000);
            // A letter that a font lacks is drawn as an empty box, and that is all that may happen.
            if (frame.ClippedPixels > 0) throw new BrokenRuleException($"{card.Name} does not fit its picture");
        }
    }

    private static void Within(long value, long low, long high, string what)
    {
        if (value < low || value > high) throw new BrokenRuleException($"{what} outside {low} to {high}");
    }

    // Marker, number and checksum of every copy and page, so that what is inside is looked at.
    private static void MakeRight(byte[] image, bool known)
    {
        for (int id = 1; id <= StoreMap.Records; id++)
        {
            for (int copy = 0; copy < StoreMap.Copies; copy++)
            {
                int at = StoreMap.FirstPage((RecordId)id, copy) * StoreMap.PageBytes;
                if (image.AsSpan(at, StoreMap.PageBytes).IndexOfAnyExcept((byte)0xFF) < 0) continue;
                image[at] = 0xA5;
                image[at + 1] = (byte)id;
                if (known) image[at + 2] = (byte)Math.Min(image[at + 2], (byte)1);
                int length = (image[at + 4] | (image[at + 5] << 8)) % (StoreMap.Capacity((RecordId)id) + 1);
                image[at + 4] = (byte)length;
                image[at + 5] = (byte)(length >> 8);
                uint sum = Crc.Finish32(Crc.Add32(Crc.Add32(Crc.Start32, image, at, 12), image, at + RecordStore.HeaderBytes, length));
                BitConverter.TryWriteBytes(image.AsSpan(at + 12), sum);
            }
        }
        for (int page = 0; page < StoreMap.LogPages; page++)
        {
            int at = (StoreMap.LogFirstPage + page) * StoreMap.PageBytes;
            if (image.AsSpan(at, StoreMap.PageBytes).IndexOfAnyExcept((byte)0xFF) < 0) continue;
            int sequence = image[at] | (image[at + 1] << 8) | (image[at + 2] << 16);
            sequence = sequence / StoreMap.LogPages * StoreMap.LogPages + page;
            if (sequence > 0xFFFFFF) sequence -= StoreMap.LogPages;
            image[at] = (byte)sequence;
            image[at + 1] = (byte)(sequence >> 8);
            image[at + 2] = (byte)(sequence >> 16);
            if (known) image[at + 3] = (byte)(0x10 | image[at + 3] & 0x0F);
            int sum = Crc.Of16(image, at, StoreMap.PageBytes - 2);
            image[at + 30] = (byte)sum;
            image[at + 31] = (byte)(sum >> 8);
        }
    }
}

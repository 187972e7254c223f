using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Settings;

/// <summary>Everything a person can set, in one place, and the answer that follows from it.</summary>
public sealed class BoxSettings
{
    private int _shutter = -18;
    private int _aperture = 18;
    private int _iso;
    private int _hand;
    private int _film;

    /// <summary>Settings as they leave the bench: 1/60 at f/8 and ISO 100, the starter kit with nothing on.</summary>
    public BoxSettings()
    {
        Kit = FilterKit.Starter();
        Camera = new CameraProfile();
        Plan = new ShotPlan { SettleUs = 2_000_000, Frames = 3 };
        Waves = new WaveOrder();
        Answer = new ExposureAnswer();
        Solve();
    }

    /// <summary>The filters owned; the ones that are on make the stack. Call <see cref="Solve"/> after a change.</summary>
    public FilterKit Kit { get; set; }

    /// <summary>The camera on the cable.</summary>
    public CameraProfile Camera { get; }

    /// <summary>The lens on it, for the depth of field.</summary>
    public LensSettings Lens { get; } = new LensSettings();

    /// <summary>Shape and times of a plan; its exposure is filled in from the answer when Fire is pressed.</summary>
    public ShotPlan Plan { get; }

    /// <summary>How a run on the waves fires.</summary>
    public WaveOrder Waves { get; }

    /// <summary>True to time every exposure with the shutter contact, camera on bulb; false to leave 30 s and shorter to the dial.</summary>
    public bool AlwaysBulb { get; set; }

    /// <summary>Longest exposure allowed, seconds, 1 to 7200. Call <see cref="Solve"/> after a change.</summary>
    public int LimitSeconds { get; set; } = (int)ExposureSolver.DefaultLimitSeconds;

    /// <summary>Display brightness, 0 to 10.</summary>
    public int Brightness { get; set; } = 4;

    /// <summary>The most that the display's brightness is by night, 0 to 10: before civil dawn and after civil dusk.</summary>
    public int NightBrightness { get; set; } = 1;

    /// <summary>Seconds without a press after which the display goes dark during a run, 0 to 240; 0 is never.</summary>
    public int DarkSeconds { get; set; } = 30;

    /// <summary>Minutes without a press after which the buttons lock by themselves, 0 to 9; 0 is never.</summary>
    public int LockMinutes { get; set; }

    /// <summary>Reference of the battery's converter by design, mV.</summary>
    public const int DesignGaugeReference = 1100;

    /// <summary>The least that a chip's reference may be, mV.</summary>
    public const int LeastGaugeReference = 1000;

    /// <summary>The most that a chip's reference may be, mV.</summary>
    public const int MostGaugeReference = 1200;

    /// <summary>Reference of this board's converter, mV: the battery's reading is set by a meter with it.</summary>
    public int GaugeReference { get; set; } = DesignGaugeReference;

    /// <summary>True while the buttons are locked.</summary>
    public bool Locked { get; set; }

    /// <summary>The answer for the settings as they are.</summary>
    public ExposureAnswer Answer { get; }

    /// <summary>The metered base without filters, and the trim by hand.</summary>
    public MeteredBase Base => new MeteredBase(new ApertureSetting(_aperture), new IsoSetting(_iso), new ShutterSetting(_shutter), _hand);

    /// <summary>The film; none for digital.</summary>
    public FilmCurve Film => new FilmCurve(_film);

    /// <summary>Works the answer out anew.</summary>
    public void Solve()
    {
        MeteredBase metered = Base;
        ExposureSolver.Solve(metered, Kit, Film, LimitSeconds, Answer);
    }

    /// <summary>How often the metered time was set: each time is a reading of the light.</summary>
    public int Readings { get; private set; }

    /// <summary>Sets the base, and solves.</summary>
    public void SetBase(MeteredBase metered)
    {
        Readings++;
        _shutter = metered.Shutter.Index;
        _aperture = metered.Aperture.Index;
        _iso = metered.Iso.Index;
        _hand = metered.HandThirds;
        Solve();
    }

    /// <summary>Moves the base shutter time by thirds of a stop, held at the ends of the dial.</summary>
    public void StepShutter(int thirds)
    {
        _shutter = Elementary.Clamp(_shutter + thirds, ShutterSetting.MinIndex, ShutterSetting.MaxIndex);
        Readings++;
        Solve();
    }

    /// <summary>Moves the aperture; the time follows so that the exposure stays the same, as long as the dial reaches.</summary>
    /// <param name="thirds">Positive closes the aperture.</param>
    public void StepAperture(int thirds)
    {
        int aperture = Elementary.Clamp(_aperture + thirds, ApertureSetting.MinIndex, ApertureSetting.MaxIndex);
        int shutter = _shutter + aperture - _aperture;
        if (shutter < ShutterSetting.MinIndex || shutter > ShutterSetting.MaxIndex) return;
        _aperture = aperture;
        _shutter = shutter;
        Solve();
    }

    /// <summary>Moves the ISO; the time follows so that the exposure stays the same, as long as the dial reaches.</summary>
    /// <param name="thirds">Positive is more sensitive.</param>
    public void StepIso(int thirds)
    {
        int iso = Elementary.Clamp(_iso + thirds, IsoSetting.MinIndex, IsoSetting.MaxIndex);
        int shutter = _shutter - (iso - _iso);
        if (shutter < ShutterSetting.MinIndex || shutter > ShutterSetting.MaxIndex) return;
        _iso = iso;
        _shutter = shutter;
        Solve();
    }

    /// <summary>Moves the trim by hand.</summary>
    public void StepHand(int thirds)
    {
        _hand = Elementary.Clamp(_hand + thirds, -MeteredBase.MaxHandThirds, MeteredBase.MaxHandThirds);
        Solve();
    }

    /// <summary>Moves along the list of films.</summary>
    public void StepFilm(int steps)
    {
        _film = Elementary.Clamp(_film + steps, 0, FilmCurve.Count - 1);
        Solve();
    }

    /// <summary>True when the box times the answer's exposure in a plan of that shape, with the camera on bulb.</summary>
    public bool TimedByBox(PlanShape shape) => Answer.Kind == ExposureKind.Bulb || AlwaysBulb || ShotPlan.AlwaysBoxTimed(shape);

    /// <summary>What the camera's dial must show for the answer: B when the box times it, or else the time as dials show it.</summary>
    public string CameraDial(bool timedByBox) => timedByBox ? "B" : Answer.Dial.Sign;

    /// <summary>Fills a plan with the answer's exposure; a bracket is always timed by the box. False when the answer is a refusal.</summary>
    public bool FillExposure(ShotPlan plan)
    {
        if (Answer.Kind == ExposureKind.Refused) return false;
        plan.BoxTimed = TimedByBox(plan.Shape);
        double seconds = plan.BoxTimed ? Answer.Seconds : Answer.OpenSeconds;
        plan.ExposureUs = Elementary.Round(seconds * 1e6);
        return true;
    }
}

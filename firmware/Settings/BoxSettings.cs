using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Settings;

/// <summary>What a light sensor does for the exposures.</summary>
public enum SensorUse
{
    /// <summary>Nothing.</summary>
    Off = 0,

    /// <summary>It ends a single frame when the metered light is collected.</summary>
    EndsFrames = 1,

    /// <summary>The exposure that is worked out follows the light as well, until it is metered again.</summary>
    CarriesToo = 2,
}

/// <summary>Everything that a person can set on the camera side, in one place, and the exposure that follows from it.</summary>
public sealed class BoxSettings
{
    private readonly ExposureAnswer _answer;
    private bool _unsolved;
    private int _shutter = -18;
    private int _aperture = 18;
    private int _iso;
    private int _hand;
    private int _film;

    /// <summary>Creates the settings of a new box: 1/60 at f/8 and ISO 100, and the starter kit with no filter on.</summary>
    public BoxSettings()
    {
        Kit = FilterKit.Starter();
        Camera = new CameraProfile();
        Plan = new ShotPlan { SettleUs = 2_000_000, Frames = 3 };
        Waves = new WaveOrder();
        _answer = new ExposureAnswer();
        Solve();
    }

    /// <summary>The filters that the person owns; those that are on make up the stack. Call <see cref="Solve"/> after a change.</summary>
    public FilterKit Kit { get; set; }

    /// <summary>The times of the camera on the cable.</summary>
    public CameraProfile Camera { get; }

    /// <summary>The lens on the camera, for the depth of field.</summary>
    public LensSettings Lens { get; } = new LensSettings();

    /// <summary>The shape and times of a plan. The exposure in it is filled in from the answer when Fire is pressed.</summary>
    public ShotPlan Plan { get; }

    /// <summary>How a run on the waves fires.</summary>
    public WaveOrder Waves { get; }

    /// <summary>True to time every exposure by the shutter contact with the camera on bulb; false to leave times of 30 s and less to the camera's dial.</summary>
    public bool AlwaysBulb { get; set; }

    /// <summary>The longest exposure allowed, 1 to 7200 seconds. Call <see cref="Solve"/> after a change.</summary>
    public int LimitSeconds { get; set; } = (int)ExposureSolver.DefaultLimitSeconds;

    /// <summary>Display brightness, 0 to 10.</summary>
    public int Brightness { get; set; } = 4;

    /// <summary>The greatest brightness of the display at night, 0 to 10. Night is before civil dawn and after civil dusk.</summary>
    public int NightBrightness { get; set; } = 1;

    /// <summary>During a run the display goes dark after this many seconds without a press, 0 to 240; 0 means never.</summary>
    public int DarkSeconds { get; set; } = 30;

    /// <summary>The buttons lock by themselves after this many minutes without a press, 0 to 9; 0 means never.</summary>
    public int LockMinutes { get; set; }

    /// <summary>The reference voltage of the analogue-to-digital converter by design, mV. The converter reads the battery.</summary>
    public const int DesignGaugeReference = 1100;

    /// <summary>The lowest reference voltage that a chip may have, mV.</summary>
    public const int LeastGaugeReference = 1000;

    /// <summary>The highest reference voltage that a chip may have, mV.</summary>
    public const int MostGaugeReference = 1200;

    /// <summary>The reference voltage of this board's converter, mV. It is adjusted until the battery's reading agrees with a meter.</summary>
    public int GaugeReference { get; set; } = DesignGaugeReference;

    /// <summary>What the light sensor does, if one is fitted.</summary>
    public SensorUse Sensor { get; set; } = SensorUse.EndsFrames;

    /// <summary>How much longer than its worked-out exposure a frame that the sensor ends may take, thirds of a stop, 1 to <see cref="MostSensorThirds"/>.</summary>
    public int SensorThirds { get; set; } = 3;

    /// <summary>The most that this may be: three stops.</summary>
    public const int MostSensorThirds = 9;

    /// <summary>
    /// The largest change from frame to frame in a series that follows the light, tenths of a stop, 0 to <see cref="MostSeriesTenths"/>; 0 keeps one exposure.
    /// A new box has 3, which is about a third of a stop: a viewer of the frames in a row hardly sees such a step (own choice).
    /// </summary>
    public int SeriesTenths { get; set; } = 3;

    /// <summary>The most that this may be: one stop.</summary>
    public const int MostSeriesTenths = 10;

    /// <summary>How much brighter the scene is than when the light was metered, stops, when the exposure follows the light; 0 while it does not.</summary>
    public double BrighterStops { get; private set; }

    /// <summary>Makes the exposure follow the light.</summary>
    /// <param name="stops">How much brighter the scene is than when the light was metered; 0 to stop following.</param>
    public void FollowLight(double stops)
    {
        if (BrighterStops == stops) return;
        BrighterStops = stops;
        Solve();
    }

    /// <summary>True while the buttons are locked.</summary>
    public bool Locked { get; set; }

    /// <summary>The exposure for the present settings.</summary>
    public ExposureAnswer Answer
    {
        get
        {
            // Memory ran out while it was worked out, so it does not belong to the settings.
            if (_unsolved) Solve();
            return _answer;
        }
    }

    /// <summary>The metered reading without filters, and the correction by hand.</summary>
    public MeteredBase Base => new MeteredBase(new ApertureSetting(_aperture), new IsoSetting(_iso), new ShutterSetting(_shutter), _hand);

    /// <summary>The film; <see cref="FilmCurve.None"/> for a digital camera.</summary>
    public FilmCurve Film => new FilmCurve(_film);

    /// <summary>Works the exposure out again.</summary>
    public void Solve()
    {
        // This method makes no object itself, so the note is there before memory can run out.
        _unsolved = true;
        WorkOut();
        _unsolved = false;
    }

    private void WorkOut()
    {
        MeteredBase metered = Base;
        ExposureSolver.Solve(metered, Kit, Film, LimitSeconds, _answer, BrighterStops);
    }

    /// <summary>How many times the metered time was set. Each time counts as a new reading of the light.</summary>
    public int Readings { get; private set; }

    /// <summary>How often a person set the metered time on LIGHT: the camera's meter was read at each of these moments.</summary>
    public int Meterings { get; private set; }

    /// <summary>Sets the metered reading and works the exposure out.</summary>
    public void SetBase(MeteredBase metered)
    {
        Readings++;
        _shutter = metered.Shutter.Index;
        _aperture = metered.Aperture.Index;
        _iso = metered.Iso.Index;
        _hand = metered.HandThirds;
        Solve();
    }

    /// <summary>Changes the metered shutter time by thirds of a stop. Past an end of the dial it stays at the end.</summary>
    public void StepShutter(int thirds)
    {
        _shutter = Elementary.Clamp(_shutter + thirds, ShutterSetting.MinIndex, ShutterSetting.MaxIndex);
        Readings++;
        Meterings++;
        Solve();
    }

    /// <summary>Changes the aperture. The time changes with it, so that the exposure stays the same; nothing changes when the time would leave the dial.</summary>
    /// <param name="thirds">Third stops; positive closes the aperture.</param>
    public void StepAperture(int thirds)
    {
        int aperture = Elementary.Clamp(_aperture + thirds, ApertureSetting.MinIndex, ApertureSetting.MaxIndex);
        int shutter = _shutter + aperture - _aperture;
        if (shutter < ShutterSetting.MinIndex || shutter > ShutterSetting.MaxIndex) return;
        _aperture = aperture;
        _shutter = shutter;
        Solve();
    }

    /// <summary>Changes the ISO. The time changes with it, so that the exposure stays the same; nothing changes when the time would leave the dial.</summary>
    /// <param name="thirds">Third stops; positive is more sensitive.</param>
    public void StepIso(int thirds)
    {
        int iso = Elementary.Clamp(_iso + thirds, IsoSetting.MinIndex, IsoSetting.MaxIndex);
        int shutter = _shutter - (iso - _iso);
        if (shutter < ShutterSetting.MinIndex || shutter > ShutterSetting.MaxIndex) return;
        _iso = iso;
        _shutter = shutter;
        Solve();
    }

    /// <summary>Changes the correction by hand.</summary>
    public void StepHand(int thirds)
    {
        _hand = Elementary.Clamp(_hand + thirds, -MeteredBase.MaxHandThirds, MeteredBase.MaxHandThirds);
        Solve();
    }

    /// <summary>Goes on in the list of films.</summary>
    public void StepFilm(int steps)
    {
        _film = Elementary.Clamp(_film + steps, 0, FilmCurve.Count - 1);
        Solve();
    }

    /// <summary>True when the box times the worked-out exposure in a plan of this shape, with the camera on bulb.</summary>
    public bool TimedByBox(PlanShape shape) => Answer.Kind == ExposureKind.Bulb || AlwaysBulb || ShotPlan.AlwaysBoxTimed(shape);

    /// <summary>What the camera's dial must show for the exposure: B when the box times it, otherwise the time as dials show it.</summary>
    public string CameraDial(bool timedByBox) => timedByBox ? "B" : Answer.Dial.Sign;

    /// <summary>Fills a plan with the worked-out exposure. The box always times a bracket. Returns false when the exposure is refused.</summary>
    public bool FillExposure(ShotPlan plan)
    {
        if (Answer.Kind == ExposureKind.Refused) return false;
        plan.BoxTimed = TimedByBox(plan.Shape);
        double seconds = plan.BoxTimed ? Answer.Seconds : Answer.OpenSeconds;
        plan.ExposureUs = Elementary.Round(seconds * 1e6);
        return true;
    }
}

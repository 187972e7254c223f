using System.Diagnostics;
using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Web;

/// <summary>
/// A board whose clock follows the wall clock, times a speed. The owner of the session calls <see cref="Advance"/> again and again.
/// All other callers go through <see cref="Use"/>. While a finger is on a button the clock runs in real time, so that a tap stays
/// a tap at any speed.
/// </summary>
public sealed class LiveSession : IDisposable
{
    /// <summary>Fastest speed.</summary>
    public const double FastestSpeed = 600;

    /// <summary>Virtual seconds a second on the way to a turn.</summary>
    private const double TurnSpeed = 30;

    /// <summary>Virtual seconds in a second when only the outcome is wanted. No PC is as fast, so this means as fast as the PC can.</summary>
    private const double HurrySpeed = 1e6;

    /// <summary>Before and after what a step shows, the clock runs slowly enough to watch for this long, µs.</summary>
    private const long SeeUs = 1_500_000;

    private const long ShortestPressUs = 80_000;
    // The session looks at the wall clock after each such piece of the board's time, µs.
    private const long PieceUs = 100_000;
    private static readonly TimeSpan LongestStep = TimeSpan.FromMilliseconds(25);

    private readonly Lock _lock = new();
    private Board _board;
    private double _owedUs;
    private long _stopAtUs = long.MaxValue;
    private double _stopSpeed = TurnSpeed;
    private bool _hurried;
    private int _step = -1;
    private long[] _sights = [];
    private int _sight;
    private Finger[] _fingers = NoFingers();
    private int _held;

    /// <summary>Starts a session.</summary>
    public LiveSession(SeaChoice setup)
    {
        Setup = setup;
        // As the box leaves the bench: its answer is the dial's 1/60, truly 2^-6 s.
        _board = Build(setup, new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 1.0 / 64 });
    }

    /// <summary>The sea of the present run; its seed is also the board's.</summary>
    public SeaChoice Setup { get; private set; }

    /// <summary>The scenario that is played; null while the user presses the buttons.</summary>
    public SceneFile? Scene { get; private set; }

    /// <summary>The present step; -1 before the first one, and without a guided scenario.</summary>
    public int StepIndex
    {
        get
        {
            lock (_lock) return Scene is null ? -1 : Math.Max(_step, StepAt(Scene, _board.Time.NowUs));
        }
    }

    /// <summary>True when the scenario has come to its end.</summary>
    public bool SceneOver
    {
        get
        {
            lock (_lock) return Scene is not null && _board.Time.NowUs >= SceneStart.Us(Scene.EndAt);
        }
    }

    /// <summary>A step of a guided scenario takes about this long on the wall clock, s, however long it lasts on the board's.</summary>
    public double StepWallSeconds { get; set; } = 8;

    /// <summary>Virtual seconds a second while a step shows something.</summary>
    public double SeeSpeed { get; set; } = 2;

    /// <summary>Grows with every restart.</summary>
    public int Generation { get; private set; }

    /// <summary>Virtual seconds for each second of the wall clock.</summary>
    public double Speed { get; private set; } = 1;

    /// <summary>Virtual seconds that pass now in a second of the wall clock.</summary>
    public double Pace => Paused ? 0 : Held ? 1 : _stopAtUs == long.MaxValue ? Speed : _hurried ? HurrySpeed : UsToNextSight() <= 0 ? Math.Min(_stopSpeed, SeeSpeed) : _stopSpeed;

    /// <summary>True while the clock is stopped.</summary>
    public bool Paused { get; private set; }

    /// <summary>True while a finger on a button keeps the clock at real time.</summary>
    public bool Held => _held > 0;

    /// <summary>The error that ended the run, in one line; null while it goes on.</summary>
    public string? Broken { get; private set; }

    /// <summary>Lets the board run for the time that has passed on the wall clock. A slow PC slows the board's clock down; it never makes it jump.</summary>
    public void Advance(TimeSpan passed)
    {
        if (passed > LongestStep) passed = LongestStep;
        lock (_lock)
        {
            if (!Paused && Broken is null) Step(passed.TotalMicroseconds * Pace);
        }
    }

    /// <summary>Looks at the board while it stands still.</summary>
    public T Use<T>(Func<Board, T> look)
    {
        lock (_lock) return look(_board);
    }

    /// <summary>A finger goes down, now or after the tap before it. No tap is lost, however quick it is.</summary>
    public void Down(Button button)
    {
        lock (_lock)
        {
            Finger finger = _fingers[(int)button];
            if (finger.Down) return;
            finger.Down = true;
            finger.DownAtUs = Math.Max(_board.Time.NowUs, finger.FreeAtUs);
            _held++;
            Board board = _board;
            board.Time.At(finger.DownAtUs, () => board.Down(button));
        }
    }

    /// <summary>The finger lets go, now or after the shortest press that a finger can make.</summary>
    public void Up(Button button)
    {
        lock (_lock)
        {
            Finger finger = _fingers[(int)button];
            if (!finger.Down) return;
            finger.Down = false;
            long at = Math.Max(_board.Time.NowUs, finger.DownAtUs + ShortestPressUs);
            finger.FreeAtUs = at + ShortestPressUs;
            Board board = _board;
            board.Time.At(at, () =>
            {
                board.Up(button);
                if (ReferenceEquals(board, _board)) _held--;
            });
        }
    }

    /// <summary>Sets the speed, 1 to <see cref="FastestSpeed"/>, or stops the clock at 0.</summary>
    public void SetSpeed(double speed)
    {
        lock (_lock)
        {
            Paused = speed <= 0;
            if (!Paused) Speed = Math.Clamp(speed, 1, FastestSpeed);
            _owedUs = 0;
            _stopAtUs = long.MaxValue;
            _hurried = false;
        }
    }

    /// <summary>Runs as fast as the PC can to where the clock would stop anyway, such as the end of a step.</summary>
    public void Hurry()
    {
        lock (_lock) _hurried = _stopAtUs != long.MaxValue;
    }

    /// <summary>Runs to the next turn of a wave at <see cref="TurnSpeed"/> and stops the clock there.</summary>
    public void RunToTurn()
    {
        lock (_lock)
        {
            _stopAtUs = Waves.NextTurn(_board.Sea, _board.Time.NowUs + 1);
            _stopSpeed = TurnSpeed;
            Paused = false;
        }
    }

    /// <summary>Turns the camera's dials.</summary>
    public void SetCamera(CameraOptions options)
    {
        lock (_lock) _board.Camera.Options = options;
    }

    /// <summary>Sets the voltage of the cell, mV.</summary>
    public void SetBattery(double millivolts)
    {
        lock (_lock) _board.Battery.Millivolts = millivolts;
    }

    /// <summary>Powers a new board on, with the camera as it is set. A stopped clock runs again, because a box that is switched on must show something.</summary>
    public void Restart(SeaChoice setup)
    {
        lock (_lock)
        {
            Replace(Build(setup, _board.Camera.Options), setup, null);
            Paused = false;
        }
    }

    /// <summary>Powers a new board on at a given place and date, with the sea and the camera as they are set.</summary>
    public void PlayAt(Plan.Site site, DateTime startUtc)
    {
        lock (_lock)
        {
            Replace(new Board(new BoardOptions { Seed = (ulong)Setup.Seed, Camera = _board.Camera.Options, Sea = Setup.Make(), Place = site, StartUtc = startUtc }), Setup, null);
            Paused = false;
        }
    }

    /// <summary>Powers a new board on, which the presses of a scenario play. A guided scenario stops the clock when its first step is over.</summary>
    public void Play(SceneFile scene)
    {
        lock (_lock)
        {
            Replace(SceneStart.PowerOn(scene), scene.Sea, scene);
            if (scene.Steps.Count > 0) GoOn();
            else Paused = false;
        }
    }

    /// <summary>Plays the next step of the scenario and stops the clock when it is over, with its outcome on the display.</summary>
    public void GoOn()
    {
        lock (_lock)
        {
            if (Scene is null) return;
            _step = Math.Min(StepIndex + 1, Scene.Steps.Count - 1);
            long now = _board.Time.NowUs;
            long target = _step + 1 < Scene.Steps.Count ? SceneStart.Us(Scene.Steps[_step + 1].At) - 1 : SceneStart.Us(Scene.EndAt);
            if (target <= now) return;
            _stopAtUs = target;
            _stopSpeed = Math.Max(1, (target - now) / 1e6 / StepWallSeconds);
            Paused = false;
        }
    }

    private void Replace(Board board, SeaChoice setup, SceneFile? scene)
    {
        Board old = _board;
        _board = board;
        old.Dispose();
        Setup = setup;
        Scene = scene;
        _sights = scene is null ? [] : [.. scene.Presses.Select(p => p.At).Concat(scene.Pictures.Select(p => p.At)).Order().Select(SceneStart.Us)];
        _sight = 0;
        Generation++;
        Broken = null;
        _owedUs = 0;
        _fingers = NoFingers();
        _held = 0;
        _stopAtUs = long.MaxValue;
        _hurried = false;
        _step = -1;
    }

    private static int StepAt(SceneFile scene, long us)
    {
        int step = -1;
        while (step + 1 < scene.Steps.Count && SceneStart.Us(scene.Steps[step + 1].At) <= us) step++;
        return step;
    }

    // Until the next press or picture of the scenario is near enough to be watched, µs; 0 or less while one is.
    private long UsToNextSight()
    {
        while (_sight < _sights.Length && _sights[_sight] + SeeUs <= _board.Time.NowUs) _sight++;
        return _sight < _sights.Length ? _sights[_sight] - SeeUs - _board.Time.NowUs : long.MaxValue;
    }

    /// <summary>The report of the run so far, as JSON.</summary>
    public string ReportJson() => Use(board => (ReportBuilder.Of(board, "live") with { Exposure = ExposureText.Line(board.Box!.Settings.Answer) }).ToJson());

    /// <summary>The box's logbook as CSV.</summary>
    public string LogbookCsv() => Report.LogbookCsv.Text(Use(board => board.Memory.Snapshot()));

    /// <summary>Every line so far.</summary>
    public string LinesVcd() => Use(board => Vcd.Text(board.Lines.Changes, board.Sea, board.Time.NowUs));

    /// <inheritdoc />
    public void Dispose()
    {
        lock (_lock) _board.Dispose();
    }

    private static Finger[] NoFingers() => [.. Enum.GetValues<Button>().Select(_ => new Finger())];

    private static Board Build(SeaChoice sea, CameraOptions camera) => new(new BoardOptions
    {
        Seed = (ulong)sea.Seed,
        Camera = camera,
        Sea = sea.Make(),
    });

    private void Step(double us)
    {
        _owedUs += us;
        long step = (long)_owedUs;
        _owedUs -= step;
        if (UsToNextSight() is var away and > 0) step = Math.Min(step, away);
        long target = Math.Min(_board.Time.NowUs + step, _stopAtUs);
        try
        {
            long began = Stopwatch.GetTimestamp();
            while (_board.Time.NowUs < target && Stopwatch.GetElapsedTime(began) < LongestStep) _board.RunUntil(Math.Min(target, _board.Time.NowUs + PieceUs));
            // The time that the PC could not keep up with is dropped.
            _owedUs -= Math.Max(0, _board.Time.NowUs - target);
            if (_board.Time.NowUs < _stopAtUs) return;
            _stopAtUs = long.MaxValue;
            _hurried = false;
            Paused = true;
            _owedUs = 0;
        }
        catch (Exception e)
        {
            // The firmware itself failed; on the device its thread would end here.
            Broken = $"The firmware failed at {_board.Time.NowUs / 1e6:F3} s: {e.Message.ReplaceLineEndings(" ")}";
            Console.Error.WriteLine(e);
        }
    }

    /// <summary>The finger of one button.</summary>
    private sealed class Finger
    {
        public bool Down;
        public long DownAtUs;
        public long FreeAtUs;
    }
}

using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Battery;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>A press at a fixed time. Times in seconds.</summary>
public sealed record TimedPress(double At, Button Button, double ForSeconds);

/// <summary>A press after each of several turns of the sea, as a photographer presses who watches it. Times in seconds and milliseconds.</summary>
public sealed record TurnPress(double From, int Count, Button Button, double ReactionMs, double ForSeconds);

/// <summary>A picture of the display. Time in seconds.</summary>
public sealed record DisplayShot(double At, string Name);

/// <summary>The dial of the camera is turned. Times in seconds; the exposure of a timed dial too.</summary>
public sealed record DialTurn(double At, CameraDial Dial, double DialSeconds);

/// <summary>A step of a guided scenario: what happens from a time on, in words, and the picture that shows its outcome.</summary>
/// <param name="At">When it begins, s.</param>
/// <param name="Title">What it is.</param>
/// <param name="Words">What to see, with the numbers explained.</param>
/// <param name="Picture">Name of one of the scenario's pictures, or null.</param>
public sealed record SceneStep(double At, string Title, string Words, string? Picture);

/// <summary>Everything a scenario file says, checked.</summary>
public sealed record SceneFile
{
    /// <summary>Longest run, s: a day.</summary>
    public const double LongestSeconds = 86_400;

    /// <summary>Name of the scenario.</summary>
    public required string Name { get; init; }

    /// <summary>What the clock chip holds at board time 0, or null for the board's own choice.</summary>
    public DateTimeOffset? StartUtc { get; init; }

    /// <summary>What the clock chip holds at board time 0, UTC.</summary>
    public DateTime Start => StartUtc?.UtcDateTime ?? BoardOptions.DefaultStartUtc;

    /// <summary>Place, in words, or null.</summary>
    public string? Site { get; init; }

    /// <summary>The place the box is set to: a site file, or the invented demo; null to leave it to the memory.</summary>
    public Site? Place { get; init; } = DemoSite.Load();

    /// <summary>What the memory holds at power-on, or null for a blank one.</summary>
    public byte[]? Memory { get; init; }

    /// <summary>True when the kit comes from the memory and not from <see cref="Kit"/>.</summary>
    public bool KitOfMemory { get; init; }

    /// <summary>Makes a new filter kit, with those on the lens switched on.</summary>
    public Func<FilterKit> Kit { get; init; } = FilterKit.Starter;

    /// <summary>The meter's reading, or null.</summary>
    public MeteredBase? Metered { get; init; }

    /// <summary>The camera.</summary>
    public CameraOptions Camera { get; init; } = new();

    /// <summary>The cell and its gauge.</summary>
    public BatteryOptions Battery { get; init; } = new();

    /// <summary>Seeds bounce and jitter.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>The sea.</summary>
    public SeaChoice Sea { get; init; } = new();

    /// <summary>The sky.</summary>
    public SkyChoice Sky { get; init; } = new();

    /// <summary>True when the box has a light sensor.</summary>
    public bool LightSensor { get; init; }

    /// <summary>Presses at fixed times.</summary>
    public IReadOnlyList<TimedPress> Presses { get; init; } = [];

    /// <summary>Presses that follow the sea.</summary>
    public IReadOnlyList<TurnPress> TurnPresses { get; init; } = [];

    /// <summary>Pictures to take of the display.</summary>
    public IReadOnlyList<DisplayShot> Pictures { get; init; } = [];

    /// <summary>Turns of the camera's dial.</summary>
    public IReadOnlyList<DialTurn> Dials { get; init; } = [];

    /// <summary>The steps of a guided scenario, in order; empty for a plain one.</summary>
    public IReadOnlyList<SceneStep> Steps { get; init; } = [];

    /// <summary>End of the run, s.</summary>
    public required double EndAt { get; init; }
}

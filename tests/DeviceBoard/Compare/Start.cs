namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>One step of a script as the stand-in board plays it.</summary>
/// <param name="AtMs">When, ms since this start.</param>
/// <param name="Kind">One of <see cref="StepKind"/>.</param>
/// <param name="Value">What the kind says.</param>
/// <param name="Name">Of a picture, for people.</param>
public sealed record Step(int AtMs, int Kind, int Value, string Name = "");

/// <summary>A change of a release line.</summary>
/// <param name="AtUs">When, µs since this start.</param>
/// <param name="Pin">Which.</param>
/// <param name="High">Its new level.</param>
/// <param name="Planned">True for a change near a time that the firmware had planned; false for one that it made at once, as a stop does.</param>
public sealed record Edge(long AtUs, int Pin, bool High, bool Planned);

/// <summary>What the display holds at one moment.</summary>
/// <param name="Sum">One number for it, as the stand-in display makes it.</param>
/// <param name="Pages">The eight pages, 128 columns each.</param>
/// <param name="Text">Two rows of pixels a line, for a terminal.</param>
/// <param name="Around">The sums of all pictures that the firmware draws about that moment (<see cref="Moments"/>); more than one where the picture moves.</param>
public sealed record Picture(int Sum, byte[][] Pages, string Text, IReadOnlySet<int> Around);

/// <summary>One start of the program: from power, from a restart, or from sleep.</summary>
public sealed record Start
{
    /// <summary>What the clock chip holds when it begins, UTC.</summary>
    public required DateTime Utc { get; init; }

    /// <summary>The steps, in order, the last one an end.</summary>
    public required IReadOnlyList<Step> Steps { get; init; }

    /// <summary>The changes of the release lines that the virtual board saw.</summary>
    public IReadOnlyList<Edge> Edges { get; init; } = [];

    /// <summary>The pictures that the virtual board showed, by step.</summary>
    public IReadOnlyDictionary<int, Picture> Pictures { get; init; } = new Dictionary<int, Picture>();

    /// <summary>True when it is a waking from deep sleep.</summary>
    public bool Woken { get; init; }

    /// <summary>True when it must end in deep sleep.</summary>
    public bool Sleeps { get; init; }

    /// <summary>What the clock chip's alarm registers hold when it begins.</summary>
    public byte[] ClockHolds { get; init; } = [];

    /// <summary>A planned closing may differ by this part of its length besides; see <see cref="BoardCase.ClosingPart"/>.</summary>
    public double ClosingPart { get; init; }

    /// <summary>What fails from its beginning.</summary>
    public int Fault { get; init; }

    /// <summary>The light on the sensor when it begins, as <see cref="LightStep.Milli"/> says it; 0 without a sensor.</summary>
    public int Light { get; init; }

    /// <summary>How long it takes on a real clock, ms: jumps take no time.</summary>
    public int RealMs
    {
        get
        {
            int jumped = 0;
            foreach (Step step in Steps.Where(s => s.Kind == StepKind.Jump)) jumped += Math.Max(0, step.Value - step.AtMs);
            return Steps[^1].AtMs - jumped;
        }
    }
}

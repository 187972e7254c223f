using System.Text.Json;

namespace Intervalometer.VirtualBoard.Report;

/// <summary>What a run did. All times are seconds on the board's clock unless a name says otherwise; null where not known.</summary>
public sealed record SessionReport
{
    /// <summary>Scenario or session name.</summary>
    public required string Name { get; init; }

    /// <summary>Time of day at board time 0, UTC; null when not given.</summary>
    public string? StartUtc { get; init; }

    /// <summary>Place, in words.</summary>
    public string? Site { get; init; }

    /// <summary>The sea, in words.</summary>
    public required string Sea { get; init; }

    /// <summary>The sky, in words; null where no place and time are known.</summary>
    public string? Sky { get; init; }

    /// <summary>The camera's settings.</summary>
    public required CameraReport Camera { get; init; }

    /// <summary>What the box answers for its metered base and filters at the end of the run.</summary>
    public string? Exposure { get; init; }

    /// <summary>How long the run was.</summary>
    public required double RanSeconds { get; init; }

    /// <summary>Every exposure, in order.</summary>
    public required IReadOnlyList<FrameReport> Frames { get; init; }

    /// <summary>When the exposure under way at the end began.</summary>
    public double? StillOpenSince { get; init; }

    /// <summary>Presses the camera ignored.</summary>
    public required IReadOnlyList<MissedReport> MissedPresses { get; init; }

    /// <summary>Bus transfers too near to a planned edge.</summary>
    public required IReadOnlyList<BusReport> BusViolations { get; init; }

    /// <summary>What was sent to the display although its data sheet forbids it.</summary>
    public required IReadOnlyList<string> DisplayComplaints { get; init; }

    /// <summary>How often the hardware limiter opened a closed contact.</summary>
    public required int LimiterTrips { get; init; }

    /// <summary>Illegal uses of pins.</summary>
    public required IReadOnlyList<string> PinFaults { get; init; }

    /// <summary>Which times of the board are estimates.</summary>
    public string Note { get; } = "Times of the chip and the camera are estimates, not measurements of a real board.";

    /// <summary>The report as JSON, the same text for the same run.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, ReportJson.ForFiles.SessionReport) + "\n";
}

/// <summary>Settings of the camera in a report.</summary>
public sealed record CameraReport(string Dial, double? DialSeconds, double LagMs, bool MirrorLockUp, bool Continuous, bool DarkFrame);

/// <summary>One exposure in a report.</summary>
public sealed record FrameReport
{
    /// <summary>From 1.</summary>
    public required int Number { get; init; }

    /// <summary>When the firmware planned the shutter contact to close.</summary>
    public double? PlannedPress { get; init; }

    /// <summary>When its pin did close the contact.</summary>
    public required double Press { get; init; }

    /// <summary>The pin against the plan, ms, above 0 when late.</summary>
    public double? PressErrorMs { get; init; }

    /// <summary>When the sensor opened.</summary>
    public required double Opened { get; init; }

    /// <summary>When the sensor closed.</summary>
    public required double Closed { get; init; }

    /// <summary>How long the sensor was open.</summary>
    public required double Exposure { get; init; }

    /// <summary>How long the box wanted it to be: the planned closure in bulb, otherwise the dial setting that the box asked for, or the camera's own dial where no box asked.</summary>
    public double? CommandedExposure { get; init; }

    /// <summary>Exposure against what was meant, ms.</summary>
    public double? ExposureErrorMs { get; init; }

    /// <summary>The same in stops.</summary>
    public double? ExposureErrorStops { get; init; }

    /// <summary>The light that the frame collected against the light at metering for the answer's time, stops: above 0 overexposed. Null when nothing was metered.</summary>
    public double? LightErrorStops { get; init; }

    /// <summary>What the camera's dial stood at, true seconds; null in bulb.</summary>
    public double? Dial { get; init; }

    /// <summary>True when the contact opened without a plan, for example by a stop.</summary>
    public required bool CutShort { get; init; }

    /// <summary>Share of the exposure within a backwash, 0 to 1.</summary>
    public required double BackwashShare { get; init; }

    /// <summary>From the nearest turn of a wave to the opening of the sensor, ms; above 0 after the turn.</summary>
    public required double MsFromTurn { get; init; }
}

/// <summary>An ignored press in a report.</summary>
public sealed record MissedReport(double At, string Why);

/// <summary>A bus transfer near an edge in a report.</summary>
public sealed record BusReport(double From, double To, double Edge);

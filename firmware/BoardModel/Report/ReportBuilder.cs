using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard.Report;

/// <summary>Makes a report from what a board has done so far.</summary>
public static class ReportBuilder
{
    /// <summary>The report at this moment.</summary>
    public static SessionReport Of(Board board, string name, string? startUtc = null, string? site = null)
    {
        CameraOptions set = board.Camera.Options;
        bool timed = set.Dial == CameraDial.Timed;
        return new SessionReport
        {
            Name = name,
            StartUtc = startUtc,
            Site = site,
            Sea = board.Sea.Description,
            Sky = board.Sky?.Description,
            Camera = new CameraReport(timed ? "timed" : "bulb", timed ? set.DialSeconds : null, set.LagMs, set.MirrorLockUp, set.Continuous, set.DarkFrame),
            RanSeconds = Seconds(board.Time.NowUs),
            Frames = Frames(board),
            StillOpenSince = board.Camera.OpenSinceUs is long open ? Seconds(open) : null,
            MissedPresses = [.. board.Camera.Missed.Select(m => new MissedReport(Seconds(m.AtUs), m.Why))],
            BusViolations = [.. board.Bus.Violations.Select(v => new BusReport(Seconds(v.StartUs), Seconds(v.EndUs), Seconds(v.EdgeUs)))],
            DisplayComplaints = board.Display.Model.Complaints,
            LimiterTrips = board.LimiterTrips,
            PinFaults = [.. board.PinFaults],
        };
    }

    /// <summary>Every finished exposure from number <paramref name="from"/> (0 for the first).</summary>
    public static IReadOnlyList<FrameReport> Frames(Board board, int from = 0)
    {
        var list = new List<FrameReport>();
        for (int i = from; i < board.Camera.Frames.Count; i++) list.Add(FrameOf(board, i));
        return list;
    }

    private static FrameReport FrameOf(Board board, int index)
    {
        Frame frame = board.Camera.Frames[index];
        LineEdge? close = Before(board, frame.PressUs, closed: true);
        LineEdge? open = frame.Bulb ? Before(board, frame.ReleaseUs, closed: false) : null;
        bool cutShort = frame.Bulb && close?.PlannedUs is not null && open?.PlannedUs is null;
        FrameAim? aim = close is null ? null : board.AimOf(close.Value.AtUs);
        long? wanted = frame.HeldRepeat ? null : aim?.WantedUs;
        double? light = board.Sky is ISky sky && aim is not null ? FrameLight.Stops(sky, frame, aim) : null;
        long? meant = frame.Bulb ? open?.PlannedUs - close?.PlannedUs : wanted ?? frame.DialUs;
        if (meant <= 0) meant = null;
        long length = frame.CloseUs - frame.OpenUs;
        return new FrameReport
        {
            Number = index + 1,
            PlannedPress = frame.HeldRepeat ? null : SecondsOrNull(close?.PlannedUs),
            Press = Seconds(frame.HeldRepeat ? frame.PressUs : close?.AtUs ?? frame.PressUs),
            PressErrorMs = frame.HeldRepeat || close is null ? null : Ms(close.Value.AtUs - close.Value.PlannedUs),
            Opened = Seconds(frame.OpenUs),
            Closed = Seconds(frame.CloseUs),
            Exposure = Seconds(length),
            CommandedExposure = SecondsOrNull(meant),
            ExposureErrorMs = Ms(length - meant),
            ExposureErrorStops = meant is long m ? Math.Round(Math.Log2((double)length / m), 4) : null,
            LightErrorStops = light is double stops ? Math.Round(stops, 4) : null,
            Dial = frame.Bulb ? null : Seconds(frame.DialUs),
            CutShort = cutShort,
            BackwashShare = Math.Round(Waves.BackwashShare(board.Sea, frame.OpenUs, frame.CloseUs), 4),
            MsFromTurn = Math.Round(Waves.FromNearestTurn(board.Sea, frame.OpenUs) / 1e3, 3),
        };
    }

    /// <summary>The last shutter edge of a kind up to a time; the contact follows its pin by the optocoupler's delay.</summary>
    private static LineEdge? Before(Board board, long atUs, bool closed)
    {
        for (int i = board.Edges.Count - 1; i >= 0; i--)
        {
            LineEdge edge = board.Edges[i];
            if (edge.Line == Line.Shutter && edge.Closed == closed && edge.AtUs <= atUs) return edge;
        }
        return null;
    }

    private static double Seconds(long us) => us / 1e6;

    private static double? SecondsOrNull(long? us) => us / 1e6;

    private static double? Ms(long? us) => us / 1e3;
}

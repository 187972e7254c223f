using Intervalometer.Core.Numerics;
using Intervalometer.Drivers.Composition;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>Notes when the box was told a metered time, and with each frame what it is after.</summary>
internal sealed class AimNotes
{
    private readonly Dictionary<long, FrameAim> _aims = [];
    private long _frameStartUs;
    private long? _meteredUs;
    private int _readings;

    /// <summary>What the firmware was after with the frame whose contact closed at a time, µs; null when that is not known.</summary>
    public FrameAim? Of(long closedAtUs) => _aims.GetValueOrDefault(closedAtUs);

    /// <summary>Looks whether the metered time was set since the last look.</summary>
    public void NoteMetering(Box box, long nowUs)
    {
        if (box.Settings.Readings == _readings) return;
        _readings = box.Settings.Readings;
        _meteredUs = nowUs;
    }

    /// <summary>Looks whether a frame has begun since the last look.</summary>
    public void NoteFrame(Box box, IReadOnlyList<LineEdge> edges)
    {
        if (box.Link is not { } link) return;
        long start = link.Desk.Player.FrameStartUs;
        // The light may end a frame sooner while it is open.
        bool lit = link.Report.PlannedUs > 0 && link.Desk.Player.ShutterClosed;
        if (start == _frameStartUs && !lit) return;
        _frameStartUs = start;
        // A contact that is held for continuous drive stands for many frames, and says nothing of the length of each.
        long? wanted = link.Report.HeldDrive ? null : link.Desk.Player.FrameEndUs - start;
        for (int i = edges.Count - 1; i >= 0; i--)
        {
            if (edges[i].Line != Line.Shutter || !edges[i].Closed) continue;
            _aims[edges[i].AtUs] = new FrameAim(wanted, _meteredUs, AtMetering(box.Settings));
            return;
        }
    }

    // The answer for the light at metering, when the answer has followed the light since.
    private static double AtMetering(BoxSettings settings) => settings.Film.Corrected(settings.Answer.BeforeFilmSeconds * Elementary.Exp2(settings.BrighterStops));
}

using Intervalometer.Core.Link;
using Intervalometer.Settings;

namespace Intervalometer.Drivers.Battery;

/// <summary>
/// Reads the gauge now and then, hands the median of the last readings to the battery watch, and asks a run to end when the battery can no
/// longer support it. The panel thread calls it. Allocates nothing after construction.
/// </summary>
public sealed class BatteryKeeper
{
    /// <summary>The time from one reading to the next, µs.</summary>
    public const long EveryUs = 10_000_000;

    /// <summary>How many readings the median is taken of, so that one disturbed reading changes nothing.</summary>
    public const int Readings = 3;

    private readonly IBatteryGauge? _gauge;
    private readonly BatteryWatch _watch;
    private readonly BoxSettings _settings;
    private readonly int[] _last = new int[Readings];
    private int _next;
    private long _dueUs;
    private long _seenEdgeUs = long.MaxValue;
    private bool _seenHalfPress;
    private bool _seenShutter;
    private long _edgeSeenUs;
    private int _reference;

    /// <summary>Creates the keeper. Without a gauge nothing is ever read or blocked.</summary>
    public BatteryKeeper(IBatteryGauge? gauge, BatteryWatch watch, BoxSettings settings)
    {
        _settings = settings;
        _gauge = gauge;
        _watch = watch;
    }

    /// <summary>Takes the first readings at power-on, when no edge can be near.</summary>
    public void Begin(long nowUs)
    {
        if (_gauge == null) return;
        for (int i = 0; i < Readings; i++) Read();
        _dueUs = nowUs + EveryUs;
        _edgeSeenUs = nowUs;
        Judge();
    }

    /// <summary>Reads when a reading is due and no edge of a contact is near, before or after. Ends a run that the battery can no longer support.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="quietUs">How far away an edge must be, µs.</param>
    /// <param name="link">The link to the run.</param>
    public void Pass(long nowUs, long quietUs, RunLink link)
    {
        if (_gauge == null) return;
        NoteEdges(nowUs, link.Report);
        if (nowUs >= _dueUs && link.Report.NextEdgeUs - nowUs >= quietUs && nowUs - _edgeSeenUs >= quietUs)
        {
            Read();
            _dueUs = nowUs + EveryUs;
            Judge();
        }
        else if (_settings.GaugeReference != _reference) Judge();
        if (_watch.Refuses && link.Report.Running) link.EndBetweenFrames();
    }

    private void Judge()
    {
        _reference = _settings.GaugeReference;
        _watch.Take(GaugeScale.WithReference(Median(), _reference));
    }

    // An edge is noticed up to one pass after it was made, so the wait after it is sometimes longer than asked for and never shorter.
    private void NoteEdges(long nowUs, RunReport run)
    {
        long edge = run.NextEdgeUs;
        bool half = run.HalfPressClosed;
        bool shutter = run.ShutterClosed;
        if (edge == _seenEdgeUs && half == _seenHalfPress && shutter == _seenShutter) return;
        _seenEdgeUs = edge;
        _seenHalfPress = half;
        _seenShutter = shutter;
        _edgeSeenUs = nowUs;
    }

    private void Read()
    {
        _last[_next] = _gauge!.ReadMillivolts();
        _next = (_next + 1) % Readings;
    }

    // A reading that failed is -1 and sorts lowest, so that one failure in three is outvoted and two are not.
    private int Median()
    {
        int a = _last[0];
        int b = _last[1];
        int c = _last[2];
        int low = a < b ? a : b;
        int high = a < b ? b : a;
        return c < low ? low : c > high ? high : c;
    }
}

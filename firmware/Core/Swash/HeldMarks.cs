namespace Intervalometer.Core.Swash;

/// <summary>
/// Tells a press of Mark that timed a backwash from one that timed nothing, by how long it was held and by the presses before and
/// after it.
/// </summary>
/// <remarks>
/// A long hold timed one. A shorter one may be the way a gloved hand presses, and the shortest backwashes are over before a hand has
/// let go, so that no hold shows them. Where hold follows on hold, every wave is being timed, and a single short press there is a short
/// backwash. From there, and from before a run alone, comes the share of waves that are over too soon to be timed: in a run a wave is
/// timed now and then. Without it the chance would rest on the longer ones alone. Constant time and memory.
/// </remarks>
public sealed class HeldMarks
{
    /// <summary>Held at least this long, µs, Mark always timed a backwash: it is longer than a press with a glove.</summary>
    public const long LongUs = 800_000;

    /// <summary>Held shorter than this, µs, Mark was tapped: no hand times so little.</summary>
    public const long TapUs = 300_000;

    /// <summary>Holds in a row after which a single tap stands for one that was too short to be timed.</summary>
    public const int RowNeeded = 2;

    // Taps among the last presses after which this hand is known to tap, so that what it holds longer is timed; each such hold takes one off.
    private const int TapsNeeded = 2;
    private const int MostTaps = 4;
    private const int MostUnclear = 4;

    private readonly BackwashLengths _lengths;
    private int _inARow;
    private long _waitingUs;
    private int _taps;
    private int _unclear;
    private long _unclearUs;

    /// <summary>Creates the judgement of a hand that has pressed nothing yet.</summary>
    /// <param name="lengths">Where the backwashes are learned.</param>
    public HeldMarks(BackwashLengths lengths) => _lengths = lengths;

    /// <summary>Mark came up again.</summary>
    /// <param name="heldUs">How long it was down, µs.</param>
    /// <param name="inRun">Whether it went down in a run.</param>
    public void Take(long heldUs, bool inRun)
    {
        if (inRun) LeaveRow();
        if (heldUs < TapUs) TakeTap(heldUs);
        else if (heldUs >= LongUs) TakeTimed(heldUs);
        else if (_taps >= TapsNeeded)
        {
            _taps--;
            TakeTimed(heldUs);
        }
        else if (_inARow > 0 && _waitingUs == 0) _waitingUs = heldUs;
        else
        {
            BreakRow();
            Unclear(heldUs);
        }
    }

    private void TakeTap(long heldUs)
    {
        if (_taps < MostTaps) _taps++;
        if (_inARow >= RowNeeded && _waitingUs == 0) _waitingUs = heldUs > 0 ? heldUs : 1;
        else BreakRow();
        if (_taps < TapsNeeded) return;
        for (; _unclear > 0; _unclear--) _lengths.Learn(_unclearUs / 1e6);
    }

    // This press timed a backwash, and so did the single short one before it, which waited for what would follow.
    private void TakeTimed(long heldUs)
    {
        if (_waitingUs > 0) Count(_waitingUs);
        _waitingUs = 0;
        Count(heldUs);
    }

    private void Count(long heldUs)
    {
        bool tooShort = heldUs < TapUs;
        if (_inARow >= RowNeeded) _lengths.Watch(tooShort);
        // The row begins again after a tap, so that whoever times every other wave is not taken to time them all.
        if (tooShort) _inARow = 0;
        else
        {
            if (_inARow < RowNeeded) _inARow++;
            _lengths.Learn(heldUs / 1e6);
        }
    }

    // In a run a tap is a wave that was not timed.
    private void LeaveRow()
    {
        if (_waitingUs < TapUs) _waitingUs = 0;
        if (_inARow >= RowNeeded) _inARow = RowNeeded - 1;
    }

    // The press that follows has nothing to do with those before.
    private void BreakRow()
    {
        if (_waitingUs >= TapUs) Unclear(_waitingUs);
        _waitingUs = 0;
        _inARow = 0;
    }

    // Kept until taps tell how this hand presses: how many there are, and how long they were in the mean.
    private void Unclear(long heldUs)
    {
        if (_unclear >= MostUnclear) return;
        _unclear++;
        // divisor: just made 1 or more
        _unclearUs += (heldUs - _unclearUs) / _unclear;
    }
}

namespace Intervalometer.Core.Swash;

/// <summary>
/// Tells a press of Mark that timed a backwash from one that timed nothing, by how long it was held and by the presses before and
/// after it.
/// </summary>
/// <remarks>
/// A long hold timed a backwash. A shorter hold may just be the way in which a gloved hand presses, and the shortest backwashes are over
/// before a hand has let go, so that no hold shows them. When one hold follows another, every wave is being timed, and a single short press
/// among them is a short backwash. Such rows give the share of waves that are over too soon to be timed. In a run they count only while the
/// display asks to time every wave; after that, waves are timed now and then. A run that begins ends a row, because its first mark may be there to fire alone.
/// Without that share the chance would rest on the longer waves alone. Time and memory are constant.
/// </remarks>
public sealed class HeldMarks
{
    /// <summary>When Mark was held for at least this long, µs, it always timed a backwash, because that is longer than a press with a glove.</summary>
    public const long LongUs = 800_000;

    /// <summary>When Mark was held for less than this, µs, it was tapped, because no hand times so short a backwash.</summary>
    public const long TapUs = 300_000;

    /// <summary>After this many holds in a row, a single tap stands for a backwash that was too short to be timed.</summary>
    public const int RowNeeded = 2;

    // With this many taps among the last presses it is known that this hand taps, so that a longer hold times a backwash. Each such hold takes one tap off.
    private const int TapsNeeded = 2;
    private const int MostTaps = 4;
    private const int MostUnclear = 4;

    private readonly BackwashLengths _lengths;
    private int _inARow;
    private long _waitingUs;
    private int _taps;
    private int _unclear;
    private long _unclearUs;
    private bool _inRun;

    /// <summary>Creates the judge of a hand that has pressed nothing yet.</summary>
    /// <param name="lengths">Where the lengths of the backwashes are learned.</param>
    public HeldMarks(BackwashLengths lengths) => _lengths = lengths;

    /// <summary>Handles Mark coming up again.</summary>
    /// <param name="heldUs">How long it was down, µs.</param>
    /// <param name="inRun">True when it went down in a run.</param>
    public void Take(long heldUs, bool inRun)
    {
        if (inRun && (!_inRun || _lengths.Count >= BackwashLengths.Kept)) LeaveRow();
        _inRun = inRun;
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

    // This press timed a backwash. So did the single short press before it, which was waiting for what would follow.
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
        // After a tap the row begins again, so that a person who times every other wave does not seem to time them all.
        if (tooShort) _inARow = 0;
        else
        {
            if (_inARow < RowNeeded) _inARow++;
            _lengths.Learn(heldUs / 1e6);
        }
    }

    // Here a tap is a wave that was not timed.
    private void LeaveRow()
    {
        if (_waitingUs < TapUs) _waitingUs = 0;
        if (_inARow >= RowNeeded) _inARow = RowNeeded - 1;
    }

    // Ends a row: the next press has nothing to do with those before.
    private void BreakRow()
    {
        if (_waitingUs >= TapUs) Unclear(_waitingUs);
        _waitingUs = 0;
        _inARow = 0;
    }

    // Unclear holds are kept until taps show how this hand presses: their number and their mean length.
    private void Unclear(long heldUs)
    {
        if (_unclear >= MostUnclear) return;
        _unclear++;
        // divisor: just made 1 or more
        _unclearUs += (heldUs - _unclearUs) / _unclear;
    }
}

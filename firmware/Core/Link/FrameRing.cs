using Intervalometer.Core.Release;

namespace Intervalometer.Core.Link;

/// <summary>
/// The last frames as the contacts took them, in fixed memory. The release thread writes them. It raises the count after everything else,
/// so that the panel thread reads complete frames only.
/// </summary>
public sealed class FrameRing : IFrameNotes
{
    /// <summary>How many frames are kept.</summary>
    public const int Capacity = 64;

    /// <summary>The unit in which lateness is reported, µs. A frame that is less late, or less too long, counts as on time (own choice: half of what a person could tell apart in a wave).</summary>
    public const int LateStepUs = 50_000;

    /// <summary>The largest lateness that is reported, in steps: 3.05 s or more.</summary>
    public const int MostLateSteps = 61;

    /// <summary>This value in place of a number of steps means that it is in doubt how long the shutter was open.</summary>
    public const int Doubt = 62;

    private const int CutBit = 0x80;
    private const int UnitUs = 10;
    private const int StartUnitUs = 10_000;

    private readonly int[] _start = new int[Capacity];
    private readonly int[] _exposure = new int[Capacity];
    private readonly byte[] _how = new byte[Capacity];

    /// <summary>How many frames were noted since the board started.</summary>
    public int Total { get; private set; }

    /// <summary>How many frames of the run began late or were too long, by <see cref="LateStepUs"/> or more.</summary>
    public int Off { get; private set; }

    /// <summary>How late or how much too long the worst frame of the run was, µs.</summary>
    public long WorstOffUs { get; private set; }

    /// <summary>True when the worst frame was too long, false when it began late.</summary>
    public bool WorstWasLong { get; private set; }

    /// <summary>How many frames of the run have a length in doubt, because the board stood still for longer than its limiter is sure to hold a contact.</summary>
    public int InDoubt { get; private set; }

    /// <summary>How long the shutter was open in the frame in which the run was stopped, µs; 0 when no frame that the box timed was cut.</summary>
    public long CutUs { get; private set; }

    /// <inheritdoc/>
    public void BeginRun()
    {
        Off = 0;
        WorstOffUs = 0;
        InDoubt = 0;
        CutUs = 0;
    }

    /// <inheritdoc/>
    public void Add(long startUs, long exposureUs, long lateUs, long overUs, bool cutShort, bool doubtful)
    {
        if (doubtful) InDoubt++;
        if (cutShort) CutUs = exposureUs;
        bool tooLong = overUs > lateUs;
        long off = tooLong ? overUs : lateUs;
        if (off >= LateStepUs) Off++;
        if (off > WorstOffUs)
        {
            WorstOffUs = off;
            WorstWasLong = tooLong;
        }
        int at = Total % Capacity;
        long steps = lateUs < LateStepUs ? 0 : (lateUs + LateStepUs / 2) / LateStepUs;
        if (steps > MostLateSteps) steps = MostLateSteps;
        _start[at] = (int)((startUs + StartUnitUs / 2) / StartUnitUs);
        _exposure[at] = (int)(exposureUs / UnitUs);
        _how[at] = (byte)((doubtful ? Doubt : (int)steps) | (cutShort ? CutBit : 0));
        Total++;
    }

    /// <summary>True when a frame is still kept; frame 0 is the first since the board started.</summary>
    public bool Has(int index) => index >= 0 && index < Total && index >= Total - Capacity;

    /// <summary>When the shutter of a kept frame opened, µs, rounded to 10 ms, which is finer than the logbook's tenths of a second. It holds for 248 days after the start of the board.</summary>
    public long StartUs(int index) => (long)_start[index % Capacity] * StartUnitUs;

    /// <summary>How long the shutter of a kept frame was open, µs, to the last 10 µs.</summary>
    public long ExposureUs(int index) => (long)_exposure[index % Capacity] * UnitUs;

    /// <summary>How late a kept frame was, in steps of <see cref="LateStepUs"/>; or <see cref="Doubt"/>.</summary>
    public int Late(int index) => _how[index % Capacity] & ~CutBit;

    /// <summary>True when a stop ended a kept frame early.</summary>
    public bool CutShort(int index) => (_how[index % Capacity] & CutBit) != 0;
}

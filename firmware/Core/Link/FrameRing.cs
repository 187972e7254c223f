using Intervalometer.Core.Release;

namespace Intervalometer.Core.Link;

/// <summary>
/// The last frames as the contacts took them, in fixed memory. The release thread writes; a frame is counted last, so that the
/// panel thread finds only whole ones.
/// </summary>
public sealed class FrameRing : IFrameNotes
{
    /// <summary>Frames kept.</summary>
    public const int Capacity = 64;

    /// <summary>A frame is late in steps of this, µs; what is less late, or less too long, is not told (own choice: half of what a person could tell apart in a wave).</summary>
    public const int LateStepUs = 50_000;

    /// <summary>The most steps that are told: 3.05 s or more.</summary>
    public const int MostLateSteps = 61;

    /// <summary>In place of the steps: how long the shutter was open is in doubt.</summary>
    public const int Doubt = 62;

    private const int CutBit = 0x80;
    private const int UnitUs = 10;
    private const int StartUnitUs = 10_000;

    private readonly int[] _start = new int[Capacity];
    private readonly int[] _exposure = new int[Capacity];
    private readonly byte[] _how = new byte[Capacity];

    /// <summary>Frames noted since the board started.</summary>
    public int Total { get; private set; }

    /// <summary>Frames of the run that began late or were too long, by <see cref="LateStepUs"/> or more.</summary>
    public int Off { get; private set; }

    /// <summary>By how much the worst of them, µs.</summary>
    public long WorstOffUs { get; private set; }

    /// <summary>True when that frame was too long, false when it began late.</summary>
    public bool WorstWasLong { get; private set; }

    /// <summary>Frames of the run whose length is in doubt, because the board stood still for longer than its limiter surely holds.</summary>
    public int InDoubt { get; private set; }

    /// <summary>How long the shutter was open when the run was stopped in a frame that the box timed, µs; else 0.</summary>
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

    /// <summary>True when frame <paramref name="index"/> (0 = first since start) is still kept.</summary>
    public bool Has(int index) => index >= 0 && index < Total && index >= Total - Capacity;

    /// <summary>When the shutter of a kept frame opened, µs, to 10 ms: the logbook keeps tenths of a second. Good for 248 days of being on.</summary>
    public long StartUs(int index) => (long)_start[index % Capacity] * StartUnitUs;

    /// <summary>How long the shutter of a kept frame was open, µs, to 10 µs.</summary>
    public long ExposureUs(int index) => (long)_exposure[index % Capacity] * UnitUs;

    /// <summary>How late a kept frame was, in steps of <see cref="LateStepUs"/>; or <see cref="Doubt"/>.</summary>
    public int Late(int index) => _how[index % Capacity] & ~CutBit;

    /// <summary>True when a kept frame was stopped.</summary>
    public bool CutShort(int index) => (_how[index % Capacity] & CutBit) != 0;
}

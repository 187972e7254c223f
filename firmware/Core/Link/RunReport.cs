using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Core.Link;

/// <summary>
/// How the present or last run stands, as far as a screen or a logbook needs it. The release thread writes, the panel thread
/// reads. The state is written last, so that a run that has ended has its last figures.
/// </summary>
public sealed class RunReport
{
    private const int OnWavesBit = 1;
    private const int EndedEarlyBit = 2;
    private const int HeldDriveBit = 4;
    private const int HalfPressClosedBit = 8;
    private const int ShutterClosedBit = 16;
    private const int MirrorUpBit = 32;
    private const int AsksForHoldsBit = 64;
    private const int DoubtfulBit = 128;
    private const int HeldUpBit = 256;
    private const int KeptBits = HeldDriveBit | HeldUpBit;

    private RunState _state;
    private int _is;
    private int _run;
    private int _framesPlanned;
    private int _framesStarted;
    private long _frameStartUs;
    private long _frameEndUs;
    private long _nextUs = long.MaxValue;
    private long _nextEdgeUs = long.MaxValue;
    private PlayerFailure _failure;
    private int _wavesFired;
    private int _wavesMissed;
    private int _framesOnWaves;
    private int _chancePercent = -1;
    private long _answerUs;

    /// <summary>What the box is doing.</summary>
    public RunState State => _state;

    /// <summary>Runs begun since the board started: the number of the present or last one.</summary>
    public int Run => _run;

    /// <summary>True when the present or last run is on the waves.</summary>
    public bool OnWaves => (_is & OnWavesBit) != 0;

    /// <summary>True when the run was ended between two frames, before its plan was done.</summary>
    public bool EndedEarly => (_is & EndedEarlyBit) != 0;

    /// <summary>True when the shutter contact is held for a camera on continuous drive.</summary>
    public bool HeldDrive => (_is & HeldDriveBit) != 0;

    /// <summary>What a frame ended by hand is measured against, µs; 0 in every other run.</summary>
    public long AnswerUs => _answerUs;

    /// <summary>Frames of the plan.</summary>
    public int FramesPlanned => _framesPlanned;

    /// <summary>Frames begun since the run began; on the waves, since the present wave's.</summary>
    public int FramesStarted => _framesStarted;

    /// <summary>When the shutter opened last, µs; 0 before.</summary>
    public long FrameStartUs => _frameStartUs;

    /// <summary>When that exposure ends or ended, µs; 0 before.</summary>
    public long FrameEndUs => _frameEndUs;

    /// <summary>When the shutter is to open next, µs; long.MaxValue when no frame is planned.</summary>
    public long NextUs => _nextUs;

    /// <summary>When the next edge must be written, µs; long.MaxValue when none waits.</summary>
    public long NextEdgeUs => _nextEdgeUs;

    /// <summary>True while the half-press contact is closed.</summary>
    public bool HalfPressClosed => (_is & HalfPressClosedBit) != 0;

    /// <summary>True while the shutter contact is closed.</summary>
    public bool ShutterClosed => (_is & ShutterClosedBit) != 0;

    /// <summary>Why the box ended the run by itself.</summary>
    public PlayerFailure Failure => _failure;

    /// <summary>True from the pulse that raises the mirror to its frame; still true when a stop came in between.</summary>
    public bool MirrorUp => (_is & MirrorUpBit) != 0;

    /// <summary>Waves fired on.</summary>
    public int WavesFired => _wavesFired;

    /// <summary>Waves that came while the camera was busy.</summary>
    public int WavesMissed => _wavesMissed;

    /// <summary>Chance that the coming frames lie wholly on the backwash, percent; -1 when not known.</summary>
    public int ChancePercent => _chancePercent;

    /// <summary>True while a run on arrivals cannot fire before Mark was held on more waves.</summary>
    public bool AsksForHolds => (_is & AsksForHoldsBit) != 0;

    /// <summary>True while the marks contradict each other and chances are halved; see <see cref="WaveRun.Doubtful"/>.</summary>
    public bool Doubtful => (_is & DoubtfulBit) != 0;

    /// <summary>True when the press that began the run was found after the box had stood still: a second press, to stop it, may have been lost in it.</summary>
    public bool PressHeldUp => (_is & HeldUpBit) != 0;

    /// <summary>Frames begun in a run on the waves, on all of them.</summary>
    public int FramesOnWaves => _framesOnWaves;

    /// <summary>True while a run is on.</summary>
    public bool Running => State >= RunState.Plan && State <= RunState.AskMark;

    internal void Take(RunDesk desk)
    {
        ReleasePlayer player = desk.Player;
        WaveRun waves = desk.Waves;
        _framesStarted = player.FramesStarted;
        _frameStartUs = player.FrameStartUs;
        _frameEndUs = player.FrameEndUs;
        _nextUs = desk.State == RunState.AwaitWave ? waves.TargetUs : player.NextFrameUs;
        _failure = player.Failure;
        _wavesFired = waves.WavesFired;
        _wavesMissed = waves.WavesMissed;
        _chancePercent = waves.ChancePercent;
        bool onWaves = desk.LastRunOnWaves;
        _framesOnWaves = onWaves ? waves.FramesTaken : 0;
        _is = (onWaves ? OnWavesBit : 0) | (desk.EndedEarly ? EndedEarlyBit : 0) | (player.HalfPressClosed ? HalfPressClosedBit : 0)
            | (player.ShutterClosed ? ShutterClosedBit : 0) | (player.MirrorUp ? MirrorUpBit : 0)
            | (onWaves && desk.Running && waves.AsksForHolds ? AsksForHoldsBit : 0)
            | (onWaves && desk.Running && waves.Doubtful ? DoubtfulBit : 0) | (_is & KeptBits);
        _nextEdgeUs = player.NextEdgeUs;
        _state = desk.State;
    }

    internal void Begin(int run, FireOrder order, bool pressHeldUp)
    {
        _framesPlanned = order.Plan.FrameCount;
        _answerUs = order.Plan.Shape == PlanShape.ByHand ? order.Plan.AnswerUs : 0;
        bool held = order.Plan.Shape == PlanShape.HeldDrive;
        _is = (_is & ~KeptBits) | (held ? HeldDriveBit : 0) | (pressHeldUp ? HeldUpBit : 0);
        _run = run;
    }
}

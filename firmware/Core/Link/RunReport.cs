using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Core.Link;

/// <summary>
/// How the present or the last run stands, as far as a screen or the logbook needs it. The release thread writes it and the panel thread
/// reads it. The state is written last, so that whoever reads that a run has ended also reads its final figures.
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
    private long _plannedUs;
    private long _followsUpToUs;

    /// <summary>What the box is doing.</summary>
    public RunState State => _state;

    /// <summary>How many runs have begun since the board started, which is also the number of the present or last run.</summary>
    public int Run => _run;

    /// <summary>True when the present or last run is on the waves.</summary>
    public bool OnWaves => (_is & OnWavesBit) != 0;

    /// <summary>True when the run was ended between two frames before its plan was complete.</summary>
    public bool EndedEarly => (_is & EndedEarlyBit) != 0;

    /// <summary>True when the shutter contact is held for a camera on continuous drive.</summary>
    public bool HeldDrive => (_is & HeldDriveBit) != 0;

    /// <summary>The exposure that the screen compares a frame ended by hand with, µs; 0 in every other run.</summary>
    public long AnswerUs => _answerUs;

    /// <summary>The planned exposure of a frame that the light may end, µs; 0 in every other run.</summary>
    public long PlannedUs => _plannedUs;

    /// <summary>The longest exposure that a frame of the present or last run may get, µs, when its frames follow the light; else 0.</summary>
    public long FollowsUpToUs => _followsUpToUs;

    /// <summary>How many frames the plan has.</summary>
    public int FramesPlanned => _framesPlanned;

    /// <summary>How many frames have begun in this run; on the waves, on the present wave.</summary>
    public int FramesStarted => _framesStarted;

    /// <summary>When the shutter last opened, µs; 0 before the first frame.</summary>
    public long FrameStartUs => _frameStartUs;

    /// <summary>When that exposure ends or has ended, µs; 0 before the first frame.</summary>
    public long FrameEndUs => _frameEndUs;

    /// <summary>When the shutter opens next, µs; long.MaxValue when no frame is planned.</summary>
    public long NextUs => _nextUs;

    /// <summary>When the next edge must be written, µs; long.MaxValue when none waits.</summary>
    public long NextEdgeUs => _nextEdgeUs;

    /// <summary>True while the half-press contact is closed.</summary>
    public bool HalfPressClosed => (_is & HalfPressClosedBit) != 0;

    /// <summary>True while the shutter contact is closed.</summary>
    public bool ShutterClosed => (_is & ShutterClosedBit) != 0;

    /// <summary>Why the box itself has ended the run.</summary>
    public PlayerFailure Failure => _failure;

    /// <summary>True from the pulse that raises the mirror to the frame that follows. It stays true when a stop came in between.</summary>
    public bool MirrorUp => (_is & MirrorUpBit) != 0;

    /// <summary>How many waves were fired on.</summary>
    public int WavesFired => _wavesFired;

    /// <summary>How many waves came while the camera was busy.</summary>
    public int WavesMissed => _wavesMissed;

    /// <summary>The chance that all coming frames lie on the backwash from start to end, per cent; -1 when it is not known.</summary>
    public int ChancePercent => _chancePercent;

    /// <summary>True while a run on arrivals cannot fire until Mark has been held on more waves.</summary>
    public bool AsksForHolds => (_is & AsksForHoldsBit) != 0;

    /// <summary>True while the marks contradict each other and chances are halved; see <see cref="WaveRun.Doubtful"/>.</summary>
    public bool Doubtful => (_is & DoubtfulBit) != 0;

    /// <summary>True when the press that began the run was found after the board had stood still, so that a second press, meant to stop the run, may have been lost.</summary>
    public bool PressHeldUp => (_is & HeldUpBit) != 0;

    /// <summary>How many frames have begun in a run on the waves, over all its waves.</summary>
    public int FramesOnWaves => _framesOnWaves;

    /// <summary>True while a run is on.</summary>
    public bool Running => State >= RunState.Plan && State <= RunState.AskMark;

    internal void Take(RunDesk desk)
    {
        ReleasePlayer player = desk.Player;
        WaveRun waves = desk.Waves;
        RunState state = desk.State;
        _framesStarted = player.FramesStarted;
        _frameStartUs = player.FrameStartUs;
        _frameEndUs = player.FrameEndUs;
        _nextUs = state == RunState.AwaitWave ? waves.TargetUs : player.NextFrameUs;
        _failure = player.Failure;
        _wavesFired = waves.WavesFired;
        _wavesMissed = waves.WavesMissed;
        _chancePercent = waves.ChancePercent;
        bool onWaves = desk.LastRunOnWaves;
        bool firing = onWaves && desk.Running;
        _framesOnWaves = onWaves ? waves.FramesTaken : 0;
        _is = (onWaves ? OnWavesBit : 0) | (desk.EndedEarly ? EndedEarlyBit : 0) | (player.HalfPressClosed ? HalfPressClosedBit : 0)
            | (player.ShutterClosed ? ShutterClosedBit : 0) | (player.MirrorUp ? MirrorUpBit : 0)
            | (firing && waves.AsksForHolds ? AsksForHoldsBit : 0)
            | (firing && waves.Doubtful ? DoubtfulBit : 0) | (_is & KeptBits);
        _nextEdgeUs = player.NextEdgeUs;
        _state = state;
    }

    internal void Begin(int run, FireOrder order, bool pressHeldUp)
    {
        ShotPlan plan = order.Plan;
        PlanShape shape = plan.Shape;
        _framesPlanned = plan.FrameCount;
        _answerUs = shape == PlanShape.ByHand ? plan.AnswerUs : 0;
        _plannedUs = plan.ByLight ? plan.AnswerUs : 0;
        _followsUpToUs = plan.FollowsUpToUs;
        bool held = shape == PlanShape.HeldDrive;
        _is = (_is & ~KeptBits) | (held ? HeldDriveBit : 0) | (pressHeldUp ? HeldUpBit : 0);
        _run = run;
    }
}

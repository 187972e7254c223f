using System;

namespace Intervalometer.Core.Release;

/// <summary>
/// Turns a plan into line edges at absolute times, one frame at a time and without a clock: the same plan, profile and start always give
/// the same edges. The times never depend on how fast the edges are taken out.
/// </summary>
/// <remarks>
/// For a frame, half-press closes by the profile's lead before the shutter contact, the shutter contact closes at the start of the frame,
/// and both open at its end. With mirror lock-up a pulse on the shutter contact comes before that, by the settling time. The next frame
/// waits for the camera: for the end of the exposure, for a dark frame if there is one, and for the minimum gap.
/// </remarks>
public sealed class PlanCompiler
{
    /// <summary>Most edges that one frame can add: half-press on and off, a mirror pulse, the shutter on and off.</summary>
    public const int MostEdgesPerFrame = 6;

    /// <summary>
    /// The time from the start of a run to the first edge, µs. The board's limiter needs a heartbeat for this long before it lets a
    /// contact close. The release loop toggles it every 10 to 20 ms, which charges it a little more slowly than the fastest rate.
    /// </summary>
    public const long LimiterUs = ReleaseLimits.HeartbeatLeadUs + 100_000;

    // Between two frames that follow sooner than this, half-press stays closed, because so short a pause would serve nothing.
    private const long KeepHalfPressUs = 100_000;

    private ShotPlan? _plan;
    private int _frames;
    private long _leadUs;
    private long _lagUs;
    private long _pulseUs;
    private long _minimumGapUs;
    private long _mirrorUs;
    private bool _darkFrame;
    private long _contactUs;
    private long _seriesUs;
    private long _openUs;
    private bool _halfPressHeld;
    private bool _leaveHalfPress;
    private long _readyBeforeUs;
    private long _givenUs;
    private long _followedUs;

    /// <summary>How many frames have been put out so far.</summary>
    public int FramesGiven { get; private set; }

    /// <summary>True when every frame has been put out.</summary>
    public bool Finished => FramesGiven >= _frames;

    /// <summary>The camera's shutter lag in this plan, µs.</summary>
    public long LagUs => _lagUs;

    /// <summary>When the camera can take another frame after the last one put out, µs. No contact may close before that.</summary>
    public long CameraReadyUs { get; private set; }

    /// <summary>Begins a plan that <see cref="ShotPlan.Fault"/> has accepted. It keeps a reference to the plan, which must not change while it runs.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="camera">The camera's times, which are copied now.</param>
    /// <param name="startUs">When the plan begins, µs: from then on the limiter is charged and half-press can close.</param>
    /// <param name="halfPressHeld">True when half-press is closed already, so that no lead is needed.</param>
    public void Begin(ShotPlan plan, CameraProfile camera, long startUs, bool halfPressHeld)
    {
        Prepare(plan, camera, halfPressHeld);
        _contactUs = startUs + Later(plan.SettleUs, LimiterUs + LeadInUs(camera, halfPressHeld));
        HoldBackUntilReady();
    }

    /// <summary>Delays everything that has not been put out yet, because an edge came late. A series returns to its interval as soon as the camera allows.</summary>
    /// <param name="us">By how much, µs.</param>
    public void Shift(long us)
    {
        _contactUs += us;
        _givenUs += us;
        _openUs += us;
        CameraReadyUs += us;
    }

    /// <summary>How long half-press is closed before the shutter contact, µs.</summary>
    public long LeadUs => _leadUs;

    /// <summary>How long the shutter contact is held for continuous drive, µs; 0 in every other plan.</summary>
    public long HeldUs => _plan != null && _plan.Shape == PlanShape.HeldDrive ? _plan.HoldUs : 0;

    /// <summary>True when a person ends the frame of this plan.</summary>
    public bool ByHand => _plan != null && _plan.Shape == PlanShape.ByHand;

    /// <summary>True when the frame of this plan may end before its planned edge.</summary>
    public bool ByLight => _plan != null && _plan.ByLight;

    /// <summary>True when the frames of this plan follow the light.</summary>
    public bool Follows => _plan != null && _plan.FollowsUpToUs > 0;

    /// <summary>True when the box times the frames of this plan.</summary>
    public bool BoxTimed => _plan != null && _plan.BoxTimed;

    /// <summary>Begins a plan whose first frame opens the shutter at a set time. The settle delay is ignored.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="camera">The camera's times, which are copied now.</param>
    /// <param name="openUs">When the shutter should open, µs.</param>
    /// <param name="halfPressHeld">True when half-press is closed already.</param>
    /// <param name="leaveHalfPress">True to leave half-press closed after the last frame; the caller must then open it.</param>
    public void BeginAt(ShotPlan plan, CameraProfile camera, long openUs, bool halfPressHeld, bool leaveHalfPress)
    {
        Prepare(plan, camera, halfPressHeld);
        _leaveHalfPress = leaveHalfPress;
        _contactUs = openUs - _lagUs;
        HoldBackUntilReady();
    }

    /// <summary>The least time from a press to the opening of the shutter, µs: the lead before the contact closes, and the camera's lag.</summary>
    /// <param name="camera">The camera.</param>
    /// <param name="halfPressHeld">True when half-press is closed already.</param>
    public static long SoonestOpenUs(CameraProfile camera, bool halfPressHeld) => LeadInUs(camera, halfPressHeld) + camera.ShutterLagMs * 1000L;

    /// <summary>The least time from a press to the closing of the shutter contact, µs: half-press lead and mirror settling.</summary>
    public static long LeadInUs(CameraProfile camera, bool halfPressHeld)
    {
        long leadIn = halfPressHeld ? 0 : camera.HalfPressLeadMs * 1000L;
        return leadIn + MirrorUs(camera);
    }

    // From the press that raises the mirror to the one that exposes. It is long enough that the two pulses never meet.
    private static long MirrorUs(CameraProfile camera) =>
        camera.MirrorLockUp ? Later(camera.MirrorSettleMs * 1000L, PulseUs(camera) + GapUs(camera)) : 0;

    private static long PulseUs(CameraProfile camera) => Later(camera.PulseMs * 1000L, ReleaseLimits.MinimumClosureUs);

    private static long GapUs(CameraProfile camera) => Later(camera.MinimumGapMs * 1000L, ReleaseLimits.MinimumGapUs);

    /// <summary>Adds the edges of the next frame to the queue. Returns false and adds nothing when the plan is finished or the queue lacks room.</summary>
    public bool AddFrame(EdgeQueue queue)
    {
        if (_plan == null || Finished || queue.Free < MostEdgesPerFrame) return false;

        if (FramesGiven == 0) _seriesUs = _contactUs;
        else if (_plan.Shape == PlanShape.Series || Follows) CatchUp();
        long contact = _contactUs;
        long exposure = Follows ? _followedUs : _plan.ExposureOf(FramesGiven);
        bool held = _plan.Shape == PlanShape.HeldDrive;
        long contactFor = held ? _plan.HoldUs : _plan.BoxTimed ? exposure : _pulseUs;
        long open = contact + contactFor;

        if (!_halfPressHeld)
        {
            queue.Add(contact - _mirrorUs - _leadUs, ReleaseLine.HalfPress, true, EdgeStep.None, 0);
            _halfPressHeld = true;
        }
        if (_mirrorUs > 0)
        {
            queue.Add(contact - _mirrorUs, ReleaseLine.Shutter, true, EdgeStep.None, 0);
            queue.Add(contact - _mirrorUs + _pulseUs, ReleaseLine.Shutter, false, EdgeStep.None, 0);
        }
        queue.Add(contact, ReleaseLine.Shutter, true, EdgeStep.FrameStarts, exposure);
        queue.Add(open, ReleaseLine.Shutter, false, EdgeStep.FrameReleased, 0);

        long occupies = held ? (_plan.HoldUs > exposure ? _plan.HoldUs : exposure) : exposure;
        long end = contact + _lagUs + occupies;
        CameraReadyUs = Later(end + BusyAfterUs(exposure), open) + _minimumGapUs;
        FramesGiven++;
        _givenUs = contact;
        _openUs = open;
        _seriesUs += _plan.IntervalUs;
        PlanNext(_plan, end);
        long nextHalfPress = Finished ? long.MaxValue : _contactUs - _mirrorUs - _leadUs;
        if (nextHalfPress > open + KeepHalfPressUs && !(Finished && _leaveHalfPress))
        {
            queue.Add(open, ReleaseLine.HalfPress, false, EdgeStep.None, 0);
            _halfPressHeld = false;
        }
        return true;
    }

    /// <summary>
    /// The longest exposure with which a series keeps its interval, µs: the shutter's lag, the least gap, a dark frame, the mirror and the lead of
    /// half-press fit as well. It is not under the plan's own exposure, because a plan with a longer one has no interval to keep.
    /// </summary>
    /// <param name="plan">A series, with its exposure.</param>
    /// <param name="camera">The camera.</param>
    public static long LongestInIntervalUs(ShotPlan plan, CameraProfile camera)
    {
        long taken = camera.ShutterLagMs * 1000L + GapUs(camera);
        long room = plan.IntervalUs - MirrorUs(camera) - taken;
        if (camera.DarkFrame && room >= 2 * CameraProfile.DarkFrameFromUs) room /= 2;
        else if (camera.DarkFrame && room >= CameraProfile.DarkFrameFromUs) room = CameraProfile.DarkFrameFromUs - 1;
        long awake = plan.IntervalUs - MirrorUs(camera) - KeepHalfPressUs - camera.HalfPressLeadMs * 1000L;
        return Later(plan.ExposureUs, room < awake ? room : awake);
    }

    /// <summary>
    /// Gives every frame that has not started another exposure, in a plan whose frames follow the light. It is kept between the shortest exposure
    /// that the box can time and the longest that the plan allows.
    /// </summary>
    /// <param name="queue">The edges that wait, of one frame at the most that has not started.</param>
    /// <param name="exposureUs">The exposure, µs.</param>
    /// <param name="waits">True when the last frame put out has not started.</param>
    public void FollowTo(EdgeQueue queue, long exposureUs, bool waits)
    {
        if (_plan == null) return;
        long us = Later(exposureUs < _plan.FollowsUpToUs ? exposureUs : _plan.FollowsUpToUs, ShotPlan.ShortestBoxTimedUs);
        long more = us - _followedUs;
        _followedUs = us;
        if (!waits || more == 0) return;
        queue.Retime(us);
        _openUs += more;
        long end = _givenUs + _lagUs + us;
        CameraReadyUs = end + BusyAfterUs(us) + _minimumGapUs;
        PlanNext(_plan, end);
    }

    // When the contact closes for the frame after the one that ends then.
    private void PlanNext(ShotPlan plan, long end)
    {
        long wanted = plan.Shape == PlanShape.Series ? _seriesUs : end + plan.GapUs - _lagUs;
        _contactUs = Later(wanted, CameraReadyUs + _mirrorUs);
    }

    // Late frames have delayed those after them. A series returns to its interval as far as the camera and half-press allow.
    private void CatchUp()
    {
        long soonest = CameraReadyUs + _mirrorUs;
        if (!_halfPressHeld) soonest = Later(soonest, _openUs + KeepHalfPressUs + _leadUs + _mirrorUs);
        _contactUs = Later(_plan!.Shape == PlanShape.Series ? _seriesUs : _contactUs, soonest);
    }

    private void Prepare(ShotPlan plan, CameraProfile camera, bool halfPressHeld)
    {
        _plan = plan;
        _followedUs = plan.ExposureUs;
        _frames = plan.FrameCount;
        _leadUs = camera.HalfPressLeadMs * 1000L;
        _lagUs = camera.ShutterLagMs * 1000L;
        _pulseUs = PulseUs(camera);
        _minimumGapUs = GapUs(camera);
        _mirrorUs = MirrorUs(camera);
        _darkFrame = camera.DarkFrame;
        _halfPressHeld = halfPressHeld;
        _leaveHalfPress = false;
        FramesGiven = 0;
        _readyBeforeUs = CameraReadyUs;
    }

    /// <summary>Takes back the frames of this plan that were put out, when none of them has started.</summary>
    public void TakeBack()
    {
        CameraReadyUs = _readyBeforeUs;
        FramesGiven = _frames;
    }

    /// <summary>Works out again when the camera is ready, after a plan was stopped in the middle.</summary>
    /// <param name="nowUs">When both lines were opened, µs.</param>
    /// <param name="startUs">When the last frame that started opened the shutter by plan, µs.</param>
    /// <param name="exposureUs">Its planned exposure, µs.</param>
    /// <param name="cutShort">True when the shutter contact was still closed.</param>
    public void Interrupt(long nowUs, long startUs, long exposureUs, bool cutShort)
    {
        long end = startUs + exposureUs;
        if (cutShort && BoxTimed) end = nowUs + _lagUs;
        CameraReadyUs = Later(end + BusyAfterUs(end - startUs), nowUs) + _minimumGapUs;
        FramesGiven = _frames;
    }

    /// <summary>Works out when the camera is ready after a stop before any frame of the plan, with only the mirror raised.</summary>
    /// <param name="nowUs">When both lines were opened, µs.</param>
    public void InterruptMirror(long nowUs)
    {
        CameraReadyUs = Later(_readyBeforeUs, nowUs + _minimumGapUs);
        FramesGiven = _frames;
    }

    /// <summary>Notes that the open frame ends sooner than planned. The camera is ready sooner by as much, and by its shorter dark frame.</summary>
    /// <param name="us">By how much, µs.</param>
    /// <param name="exposureUs">The planned exposure, µs.</param>
    public void EndSooner(long us, long exposureUs) => CameraReadyUs -= us + BusyAfterUs(exposureUs) - BusyAfterUs(exposureUs - us);

    /// <summary>True when the camera takes a dark frame after an exposure of this length.</summary>
    public bool DarkFrameAfter(long exposureUs) => _darkFrame && exposureUs >= CameraProfile.DarkFrameFromUs;

    private long BusyAfterUs(long exposureUs) => DarkFrameAfter(exposureUs) ? exposureUs : 0;

    private void HoldBackUntilReady() => _contactUs = Later(_contactUs, CameraReadyUs + _mirrorUs);

    private static long Later(long a, long b) => a > b ? a : b;
}

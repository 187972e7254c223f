using System.Reflection;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>
/// Two contacts that check every change. They work out how long the shutter contact may be closed
/// from the plan and not from the edges that are played.
/// </summary>
internal sealed class CheckedLines : IReleaseLines
{
    private RunDesk? _desk;
    private EdgeQueue? _queue;
    private PlanCompiler? _compiler;
    private CameraProfile? _camera;
    private long _closedUs;
    private long _openedUs = long.MinValue / 2;
    private long _mayLastUs;

    public long NowUs { get; set; }

    public bool HalfPress { get; private set; }

    public bool Shutter { get; private set; }

    /// <summary>Closings of the shutter contact.</summary>
    public long Closures { get; private set; }

    /// <summary>True while a stop is being carried out: only then may both be opened with the shutter contact closed.</summary>
    public bool Stopping { get; set; }

    /// <summary>True while the loop is made to hang. An edge is then late, but no closure and no gap may be shorter because of it.</summary>
    public bool Hanging { get; set; }

    public bool AllOpen => !HalfPress && !Shutter;

    public void Watch(RunDesk desk, CameraProfile camera)
    {
        _desk = desk;
        _camera = camera;
        _queue = (EdgeQueue)Inside(desk.Player, "_queue");
        _compiler = (PlanCompiler)Inside(desk.Player, "_compiler");
    }

    /// <summary>The plan that plays.</summary>
    public ShotPlan Plan => (ShotPlan)Inside(_compiler!, "_plan");

    public void Set(ReleaseLine line, bool closed)
    {
        if (line == ReleaseLine.HalfPress)
        {
            Require(HalfPress != closed, "half-press was set to what it was");
            HalfPress = closed;
            return;
        }
        Require(Shutter != closed, "the shutter contact was set to what it was");
        if (closed) Close();
        else
        {
            Require(NowUs - _closedUs >= ReleaseLimits.MinimumClosureUs, "a closure too short for the camera");
            Open();
        }
    }

    public void OpenAll()
    {
        HalfPress = false;
        if (!Shutter) return;
        Require(Stopping, "both were opened with the shutter contact closed, and nobody had stopped");
        Open();
    }

    /// <summary>Call this whenever time has moved on.</summary>
    public void Look()
    {
        if (Shutter) Require(NowUs - _closedUs <= _mayLastUs, "the shutter contact is closed for longer than planned");
        RunDesk desk = _desk!;
        if (!desk.Running) Require(AllOpen, "a contact is closed and no run is on");
        Require(Shutter == desk.Player.ShutterClosed && HalfPress == desk.Player.HalfPressClosed, "the player knows the contacts wrong");
    }

    private void Close()
    {
        Require(_desk!.Running, "the shutter contact closes and no run is on");
        Require(HalfPress, "the shutter contact closes without half-press");
        Require(_queue!.WillOpen(ReleaseLine.Shutter), "the shutter contact closes and the edge that opens it is not queued");
        Require(NowUs - _openedUs >= ReleaseLimits.MinimumGapUs, "the shutter contact closes again too soon for the camera");
        ShotPlan plan = Plan;
        long pulse = Math.Max(_camera!.PulseMs * 1000L, ReleaseLimits.MinimumClosureUs);
        long frame = plan.Shape == PlanShape.HeldDrive ? plan.HoldUs : plan.BoxTimed ? plan.ExposureOf(_desk.Player.FramesStarted) : pulse;
        _mayLastUs = Math.Max(frame, pulse);
        _closedUs = NowUs;
        Shutter = true;
        Closures++;
    }

    private void Open()
    {
        Require(NowUs - _closedUs <= _mayLastUs, "the shutter contact was closed for longer than planned");
        _openedUs = NowUs;
        Shutter = false;
    }

    private static object Inside(object of, string field) => of.GetType().GetField(field, BindingFlags.Instance | BindingFlags.NonPublic)!.GetValue(of)!;

    private void Require(bool holds, string what)
    {
        if (!holds) throw new AssertFailedException($"{what}: {NowUs} µs, closed since {_closedUs}, for {_mayLastUs} at most, {_desk!.State}, {Plan.Shape}");
    }
}

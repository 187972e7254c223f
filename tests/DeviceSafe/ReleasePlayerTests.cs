using Intervalometer.Core.Link;
using Intervalometer.Core.Release;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The player by itself: which plans can be withdrawn, when a frame is under way, and that the opening edge always comes.</summary>
[TestClass]
public class ReleasePlayerTests
{
    private const long Second = 1_000_000;

    private NotedLines _lines = new NotedLines();
    private FrameRing _frames = new FrameRing();
    private ReleasePlayer _player = new ReleasePlayer(new NotedLines(), new FrameRing());

    private void Fresh()
    {
        _lines = new NotedLines();
        _frames = new FrameRing();
        _player = new ReleasePlayer(_lines, _frames) { WriteAheadUs = 0, CloseDelayUs = 0, OpenDelayUs = 0 };
    }

    private static ShotPlan Bulb(int frames) =>
        new ShotPlan { Shape = PlanShape.Burst, Frames = frames, BoxTimed = true, ExposureUs = 4 * Second, SettleUs = 2 * Second, GapUs = 2 * Second };

    private void PassAt(long us)
    {
        _lines.NowUs = us;
        _player.Pass(us);
    }

    private void RunTo(long untilUs)
    {
        while (_player.NextEdgeUs <= untilUs) PassAt(_player.NextEdgeUs);
        PassAt(untilUs);
    }

    [TestMethod]
    public void BeforeTheShutterMovesAPlanCanBeTakenBack()
    {
        Fresh();
        Assert.IsFalse(_player.TryTakeBack());
        _player.Play(Bulb(1), new CameraProfile(), 0);
        RunTo(1_800_000);
        Assert.IsTrue(_player.HalfPressClosed);
        Assert.IsTrue(_player.TryTakeBack());
        Assert.AreEqual((int)PlayerState.Idle, (int)_player.State);
        Assert.AreEqual(long.MaxValue, _player.NextEdgeUs);
        Assert.AreEqual(long.MaxValue, _player.NextFrameUs);
        Assert.AreEqual(0L, _player.CameraReadyUs);
        RunTo(20 * Second);
        Assert.AreEqual("H+", _lines.Story());

        // Half-press is still closed, so the next plan needs no lead; once its shutter has closed it is too late.
        _player.Play(Bulb(1), new CameraProfile(), 20 * Second);
        RunTo(22 * Second - 1);
        Assert.AreEqual("H+", _lines.Story());
        RunTo(22 * Second);
        Assert.IsFalse(_player.TryTakeBack());
        Assert.AreEqual((int)PlayerState.Playing, (int)_player.State);
        RunTo(40 * Second);
        Assert.AreEqual("H+ S+ S- H-", _lines.Story());
        Assert.IsFalse(_player.TryTakeBack());
        Assert.AreEqual((int)PlayerState.Finished, (int)_player.State);
        Assert.AreEqual(long.MaxValue, _player.NextEdgeUs);
    }

    [TestMethod]
    public void AStopBeforeTheShutterMovesCostsTheCameraNoTime()
    {
        Fresh();
        _player.Play(Bulb(1), new CameraProfile(), 0);
        RunTo(1_800_000);
        _player.Stop(1_800_000);
        Assert.AreEqual("H+ H-", _lines.Story());
        Assert.IsFalse(_player.HalfPressClosed);
        Assert.AreEqual(0L, _player.CameraReadyUs);
        Assert.AreEqual(long.MaxValue, _player.NextEdgeUs);
        Assert.AreEqual(long.MaxValue, _player.NextFrameUs);
        // The next plan knows that half-press is open.
        _player.Play(Bulb(1), new CameraProfile(), 2 * Second);
        RunTo(20 * Second);
        Assert.AreEqual("H+ H- H+ S+ S- H-", _lines.Story());
    }

    [TestMethod]
    public void ANewPlanTakesTheWholePlaceOfTheOneBefore()
    {
        Fresh();
        _player.Play(Bulb(3), new CameraProfile(), 0);
        _player.Play(Bulb(1), new CameraProfile(), 60 * Second);
        RunTo(100 * Second);
        Assert.AreEqual("H+ S+ S- H-", _lines.Story());
        Fresh();
        _player.Play(Bulb(3), new CameraProfile(), 0);
        _player.PlayAt(Bulb(1), new CameraProfile(), 60 * Second, false);
        RunTo(100 * Second);
        Assert.AreEqual("H+ S+ S- H-", _lines.Story());
    }

    [TestMethod]
    public void AFrameIsUnderWayFromTheMirrorToThePlannedEnd()
    {
        Fresh();
        CameraProfile camera = new CameraProfile { MirrorLockUp = true, MirrorSettleMs = 1000 };
        ShotPlan plan = new ShotPlan { ExposureUs = 4 * Second, SettleUs = 2 * Second };
        _player.Play(plan, camera, 0);
        RunTo(Second - 1);
        Assert.IsFalse(_player.FrameUnderWay(Second - 1));
        RunTo(1_500_000);
        Assert.IsFalse(_player.ShutterClosed);
        Assert.IsTrue(_player.FrameUnderWay(1_500_000));
        // The pulse on the contact is over long before the camera's own exposure is.
        long end = 6 * Second + camera.ShutterLagMs * 1000;
        RunTo(3 * Second);
        Assert.IsFalse(_player.ShutterClosed);
        Assert.IsTrue(_player.FrameUnderWay(end - 1));
        Assert.IsFalse(_player.FrameUnderWay(end));
    }

    [TestMethod]
    public void AnOpeningEdgeComesHoweverLate()
    {
        Fresh();
        _player.Play(Bulb(1), new CameraProfile(), 0);
        RunTo(2 * Second);
        Assert.IsTrue(_lines.Shutter);
        PassAt(100 * Second);
        Assert.IsFalse(_lines.Shutter);
        Assert.IsFalse(_lines.HalfPress);
        Assert.AreEqual((int)PlayerFailure.None, (int)_player.Failure);
        Assert.AreEqual(94 * Second, _frames.WorstOffUs);
        Assert.IsTrue(_frames.WorstWasLong);
    }

    [TestMethod]
    public void AClosingEdgeIsTakenAtTheLimitAndNotLater()
    {
        Fresh();
        _player.Play(Bulb(1), new CameraProfile(), 0);
        RunTo(2 * Second - 1);
        PassAt(2 * Second + ReleasePlayer.LatestUs);
        Assert.IsTrue(_lines.Shutter);
        // What follows has moved by as much, so that the frame is as long as planned.
        PassAt(6 * Second + ReleasePlayer.LatestUs - 1);
        Assert.IsTrue(_lines.Shutter);
        PassAt(6 * Second + ReleasePlayer.LatestUs);
        Assert.IsFalse(_lines.Shutter);
        Assert.AreEqual(ReleasePlayer.LatestUs, _frames.WorstOffUs);
        Assert.IsFalse(_frames.WorstWasLong);

        Fresh();
        _player.Play(Bulb(1), new CameraProfile(), 0);
        RunTo(2 * Second - 1);
        PassAt(2 * Second + ReleasePlayer.LatestUs + 1);
        Assert.AreEqual((int)PlayerFailure.TooLate, (int)_player.Failure);
        Assert.AreEqual("H+ H-", _lines.Story());
        Assert.AreEqual(long.MaxValue, _player.NextEdgeUs);

        // Half-press wakes the camera, which takes its time however late it comes.
        Fresh();
        _player.Play(Bulb(1), new CameraProfile(), 0);
        PassAt(2 * Second - 1);
        Assert.AreEqual("H+", _lines.Story());
        PassAt(2 * Second + 299_998);
        Assert.AreEqual("H+", _lines.Story());
        PassAt(2 * Second + 299_999);
        Assert.AreEqual("H+ S+", _lines.Story());
    }

    [TestMethod]
    public void EachKindOfEdgeIsWrittenAheadByItsOwnDelay()
    {
        Fresh();
        _player.WriteAheadUs = 700;
        _player.CloseDelayUs = 40;
        _player.OpenDelayUs = 900;
        _player.Play(Bulb(1), new CameraProfile(), 0);
        RunTo(1_800_000);
        Assert.AreEqual(2 * Second - 740, _player.NextEdgeUs);
        RunTo(3 * Second);
        Assert.AreEqual(6 * Second - 1600, _player.NextEdgeUs);
    }
}

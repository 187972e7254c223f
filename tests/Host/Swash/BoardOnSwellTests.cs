using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Study;

namespace Intervalometer.Tests.Host;

/// <summary>The whole box in front of a 12 s swell, with a photographer who marks. Every way of firing is used through the buttons only.</summary>
[TestClass]
public class BoardOnSwellTests
{
    private const int Frames = 16;
    private const int Learning = 14;
    private const int Timed = 8;
    private const long Tap = 120_000;

    private static readonly SpectralSea Swell = new(KnownSeas.All.First(s => s.Name == "swell 12 s"), 903, 2048);

    private sealed record Played(IReadOnlyList<FrameReport> Frames, double[] Chances, int Missed, int Learned, int PairsLearned, RunState State, double Backwash)
    {
        public int Hits => Frames.Count(f => f.BackwashShare > 0.9999);
    }

    [TestMethod]
    [DataRow(FiringWay.OnMark, 8)]
    [DataRow(FiringWay.AfterMark, 15)]
    [DataRow(FiringWay.OnArrival, 14)]
    public void MarkedWaysPutMostFramesOnTheBackwash(FiringWay way, int least)
    {
        Played played = Play(way, markTurnsToo: true);
        Assert.AreEqual(RunState.Done, played.State);
        Assert.AreEqual(Frames, played.Frames.Count);
        Assert.IsTrue(played.Hits >= least, $"{played.Hits} of {Frames} wholly on the backwash");
        if (way == FiringWay.OnArrival)
        {
            Assert.IsTrue(played.PairsLearned >= Frames, $"waves that are held until their turn during the run teach the box: {played.PairsLearned} pairs");
            Assert.AreEqual(Frames, played.Chances.Length, "a chance was shown for every frame");
            // Sixteen frames cannot tell a chance to better than 3 sqrt(p (1 - p)/16); never less than one frame.
            double said = played.Chances.Average() / 100, was = played.Hits / (double)Frames;
            Assert.AreEqual(said, was, Math.Max(2.0 / Frames, 3 * Math.Sqrt(said * (1 - said) / Frames)), "chance shown against achieved");
        }
    }

    [TestMethod]
    public void RhythmIsHonestAboutItsChance()
    {
        Played played = Play(FiringWay.OnRhythm, markTurnsToo: false);
        Assert.AreEqual(RunState.Done, played.State);
        Assert.AreEqual(Frames, played.Frames.Count);
        double said = played.Chances.Average() / 100, was = played.Hits / (double)Frames;
        Assert.IsTrue(said is > 0.15 and < 0.7, $"said {said:F2}: the turns of a 12 s swell cannot be forecast well");
        Assert.AreEqual(said, was, 3 * Math.Sqrt(said * (1 - said) / Frames), "chance shown against achieved");
    }

    [TestMethod]
    public void MarkingOnWhileItRunsReTimesTheRhythm()
    {
        Played marked = Play(FiringWay.OnRhythm, markTurnsToo: true), alone = Play(FiringWay.OnRhythm, markTurnsToo: false);
        Assert.AreEqual(RunState.Done, marked.State);
        Assert.IsTrue(marked.Learned > alone.Learned, $"{marked.Learned} marks learned, {alone.Learned} without");
        Assert.IsTrue(marked.Hits > alone.Hits, $"{marked.Hits} wholly on the backwash re-timed, {alone.Hits} with few marks");
    }

    [TestMethod]
    public void HoldingMarkTeachesTheBackwash()
    {
        WatchedWave[] waves = Photographer.Watch(Swell, new Habits(WorthReach: 0.6), 7);
        double watched = waves.Take(Timed).Average(w => (w.Swash.EndUs - w.Swash.TurnUs) / 1e6);
        Assert.AreEqual(watched, Play(FiringWay.OnMark, markTurnsToo: true).Backwash, 0.25);
    }

    [TestMethod]
    public void TheStudysDeskFiresWhenTheWholeBoxDoes()
    {
        using var board = new Board(new BoardOptions { Sea = Swell, Camera = new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 1 } });
        board.Box!.Settings.StepShutter(18);
        board.Box.Settings.Waves.Waves = 0;
        for (int i = 0; i < 3; i++) board.Press(Button.Down, 500_000 + i * 400_000, Tap);
        var rig = new DeskRig(1);
        long free = 3_000_000;
        foreach (var (wave, i) in Photographer.Watch(Swell, new Habits(WorthReach: 0.6), 7).Take(2 * Learning).Select((w, i) => (w, i)))
        {
            if (i == Learning)
            {
                // The rig works its advice out first, as the box does while the card is shown.
                rig.RunTo(free + 100_000);
                rig.PressFire(FiringWay.AfterMark);
                board.Press(Button.Fire, rig.NowUs, Tap);
                free = rig.NowUs + 400_000;
            }
            if (wave.TurnMarkUs < free) continue;
            long held = i < Timed ? Math.Max(Tap, wave.HeldUs) : Tap;
            board.Press(Button.Mark, wave.TurnMarkUs, held);
            rig.RunTo(wave.TurnMarkUs);
            rig.PressMark(held);
            free = wave.TurnMarkUs + held + 150_000;
        }
        board.RunUntil(free + 5_000_000);
        rig.RunTo(free + 5_000_000);
        IReadOnlyList<FrameReport> box = ReportBuilder.Of(board, "swell").Frames;
        Assert.IsTrue(box.Count >= Learning - 4, $"{box.Count} frames");
        Assert.AreEqual(box.Count, rig.Frames.Count);
        for (int i = 0; i < box.Count; i++)
        {
            Assert.AreEqual(box[i].Opened, rig.Frames[i].OpenUs / 1e6, 0.02, $"frame {i + 1} opened");
            Assert.AreEqual(box[i].BackwashShare > 0.9999, new Judge(Swell).OnBackwash(rig.Frames[i].OpenUs, rig.Frames[i].CloseUs), $"frame {i + 1} on the backwash");
        }
        Assert.AreEqual(board.Box.Desk!.Waves.ChancePercent, rig.Desk.Waves.ChancePercent, 1, "the chance of the last frame");
    }

    // Few marks means one wave in three: enough to keep the rhythm from going stale.
    private static Played Play(FiringWay way, bool markTurnsToo)
    {
        var camera = new CameraOptions { Dial = CameraDial.Timed, DialSeconds = 1 };
        using var board = new Board(new BoardOptions { Sea = Swell, Camera = camera });
        BoxSettings settings = board.Box!.Settings;
        settings.Waves.Way = way;
        settings.Waves.Waves = Frames;
        for (int i = 0; i < 3; i++) board.Press(Button.Down, 500_000 + i * 400_000, Tap);
        WatchedWave[] waves = Photographer.Watch(Swell, new Habits(WorthReach: 0.6), 7);
        long fireAt = waves[Learning].Swash.TurnUs + 2_000_000;
        board.Press(Button.Fire, fireAt, Tap);
        long free = 3_000_000;
        for (int i = 0; i < waves.Length; i++)
        {
            WatchedWave w = waves[i];
            bool running = w.ArrivalMarkUs > fireAt + 500_000;
            if (running && way == FiringWay.OnArrival)
            {
                // Held to the turn where that is wanted, and for the first waves of the run in any case.
                bool hold = markTurnsToo || waves.Take(i).Count(before => before.ArrivalMarkUs > fireAt + 500_000) < 4;
                Tapped(w.ArrivalMarkUs, hold ? Math.Max(Tap, w.TurnMarkUs - w.ArrivalMarkUs) : Tap);
                continue;
            }
            if (running && way == FiringWay.OnRhythm && !markTurnsToo && i % 3 != 0) continue;
            Tapped(w.TurnMarkUs, i < Timed ? Math.Max(Tap, w.HeldUs) : Tap);
        }

        void Tapped(long atUs, long forUs)
        {
            if (atUs < free || atUs > fireAt - 500_000 && atUs < fireAt + 500_000) return;
            board.Press(Button.Mark, atUs, forUs);
            free = atUs + forUs + 150_000;
        }

        RunDesk desk = board.Box.Desk!;
        var chances = new List<double>();
        int shown = -1;
        RunState before = RunState.Ready;
        while (board.Time.NowUs < Swell.LapUs && desk.State != RunState.Done)
        {
            board.RunUntil(board.Time.NowUs + 50_000);
            if (desk.State == RunState.AwaitWave) shown = desk.Waves.ChancePercent;
            if (desk.State == RunState.OnWave && before != RunState.OnWave && shown >= 0) chances.Add(shown);
            before = desk.State;
        }
        board.RunUntil(board.Time.NowUs + 3_000_000);
        SessionReport report = ReportBuilder.Of(board, "swell");
        Assert.AreEqual(0, report.MissedPresses.Count, string.Join("; ", report.MissedPresses));
        Assert.AreEqual(0, report.BusViolations.Count);
        Assert.AreEqual(0, report.PinFaults.Count);
        Assert.AreEqual(0, report.LimiterTrips);
        return new Played(report.Frames, [.. chances], desk.Waves.WavesMissed, desk.Waves.Rhythm.MarkCount, desk.Waves.Delay.PairCount, desk.State, desk.Waves.Rhythm.BackwashSeconds);
    }
}

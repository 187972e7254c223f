using Intervalometer.Core.Release;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>What a plan refuses, at the very limits, and in which words.</summary>
[TestClass]
public class ShotPlanTests
{
    private const long Second = 1_000_000;

    private static ShotPlan Of(PlanShape shape, int frames, bool boxTimed) => new ShotPlan { Shape = shape, Frames = frames, BoxTimed = boxTimed };

    private static void Refused(string words, ShotPlan plan)
    {
        Assert.AreEqual(words, plan.Fault() ?? "taken");
        Assert.AreEqual(words, plan.FaultWithin(3600) ?? "taken");
    }

    private static void Taken(ShotPlan plan) => Assert.AreEqual("taken", plan.Fault() ?? "taken");

    [TestMethod]
    public void TimesBelowZeroAndOfNoLengthAreRefused()
    {
        Refused("A time is below zero.", new ShotPlan { SettleUs = -1 });
        Refused("A time is below zero.", new ShotPlan { GapUs = -1 });
        Refused("A time is below zero.", new ShotPlan { HoldUs = -1 });
        Taken(new ShotPlan { SettleUs = 0, GapUs = 0, HoldUs = 0 });
        Refused("The exposure has no length.", new ShotPlan { ExposureUs = 0 });
        Taken(new ShotPlan { ExposureUs = 1 });
        ShotPlan series = Of(PlanShape.Series, 2, false);
        series.IntervalUs = 0;
        Refused("The interval has no length.", series);
        series.IntervalUs = 1;
        Taken(series);
        ShotPlan held = Of(PlanShape.HeldDrive, 1, false);
        held.HoldUs = 0;
        Refused("The hold has no length.", held);
        held.HoldUs = 1;
        Taken(held);
        held.BoxTimed = true;
        Refused("Held drive needs the camera's own dial.", held);
    }

    [TestMethod]
    public void FramesAreCountedUpToTheirLimits()
    {
        Refused("Set 1 frame or more.", Of(PlanShape.Burst, 0, false));
        Refused("Set 1 frame or more.", Of(PlanShape.Series, 0, false));
        Taken(Of(PlanShape.Burst, 1, false));
        Taken(Of(PlanShape.Burst, 99, false));
        Refused("Set 99 frames or fewer.", Of(PlanShape.Burst, 100, false));
        Taken(Of(PlanShape.Series, 9999, false));
        Refused("Set 9999 frames or fewer.", Of(PlanShape.Series, 10_000, false));
        // One frame or one hold is one frame, whatever number was left in the field.
        Assert.AreEqual(1, Of(PlanShape.Single, 0, false).FrameCount);
        Assert.AreEqual(1, Of(PlanShape.HeldDrive, 12, false).FrameCount);
        Taken(Of(PlanShape.Single, 0, false));
        Taken(Of(PlanShape.Single, 20_000, false));
        Taken(Of(PlanShape.HeldDrive, 20_000, false));
    }

    [TestMethod]
    public void ABracketTakesThreeFiveOrSevenAndAThirdToThreeStops()
    {
        for (int frames = 1; frames < 10; frames++)
        {
            ShotPlan plan = Of(PlanShape.Bracket, frames, true);
            plan.ExposureUs = 10 * Second;
            if (frames == 3 || frames == 5 || frames == 7) Taken(plan);
            else Refused("Set 3, 5 or 7 frames.", plan);
        }
        ShotPlan wide = Of(PlanShape.Bracket, 3, true);
        wide.ExposureUs = 10 * Second;
        wide.BracketThirds = 0;
        Refused("Set 1/3 to 3 stops.", wide);
        wide.BracketThirds = 1;
        Taken(wide);
        wide.BracketThirds = 9;
        Taken(wide);
        wide.BracketThirds = 10;
        Refused("Set 1/3 to 3 stops.", wide);
        wide.BoxTimed = false;
        Refused("A bracket is timed by the box: set FRAMES to box (bulb) and the camera to B.", wide);
    }

    [TestMethod]
    public void OnBulbNoFrameIsShorterThanATenthOfASecond()
    {
        ShotPlan plan = Of(PlanShape.Burst, 3, true);
        plan.ExposureUs = ShotPlan.ShortestBoxTimedUs;
        Taken(plan);
        plan.ExposureUs = ShotPlan.ShortestBoxTimedUs - 1;
        Refused("On bulb, set 0.1 s or longer.", plan);
        plan.BoxTimed = false;
        Taken(plan);

        // A bracket's shortest frame counts: the answer less one stop, the second of three; less two stops, the fourth of five.
        ShotPlan bracket = Of(PlanShape.Bracket, 3, true);
        bracket.ExposureUs = 2 * ShotPlan.ShortestBoxTimedUs;
        Taken(bracket);
        bracket.Frames = 5;
        Refused("The bracket's shortest frame is under 0.1 s. Lengthen the exposure, or set fewer frames or a smaller step.", bracket);
        bracket.ExposureUs = 4 * ShotPlan.ShortestBoxTimedUs;
        Taken(bracket);
    }

    [TestMethod]
    public void ABracketsLongestFrameStaysWithinTheLimit()
    {
        ShotPlan plan = Of(PlanShape.Bracket, 3, true);
        plan.ExposureUs = 30 * Second;
        // The answer and one stop over: 60 s.
        Assert.AreEqual("taken", plan.FaultWithin(60) ?? "taken");
        Assert.AreEqual(
            "The bracket reaches 1:00, limit 0:59. Set fewer frames or a smaller step, or raise the limit in BOX.",
            plan.FaultWithin(59) ?? "taken");
        plan.Frames = 5;
        Assert.AreEqual("taken", plan.FaultWithin(120) ?? "taken");
        Assert.IsNotNull(plan.FaultWithin(119)!);
        // Other shapes have one length; the exposure card holds that within the limit.
        plan.Shape = PlanShape.Burst;
        Assert.AreEqual("taken", plan.FaultWithin(1) ?? "taken");
    }
}

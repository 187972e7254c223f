using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The dawn's correction of a bulb exposure, compared with the calculation of the exposure itself.</summary>
[TestClass]
public class DawnLightFigureTests
{
    private const long Second = 1_000_000;

    private static UtcInstant Dawn() => new CivilTime(2031, 3, 14, 6, 0, 0).AsUtc();

    private static GeoPosition Ledge() => new GeoPosition(50, -5);

    // 1 s behind seven stops.
    internal static BoxSettings TwoMinutes()
    {
        BoxSettings box = new BoxSettings();
        Filter filter = new Filter("GREY", FilterKind.Nd) { On = true };
        filter.SetStrength(FilterScale.Stops, 700);
        box.Kit = new FilterKit();
        box.Kit.Add(filter);
        box.LimitSeconds = 1200;
        box.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(0), 0));
        return box;
    }

    private static double Next(BoxSettings box, ShoreClock clock)
    {
        DawnLight dawn = new DawnLight(box);
        dawn.MoveTo(Ledge());
        dawn.Watch(clock, true, 0);
        dawn.Work(clock, 0);
        return dawn.Applies ? dawn.NextSeconds : -1;
    }

    // What the frame behind a gap would need, by the exposure alone.
    private static double Plain(BoxSettings box, UtcInstant start, double gap)
    {
        DawnExposure plain = new DawnExposure(Ledge());
        plain.Read(Dawn(), box.Answer.BeforeFilmSeconds);
        return plain.FrameAt(DawnExposure.NextStart(start, plain.FrameAt(start), gap)).Seconds;
    }

    /// <summary>The next frame of a burst opens after the gap, that of a series on its interval, and neither before a dark frame is over.</summary>
    [TestMethod]
    public void TheNextFrameFollowsThePlan()
    {
        BoxSettings box = TwoMinutes();
        ShoreClock clock = new ShoreClock();
        clock.Read(Dawn(), 0);
        ShotPlan plan = box.Plan;
        plan.SettleUs = 5 * Second;
        UtcInstant start = Dawn().PlusSeconds(5);
        DawnExposure alone = new DawnExposure(Ledge());
        alone.Read(Dawn(), box.Answer.BeforeFilmSeconds);
        double length = alone.FrameAt(start).Seconds;
        plan.Shape = PlanShape.Single;
        Check.Near(0, Next(box, clock), 0, "one frame");
        plan.Shape = PlanShape.Burst;
        plan.GapUs = 30 * Second;
        Check.Near(Plain(box, start, 30), Next(box, clock), 1e-9, "burst");
        plan.Shape = PlanShape.Series;
        plan.IntervalUs = 300 * Second;
        Check.Near(Plain(box, start, 300 - length), Next(box, clock), 1e-9, "series");
        box.Camera.DarkFrame = true;
        plan.IntervalUs = 130 * Second;
        Check.Near(Plain(box, start, length), Next(box, clock), 1e-9, "dark frame");
        plan.Shape = PlanShape.Burst;
        Check.Near(Plain(box, start, length), Next(box, clock), 1e-9, "dark frame of a burst");
    }

    /// <summary>A corrected time over the limit is out of reach, and so is one for which the light fades; neither is used. A time at the limit is used.</summary>
    [TestMethod]
    public void OutOfReachIsReportedAndNotUsed()
    {
        BoxSettings box = TwoMinutes();
        box.Plan.Shape = PlanShape.Burst;
        box.Plan.GapUs = 3_600 * Second;
        ShoreClock clock = new ShoreClock();
        SunDay day = new SunDay(Ledge(), new LocalOffset(0), Dawn());
        clock.Read(day.Set.Time, 0);
        DawnLight dawn = new DawnLight(box);
        dawn.MoveTo(Ledge());
        ShotPlan plan = new ShotPlan();
        dawn.Watch(clock, true, 0);
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.Applies && dawn.Seconds > 130);
        // An hour on the light has failed, so of the next frame nothing is said.
        Check.Near(0, dawn.NextSeconds, 0, "the next frame");
        box.Plan.GapUs = 0;
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.NextSeconds > dawn.Seconds);
        Assert.IsTrue(dawn.Fill(plan));
        Check.Near(dawn.Seconds * 1e6, plan.ExposureUs, 1, "corrected");
        int limit = (int)dawn.Seconds;
        box.LimitSeconds = limit;
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.OutOfReach && !dawn.Applies && dawn.NextSeconds == 0);
        Assert.IsTrue(dawn.Fill(plan));
        Check.Near(box.Answer.Seconds * 1e6, plan.ExposureUs, 1, "as metered");
        box.LimitSeconds = limit + 1;
        dawn.Work(clock, 0);
        Assert.IsTrue(dawn.Applies && !dawn.OutOfReach);
        // Half an hour on the light fails.
        box.LimitSeconds = 7200;
        dawn.Watch(clock, true, 1_190 * Second);
        box.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(9), 0));
        dawn.Watch(clock, true, 1_190 * Second);
        dawn.Work(clock, 1_190 * Second);
        Assert.IsTrue(dawn.OutOfReach && !dawn.Applies);
        // A refused exposure fills no plan.
        box.LimitSeconds = 60;
        box.Solve();
        Assert.AreEqual((int)ExposureKind.Refused, (int)box.Answer.Kind);
        Assert.IsFalse(dawn.Fill(plan));
        // Switched off, nothing is said of it.
        dawn.Watch(clock, false, 1_191 * Second);
        Assert.IsFalse(dawn.OutOfReach || dawn.Applies || dawn.WantsReading);
    }

    /// <summary>A reading counts only when the clock is set. When the clock is lost or goes back before the reading, the reading is dropped.</summary>
    [TestMethod]
    public void AReadingNeedsAClock()
    {
        BoxSettings box = TwoMinutes();
        ShoreClock clock = new ShoreClock();
        DawnLight dawn = new DawnLight(box);
        dawn.MoveTo(Ledge());
        dawn.Watch(clock, true, 0);
        clock.Read(Dawn(), 0);
        dawn.Watch(clock, true, Second);
        Assert.IsTrue(dawn.WantsReading && !dawn.Due(true, Second));
        box.StepShutter(0);
        dawn.Watch(clock, true, 2 * Second);
        Assert.IsTrue(!dawn.WantsReading && dawn.Due(true, 2 * Second) && !dawn.Due(false, 2 * Second));
        dawn.Work(clock, 2 * Second);
        Assert.IsFalse(dawn.Due(true, 4 * Second - 1));
        Assert.IsTrue(dawn.Due(true, 4 * Second));
        clock.Fail(ClockTrust.NoAnswer);
        dawn.Watch(clock, true, 3 * Second);
        Assert.IsTrue(dawn.WantsReading);
        clock.Read(Dawn().PlusSeconds(-10), 3 * Second);
        dawn.Watch(clock, true, 3 * Second);
        Assert.IsTrue(dawn.WantsReading);
        clock.Read(Dawn().PlusSeconds(2), 3 * Second);
        dawn.Watch(clock, true, 3 * Second);
        Assert.IsFalse(dawn.WantsReading);
    }
}

using Microsoft.VisualStudio.TestTools.UnitTesting;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// The device switches its threads between any two instructions. Here they are switched before every instruction that touches a field of the
/// link, once there and once back, at every pair of such instructions.
/// </summary>
[TestClass]
public class InterleavingTests
{
    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void NoScheduleOfTwoSwitchesLosesOrMixesAnything()
    {
        string told = WovenBuild.Run(typeof(LinkSchedules), nameof(LinkSchedules.Run));
        TestContext.WriteLine(told);
        int schedules = int.Parse(told.Split("; ")[1].Split(' ')[0]);
        Assert.IsGreaterThan(3000, schedules);
    }

    [TestMethod]
    public void AContactThatStaysClosedIsFound() =>
        StringAssert.Contains(WovenBuild.Run(typeof(LinkSchedules), nameof(LinkSchedules.RunLeftClosed)), "a contact is closed without a run");

    [TestMethod]
    public void AFrameThatIsNotToldIsFound() =>
        StringAssert.Contains(WovenBuild.Run(typeof(LinkSchedules), nameof(LinkSchedules.RunUntold)), "2 frames, not the one");

    [TestMethod]
    public void AnOrderThatIsFilledInWhileItIsOfferedIsFound() =>
        StringAssert.Contains(WovenBuild.Run(typeof(LinkSchedules), nameof(LinkSchedules.RunBroken)), "a mixture");
}

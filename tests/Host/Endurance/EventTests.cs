using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>Ten million presses and releases at random over every screen, with every change of a contact checked.</summary>
[TestClass]
public class EventTests
{
    private const long Events = 10_000_000;
    private const int DrawEvery = 12;

    // Settings, filters and the tables of mornings that happen to be there differ between two moments by this much, bytes.
    private const long HeapSlack = 48_000;

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void TenMillionEventsBreakNothingAndTheHeapStays()
    {
        long events = EnduranceScale.Of(Events);
        var rig = new EventRig(20310315, DrawEvery);
        rig.Run(events / 2);
        long half = GC.GetTotalMemory(true);
        rig.Run(events - events / 2);
        long whole = GC.GetTotalMemory(true);
        TestContext.WriteLine($"{rig.Words()}\n{rig.Cards}\nheap {half} bytes after half, {whole} at the end; {EnduranceScale.Hint}");
        Assert.AreEqual(0, rig.WrongPictures.Count, string.Join("\n", rig.WrongPictures));
        Assert.IsTrue(whole - half < HeapSlack, $"the heap grew from {half} to {whole} bytes in {events / 2} events; {EnduranceScale.Hint}");
        // Random presses seldom reach the last letters of a name: some sixty times.
        rig.Cards.AllReached(50);
        for (int i = 0; i < rig.States.Length; i++) Assert.IsTrue(rig.States[i] >= 5, $"{(RunState)i} was come to {rig.States[i]} times");
        for (int i = 0; i < rig.Waves.Length; i++) Assert.IsTrue(rig.Waves[i] >= 500, $"{(Core.Swash.FiringWay)i} was begun {rig.Waves[i]} times");
        for (int i = 0; i < rig.Plans.Length; i++)
        {
            var shape = (PlanShape)(i / 2);
            bool box = i % 2 == 1;
            // The camera times a held drive; the box times a bracket and a frame by hand.
            bool can = shape == PlanShape.HeldDrive ? !box : (shape != PlanShape.Bracket && shape != PlanShape.ByHand) || box;
            Assert.AreEqual(can, rig.Plans[i] >= 1000, $"{shape}, {(box ? "box" : "dial")} timed, was begun {rig.Plans[i]} times");
        }
        Assert.IsTrue(rig.Notices > 1000 && rig.Alarms > 1000 && rig.AlarmsInRuns > 100 && rig.Spent > 10_000 && rig.Hangs > 20, rig.Words());
    }

    [TestMethod]
    public void TheSameSeedPressesTheSame()
    {
        ulong[] digests = [.. new ulong[] { 5, 5, 6 }.Select(seed =>
        {
            var rig = new EventRig(seed, DrawEvery);
            rig.Run(60_000);
            return rig.Digest;
        })];
        Assert.AreEqual(digests[0], digests[1]);
        Assert.AreNotEqual(digests[0], digests[2]);
    }
}

using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.Tests.Host.VirtualBoard;

[TestClass]
public class ClockTests
{
    [TestMethod]
    public void EventsRunInOrderOfTimeThenOfAsking()
    {
        var clock = new VirtualClock();
        var seen = new List<string>();
        clock.At(20, () => seen.Add("b" + clock.NowUs));
        clock.At(10, () => seen.Add("a" + clock.NowUs));
        clock.At(20, () => seen.Add("c" + clock.NowUs));
        clock.At(30, () => seen.Add("late"));
        clock.AdvanceTo(25);
        CollectionAssert.AreEqual(new[] { "a10", "b20", "c20" }, seen);
        Assert.AreEqual(25L, clock.NowUs);
    }

    [TestMethod]
    public void AnEventMayAskForAnotherAtTheSameTime()
    {
        var clock = new VirtualClock();
        int runs = 0;
        clock.At(5, () => clock.At(5, () => runs++));
        clock.AdvanceTo(5);
        Assert.AreEqual(1, runs);
    }

    [TestMethod]
    public void TimeNeverGoesBack()
    {
        var clock = new VirtualClock();
        clock.AdvanceTo(100);
        clock.AdvanceTo(50);
        Assert.AreEqual(100L, clock.NowUs);
        Assert.ThrowsExactly<ArgumentOutOfRangeException>(() => clock.At(99, () => { }));
    }

    [TestMethod]
    public void AnEventCannotMoveTheClock()
    {
        var clock = new VirtualClock();
        clock.At(1, () => clock.AdvanceTo(10));
        clock.At(2, () => { });
        Assert.ThrowsExactly<InvalidOperationException>(() => clock.AdvanceTo(1));
    }

    /// <summary>First outputs of SplitMix64 for seed 1234567, as printed in several public descriptions of the generator (from memory).</summary>
    [TestMethod]
    public void DiceAreSplitMix()
    {
        var dice = new Dice(1234567);
        Assert.AreEqual(6457827717110365317UL, dice.Next());
        Assert.AreEqual(3203168211198807973UL, dice.Next());
        Assert.AreEqual(9817491932198370423UL, dice.Next());
    }

    [TestMethod]
    public void BellHasUnitSpread()
    {
        var dice = new Dice(9);
        double sum = 0, squares = 0;
        const int n = 100_000;
        for (int i = 0; i < n; i++)
        {
            double x = dice.Bell();
            sum += x;
            squares += x * x;
        }
        Assert.AreEqual(0, sum / n, 0.02);
        Assert.AreEqual(1, squares / n, 0.02);
    }
}

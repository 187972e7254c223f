using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The exact seconds at which the way-back alarm begins to doubt its clock or its result.</summary>
[TestClass]
public class AlarmLimitTests
{
    private static UtcInstant Now() => new CivilTime(2026, 3, 9, 4, 0, 0).AsUtc();

    private static WayBackResult Open(UtcInstant workedOut) =>
        new WayBackResult(WayBackState.Open, workedOut, Now().PlusHours(5), Now().PlusHours(6), 0);

    // Quiet at first, by a result that was worked out now.
    private static WayBackAlarm Quiet()
    {
        WayBackAlarm alarm = new WayBackAlarm(45, 15);
        Assert.IsTrue(alarm.Update(Now(), true, 0, Open(Now())) == WayBackLevel.Quiet);
        return alarm;
    }

    // The level when the two clocks differ by this many seconds, in one step after an hour or in steps of a second.
    private static WayBackLevel Apart(int seconds, int step)
    {
        WayBackAlarm alarm = Quiet();
        long us = 3_600_000_000L;
        for (int apart = step; ; apart += step)
        {
            us += 10_000_000L;
            // divisor: a constant
            WayBackLevel level = alarm.Update(Now().PlusSeconds(us / 1_000_000 + apart), true, us, Open(Now()));
            if (apart == seconds) return level;
            Assert.IsTrue(level == WayBackLevel.Quiet);
        }
    }

    [TestMethod]
    public void AMinuteApartIsStillBelievedAndASecondMoreIsNot()
    {
        Assert.IsTrue(Apart(60, 60) == WayBackLevel.Quiet);
        Assert.IsTrue(Apart(61, 61) == WayBackLevel.Uncertain);
        // A clock that loses a second at a time, which is no jump back.
        Assert.IsTrue(Apart(-60, -1) == WayBackLevel.Quiet);
        Assert.IsTrue(Apart(-61, -1) == WayBackLevel.Uncertain);
        Assert.IsTrue(Apart(-60, -2) == WayBackLevel.Quiet);
        Assert.IsTrue(Apart(-3, -3) == WayBackLevel.Uncertain);
    }

    [TestMethod]
    public void AClockThatIsNotTrustedOrInvalidMovesNothing()
    {
        WayBackAlarm alarm = Quiet();
        Assert.IsTrue(alarm.Update(Now().PlusHours(1), false, 1_000_000, Open(Now())) == WayBackLevel.Uncertain);
        Assert.IsFalse(alarm.ClockMoved);
        Assert.IsTrue(alarm.Update(new UtcInstant(long.MinValue), true, 1_500_000, Open(Now())) == WayBackLevel.Uncertain);
        Assert.IsFalse(alarm.ClockMoved);
        Assert.IsTrue(alarm.Update(Now().PlusSeconds(2), true, 2_000_000, Open(Now())) == WayBackLevel.Quiet);
    }

    [TestMethod]
    public void AClockThatIsDistrustedBeforeItsFirstLookStaysSo()
    {
        WayBackAlarm alarm = new WayBackAlarm(45, 15);
        alarm.Distrust();
        Assert.IsTrue(alarm.Update(Now(), true, 0, Open(Now())) == WayBackLevel.Uncertain);
        Assert.IsTrue(alarm.ClockMoved);
        alarm = Quiet();
        alarm.Distrust();
        Assert.IsTrue(alarm.ClockMoved);
        Assert.IsTrue(alarm.Update(Now(), true, 0, Open(Now())) == WayBackLevel.Uncertain);
    }

    [TestMethod]
    public void AResultUpToAMinuteFromAnotherClockIsBelieved()
    {
        Assert.IsTrue(new WayBackAlarm(45, 15).Update(Now(), true, 0, Open(Now().PlusSeconds(60))) == WayBackLevel.Quiet);
        Assert.IsTrue(new WayBackAlarm(45, 15).Update(Now(), true, 0, Open(Now().PlusSeconds(61))) == WayBackLevel.Uncertain);
        Assert.IsTrue(new WayBackAlarm(45, 15).Update(Now(), true, 0, Open(Now().PlusSeconds(-60))) == WayBackLevel.Quiet);
        Assert.IsTrue(new WayBackAlarm(45, 15).Update(Now(), true, 0, Open(Now().PlusSeconds(-61))) == WayBackLevel.Uncertain);
    }

    [TestMethod]
    public void ItIsQuietForFiveMinutesToTheMicrosecond()
    {
        WayBackAlarm alarm = new WayBackAlarm(45, 15);
        alarm.Update(Now(), false, 0, Open(Now()));
        Assert.IsTrue(alarm.Sounding);
        alarm.Acknowledge(0);
        Assert.IsFalse(alarm.Sounding);
        alarm.Update(Now(), false, 299_999_999, Open(Now()));
        Assert.IsFalse(alarm.Sounding);
        alarm.Update(Now(), false, 300_000_000, Open(Now()));
        Assert.IsTrue(alarm.Sounding);
    }
}

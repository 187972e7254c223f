using Intervalometer.Core.Time;

namespace Intervalometer.Tests.DeviceSafe;

[TestClass]
public class TimeTests
{
    /// <summary>Julian dates of J. Meeus, Astronomical Algorithms, chapter 7: 2000 January 1.5 is 2451545.0.</summary>
    [TestMethod]
    public void JulianDateOfTheStandardEpoch() =>
        Check.Near(2451545.0, new CivilTime(2000, 1, 1, 12, 0, 0).AsUtc().JulianDate, 1e-9, "J2000");

    [TestMethod]
    public void EveryDayTo2099GoesThereAndBack()
    {
        int weekday = 6;
        int length = 0;
        for (int day = 0; day < 36525; day++)
        {
            UtcInstant instant = new UtcInstant(day * UtcInstant.SecondsPerDay + 86399);
            CivilTime time = CivilTime.FromUtc(instant);
            Assert.IsTrue(time.IsValid, "day " + day.ToString());
            Assert.IsTrue(time.AsUtc().Seconds == instant.Seconds, "day " + day.ToString());
            Assert.AreEqual(weekday, time.Weekday);
            weekday = weekday % 7 + 1;
            if (time.Month == 2 && time.Day == 29) length++;
        }
        // 2000 to 2096, every fourth year.
        Assert.AreEqual(25, length);
        CivilTime last = CivilTime.FromUtc(new UtcInstant(UtcInstant.EndSeconds - 1));
        Assert.AreEqual("2099-12-31", TimeText.IsoDate(last));
    }

    /// <summary>2026-11-25 is a Wednesday by any calendar.</summary>
    [TestMethod]
    public void KnownWeekday() => Assert.AreEqual("Wed 25 Nov", TimeText.ShortDate(new CivilTime(2026, 11, 25, 0, 0, 0)));

    [TestMethod]
    public void ImpossibleDatesAreRefused()
    {
        Assert.IsFalse(new CivilTime(2026, 2, 29, 0, 0, 0).IsValid);
        Assert.IsTrue(new CivilTime(2028, 2, 29, 0, 0, 0).IsValid);
        Assert.IsFalse(new CivilTime(2100, 1, 1, 0, 0, 0).IsValid);
        Assert.IsFalse(new CivilTime(1999, 12, 31, 0, 0, 0).IsValid);
        Assert.IsFalse(new CivilTime(2026, 13, 1, 0, 0, 0).IsValid);
        Assert.IsFalse(new CivilTime(2026, 4, 31, 0, 0, 0).IsValid);
        Assert.IsFalse(new CivilTime(2026, 4, 30, 24, 0, 0).IsValid);
        Assert.IsFalse(new UtcInstant(-1).IsValid);
        Assert.AreEqual(-1, new UtcInstant(-1).DayNumber);
        Assert.AreEqual(86399, new UtcInstant(-1).SecondOfDay);
    }

    [TestMethod]
    public void LocalTimeCrossesMidnightBothWays()
    {
        LocalOffset east = new LocalOffset(765);
        LocalOffset west = new LocalOffset(-210);
        UtcInstant instant = new CivilTime(2026, 12, 31, 20, 0, 0).AsUtc();
        Assert.AreEqual("2027-01-01", TimeText.IsoDate(east.ToLocal(instant)));
        Assert.AreEqual("08:45", TimeText.HourMinute(instant, east));
        Assert.AreEqual("16:30", TimeText.HourMinute(instant, west));
        Assert.AreEqual("+12:45", TimeText.Offset(east));
        Assert.AreEqual("-03:30", TimeText.Offset(west));
        Assert.IsTrue(east.ToUtc(east.ToLocal(instant)).Seconds == instant.Seconds);
        Assert.AreEqual("00:00", TimeText.HourMinute(east.MidnightBefore(instant), east));
        Assert.IsTrue(instant.SecondsSince(east.MidnightBefore(instant)) == 8 * 3600 + 45 * 60);
    }

    [TestMethod]
    public void SpansRoundTowardsZero()
    {
        Assert.AreEqual("2 h 05 min", TimeText.Span(7559));
        Assert.AreEqual("59 min", TimeText.Span(3599));
        Assert.AreEqual("-5 min", TimeText.Span(-300));
        Assert.AreEqual("0 min", TimeText.Span(-59));
    }
}

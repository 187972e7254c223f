using Intervalometer.Coast.Time;

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
        Assert.AreEqual("08:45", TimeText.HourMinuteBefore(instant.PlusSeconds(59), east));
        Assert.AreEqual("08:46", TimeText.HourMinute(instant.PlusSeconds(59), east));
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

    [TestMethod]
    public void SpansAndMomentsAtTheirBorders()
    {
        Assert.AreEqual("1 h 00 min", TimeText.Span(3600));
        Assert.AreEqual("-1 min", TimeText.Span(-60));
        Assert.AreEqual("-1 h 10 min", TimeText.Span(-4200));
        Assert.IsTrue(new UtcInstant(0).IsValid);
        Assert.IsTrue(new UtcInstant(UtcInstant.EndSeconds - 1).IsValid);
        Assert.IsFalse(new UtcInstant(UtcInstant.EndSeconds).IsValid);
        Assert.AreEqual(-1, new UtcInstant(-UtcInstant.SecondsPerDay).DayNumber);
        Assert.AreEqual(-2, new UtcInstant(-UtcInstant.SecondsPerDay - 1).DayNumber);
        UtcInstant noon = new CivilTime(2026, 3, 1, 12, 0, 0).AsUtc();
        Assert.AreEqual("2026-02-27", TimeText.IsoDate(CivilTime.FromUtc(noon.PlusDays(-2))));
        Assert.AreEqual("15:00", TimeText.HourMinute(CivilTime.FromUtc(noon.PlusHours(3))));
        Assert.AreEqual("11:50", TimeText.HourMinute(CivilTime.FromUtc(noon.PlusMinutes(-10))));
        UtcInstant same = noon.PlusDays(0);
        Assert.IsFalse(noon < same);
        Assert.IsFalse(noon > same);
        Assert.IsTrue(noon <= same);
        Assert.IsTrue(noon >= same);
        // The first and last second that can be held stand for all before and after.
        Assert.AreEqual("2000-01-01", TimeText.IsoDate(CivilTime.FromUtc(new UtcInstant(-5))));
        Assert.AreEqual("2099-12-31", TimeText.IsoDate(CivilTime.FromUtc(new UtcInstant(UtcInstant.EndSeconds))));
    }

    [TestMethod]
    public void OffsetsStayWithinThoseOfTheWorld()
    {
        Assert.AreEqual(-720, new LocalOffset(-721).Minutes);
        Assert.AreEqual(-719, new LocalOffset(-719).Minutes);
        Assert.AreEqual(840, new LocalOffset(841).Minutes);
        Assert.AreEqual(839, new LocalOffset(839).Minutes);
        Assert.AreEqual("+00:00", TimeText.Offset(new LocalOffset(0)));
        Assert.AreEqual("+10:00", TimeText.Offset(new LocalOffset(600)));
    }

    [TestMethod]
    public void EveryDayAndMonthHasItsName()
    {
        string days = "";
        for (int i = 0; i <= 8; i++) days += TimeText.WeekdayName(i);
        Assert.AreEqual("MonTueWedThuFriSatSun", days);
        string months = "";
        for (int i = 0; i <= 13; i++) months += TimeText.MonthName(i);
        Assert.AreEqual("JanFebMarAprMayJunJulAugSepOctNovDec", months);
    }

    // Clocks go forward at 01:00 UTC on 29 March and back at 01:00 UTC on 25 October 2026 (Directive 2000/84/EC).
    private static LocalTime Summer() => new LocalTime(
        new LocalOffset(0),
        new CivilTime(2026, 3, 29, 1, 0, 0).AsUtc(), new LocalOffset(60),
        new CivilTime(2026, 10, 25, 1, 0, 0).AsUtc(), new LocalOffset(0));

    [TestMethod]
    public void TheClocksOfAPlaceChangeTwice()
    {
        LocalTime local = Summer();
        Assert.AreEqual("00:59", TimeText.HourMinute(local.ToLocal(new CivilTime(2026, 3, 29, 0, 59, 59).AsUtc())));
        Assert.AreEqual("02:00", TimeText.HourMinute(local.ToLocal(new CivilTime(2026, 3, 29, 1, 0, 0).AsUtc())));
        Assert.AreEqual("01:59", TimeText.HourMinute(local.ToLocal(new CivilTime(2026, 10, 25, 0, 59, 59).AsUtc())));
        Assert.AreEqual("01:00", TimeText.HourMinute(local.ToLocal(new CivilTime(2026, 10, 25, 1, 0, 0).AsUtc())));
        Assert.AreEqual("15:25", TimeText.HourMinute(new CivilTime(2026, 6, 1, 14, 25, 0).AsUtc(), local));
        Assert.AreEqual("14:25", TimeText.HourMinute(new CivilTime(2026, 12, 1, 14, 25, 0).AsUtc(), local));
    }

    [TestMethod]
    public void LocalTimesComeBackAndTheFirstOfTwoIsTaken()
    {
        LocalTime local = Summer();
        for (int hour = 0; hour < 365 * 24; hour++)
        {
            UtcInstant at = new CivilTime(2026, 1, 1, 0, 30, 0).AsUtc().PlusHours(hour);
            long back = local.ToUtc(local.ToLocal(at)).Seconds;
            // 01:30 on 25 October comes twice.
            Assert.IsTrue(back == at.Seconds || (at.Seconds == new CivilTime(2026, 10, 25, 1, 30, 0).AsUtc().Seconds && back == at.Seconds - 3600));
            UtcInstant midnight = local.MidnightBefore(at);
            Assert.AreEqual("00:00", TimeText.HourMinute(local.ToLocal(midnight)));
            Assert.IsTrue(midnight <= at && at.SecondsSince(midnight) < 25 * 3600);
            Assert.AreEqual(local.DayOf(midnight), local.DayOf(at));
        }
        // 01:30 on 29 March never comes; with the offset of before it is 01:30 UTC.
        Assert.IsTrue(local.ToUtc(new CivilTime(2026, 3, 29, 1, 30, 0)).Seconds == new CivilTime(2026, 3, 29, 1, 30, 0).AsUtc().Seconds);
    }
}

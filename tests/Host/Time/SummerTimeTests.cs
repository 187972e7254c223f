using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Time;

/// <summary>
/// The rules of summer time against the public time zone database that .NET reads (tz database of IANA, as the system carries it), over 2009 to 2037, in which
/// no law of these places changed.
/// </summary>
[TestClass]
public class SummerTimeTests
{
    private const int FirstYear = 2009;
    private const int LastYear = 2037;

    // St John's changed at one minute past midnight until November 2011.
    [TestMethod]
    [DataRow(SummerRule.Europe, "Europe/London", 0, FirstYear)]
    [DataRow(SummerRule.Europe, "Europe/Paris", 60, FirstYear)]
    [DataRow(SummerRule.Europe, "Europe/Lisbon", 0, FirstYear)]
    [DataRow(SummerRule.Europe, "Europe/Helsinki", 120, FirstYear)]
    [DataRow(SummerRule.Europe, "Atlantic/Azores", -60, FirstYear)]
    [DataRow(SummerRule.UnitedStates, "America/New_York", -300, FirstYear)]
    [DataRow(SummerRule.UnitedStates, "America/Los_Angeles", -480, FirstYear)]
    [DataRow(SummerRule.UnitedStates, "America/Halifax", -240, FirstYear)]
    [DataRow(SummerRule.UnitedStates, "America/St_Johns", -210, 2012)]
    [DataRow(SummerRule.NewZealand, "Pacific/Auckland", 720, FirstYear)]
    [DataRow(SummerRule.Australia, "Australia/Sydney", 600, FirstYear)]
    [DataRow(SummerRule.Australia, "Australia/Hobart", 600, FirstYear)]
    [DataRow(SummerRule.Australia, "Australia/Adelaide", 570, FirstYear)]
    public void EveryChangeIsThatOfTheTimeZoneDatabase(SummerRule rule, string zone, int standard, int from)
    {
        TimeZoneInfo official = TimeZoneInfo.FindSystemTimeZoneById(zone);
        var local = new LocalTime(new LocalOffset(standard), rule);
        int changes = 0;
        for (int year = from; year <= LastYear; year++)
        {
            foreach (UtcInstant change in new[] { SummerTime.Begins(rule, year, standard), SummerTime.Ends(rule, year, standard) })
            {
                Assert.AreNotEqual(Official(official, change.PlusSeconds(-1)), Official(official, change), $"{zone} {year}: no change there");
                foreach (int seconds in new[] { -1, 0 }) Assert.AreEqual(Official(official, change.PlusSeconds(seconds)), local.MinutesAt(change.PlusSeconds(seconds)), $"{zone} {year}");
                changes++;
            }
        }
        Assert.AreEqual(2 * (LastYear - from + 1), changes);
        // Every four hours, out of order as well: the year for which a rule was worked out is not the one that is asked for.
        UtcInstant start = new CivilTime(from, 1, 1, 0, 0, 0).AsUtc();
        int steps = new CivilTime(LastYear, 12, 31, 0, 0, 0).AsUtc().SecondsSince(start) / 14400 is var n ? (int)n : 0;
        for (int i = 0; i < steps; i++)
        {
            UtcInstant at = start.PlusSeconds((i % 2 == 0 ? i : steps - i) * 14400L);
            Assert.AreEqual(Official(official, at), local.MinutesAt(at), $"{zone} {Planner.ToDateTime(at):u}");
        }
    }

    /// <summary>A time of day becomes the instant that the database says; the first of two, and for one that never comes the offset of before.</summary>
    [TestMethod]
    [DataRow(SummerRule.Europe, "Europe/London", 0)]
    [DataRow(SummerRule.UnitedStates, "America/Halifax", -240)]
    [DataRow(SummerRule.NewZealand, "Pacific/Auckland", 720)]
    public void TimesOfDayComeBack(SummerRule rule, string zone, int standard)
    {
        TimeZoneInfo official = TimeZoneInfo.FindSystemTimeZoneById(zone);
        var local = new LocalTime(new LocalOffset(standard), rule);
        int twice = 0, never = 0;
        for (DateTime shown = new(2030, 12, 31, 0, 30, 0); shown.Year < 2033; shown = shown.AddMinutes(30))
        {
            UtcInstant at = local.ToUtc(new CivilTime(shown.Year, shown.Month, shown.Day, shown.Hour, shown.Minute, 0));
            DateTime expected;
            if (official.IsInvalidTime(shown))
            {
                never++;
                expected = shown.AddMinutes(-standard);
            }
            else if (official.IsAmbiguousTime(shown))
            {
                twice++;
                expected = shown - official.GetAmbiguousTimeOffsets(shown).Max();
            }
            else
            {
                expected = TimeZoneInfo.ConvertTimeToUtc(shown, official);
            }
            Assert.AreEqual(expected, Planner.ToDateTime(at), $"{zone} {shown:u}");
        }
        Assert.AreEqual(4, twice);
        Assert.AreEqual(4, never);
    }

    /// <summary>A site file names the law; the box gets it through its image, and lists each day in the time of that day, years on.</summary>
    [TestMethod]
    public void ASiteFileNamesTheLaw()
    {
        string text = DemoSite.Text.Replace("local-time: +00:00", "local-time: +00:00\nclock-changes: Directive 2000/84/EC");
        Site site = SiteFile.Parse(text, "x");
        LocalTime stored = new OfflineBox(SiteImage.Make(site, Planner.FromDateTime(new DateTime(2031, 1, 1)))).Shore.Settings.Place.Offset;
        Assert.AreEqual(SummerRule.Europe, stored.Rule);
        Assert.AreEqual("UTC+00:00, an hour more in summer by Directive 2000/84/EC", Planner.OffsetWords(stored));
        TimeZoneInfo london = TimeZoneInfo.FindSystemTimeZoneById("Europe/London");
        foreach (int year in new[] { 2031, 2032, 2036 })
        {
            var (ranked, _, _) = Planner.Search(site, Planner.FromDateTime(new DateTime(year, 1, 1)), 366);
            Assert.IsGreaterThan(50, ranked.Count);
            foreach (Coast.Place.Morning morning in ranked)
            {
                DateTime sun = Planner.ToDateTime(morning.Sun);
                Assert.AreEqual(TimeZoneInfo.ConvertTimeFromUtc(sun.AddSeconds(30), london).ToString("HH:mm"), TimeText.HourMinute(morning.Sun, stored));
            }
        }
        foreach (SummerRule rule in Enum.GetValues<SummerRule>().Where(r => r != SummerRule.None))
            Assert.AreEqual(rule, SiteFile.Parse(DemoSite.Text.Replace("local-time: +00:00", "local-time: +00:00\nclock-changes: " + SummerTime.Source(rule)), "x").Place.Offset.Rule);
        SiteFileException refused = Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse(text.Replace("2000/84/EC", "2000/85/EC"), "x"));
        StringAssert.Contains(refused.Message, "Energy Policy Act 2005");
        StringAssert.Contains(refused.Message, "winter");
    }

    /// <summary>A rule that is chosen leaves what the clocks show now; an offset that is moved takes the changes with it.</summary>
    [TestMethod]
    public void ChoosingARuleMovesNoClock()
    {
        foreach (SummerRule rule in Enum.GetValues<SummerRule>())
        {
            for (int month = 1; month <= 12; month++)
            {
                UtcInstant now = new CivilTime(2031, month, 15, 10, 0, 0).AsUtc();
                LocalTime chosen = new LocalTime(new LocalOffset(60)).By(rule, now);
                Assert.AreEqual(60, chosen.MinutesAt(now), $"{rule} {month}");
                Assert.AreEqual(75, chosen.Moved(15).MinutesAt(now), $"{rule} {month}");
                Assert.AreEqual(rule != SummerRule.None, Enumerable.Range(1, 11).Any(m => chosen.MinutesAt(now.PlusDays(30 * m)) != 60), $"{rule} {month}");
            }
        }
    }

    private static int Official(TimeZoneInfo zone, UtcInstant at) => (int)zone.GetUtcOffset(Planner.ToDateTime(at)).TotalMinutes;
}

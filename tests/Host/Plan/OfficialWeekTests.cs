using System.Globalization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Tests.Host.Tide;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Plan;

/// <summary>
/// A place is compared with the official high and low waters of Friday Harbor, 15 to 17 July 2026 (NOAA, Fixtures/official.csv), as they are
/// and with one thing wrong at a time.
/// </summary>
[TestClass]
public class OfficialWeekTests
{
    private static readonly Station Harbor = TideFixtures.Stations()["9449880"];

    private static Site At(HarmonicConstants constants, int offsetMinutes) => new(
        new CoastPlace("Harbor", "MLLW", new GeoPosition(48.5, -123), new LocalOffset(offsetMinutes), new HarmonicTide(constants, NodeSchedule.Yearly), [], 10),
        new MorningWish(60, 60, 2, 1, 30, true, false));

    private static HarmonicConstants Constants(double level, double times = 1, double sign = 1)
    {
        var constants = new HarmonicConstants(level);
        foreach (string part in Harbor.Constants.Split(' '))
        {
            string[] f = part.Split(':');
            Assert.IsTrue(constants.TrySet(f[0], TideFixtures.Number(f[1]) * times, TideFixtures.Number(f[2]) * sign));
        }
        return constants;
    }

    private static string Table(int minutes = 0, double times = 1, double more = 0) => string.Join("\n", TideFixtures.Rows("Tide", "official.csv").Where(f => f[0] == "FRIDAY")
        .Select(f => string.Create(CultureInfo.InvariantCulture, $"{Planner.ToDateTime(TideFixtures.Instant(f[2]).PlusMinutes(minutes)):yyyy-MM-dd HH:mm},{f[4]},{TideFixtures.Number(f[3]) * times + more:F3}")).Prepend("time,kind,metres"));

    private static OfficialWeek Compare(Site site, string table) => OfficialWeek.Compare(site, table, "week.csv");

    [TestMethod]
    public void TheOfficialDaysAgree()
    {
        OfficialWeek week = Compare(At(Constants(Harbor.MslAboveMllw), 0), Table());
        Assert.IsTrue(week.Agrees, string.Join("; ", week.Lines));
        Assert.AreEqual("Against     12 of 12 turns of week.csv found; worst 1 min and 0 cm off", week.Lines.Single());
        Assert.IsTrue(Compare(At(Constants(Harbor.MslAboveMllw), -420), Table(-420)).Agrees, "in local time");
    }

    [TestMethod]
    [DataRow("sign", "Wrong sign")]
    [DataRow("feet in the table", "Wrong unit")]
    [DataRow("feet in the place", "Wrong unit")]
    [DataRow("datum", "Wrong datum")]
    [DataRow("offset", "Wrong offset")]
    [DataRow("day", "Wrong day")]
    [DataRow("another port", "Not the same tide")]
    public void WhatIsWrongIsNamed(string wrong, string said)
    {
        double level = Harbor.MslAboveMllw;
        OfficialWeek week = wrong switch
        {
            "sign" => Compare(At(Constants(level, sign: -1), 0), Table()),
            "feet in the table" => Compare(At(Constants(level), 0), Table(times: 1 / 0.3048)),
            "feet in the place" => Compare(At(Constants(level / 0.3048, 1 / 0.3048), 0), Table()),
            "datum" => Compare(At(Constants(0), 0), Table()),
            "offset" => Compare(At(Constants(level), -420), Table()),
            "day" => Compare(At(Constants(level), 0), Table(1440)),
            _ => Compare(DemoSite.Load(), Table()),
        };
        Assert.IsFalse(week.Agrees);
        Assert.IsTrue(week.Lines.Any(l => l.StartsWith(said, StringComparison.Ordinal)), string.Join("; ", week.Lines));
        Assert.AreEqual(wrong == "another port" ? 2 : 3, week.Lines.Count, string.Join("; ", week.Lines));
    }

    [TestMethod]
    public void ABadRowIsNamed()
    {
        Site site = At(Constants(1), 0);
        Assert.Contains("week.csv, line 2: '2026-03-07,high,5' is not of the form", Assert.ThrowsExactly<SiteFileException>(() => Compare(site, "time\n2026-03-07,high,5")).Message);
        Assert.Contains("give four turns or more", Assert.ThrowsExactly<SiteFileException>(() => Compare(site, "2026-03-07 05:12,high,5")).Message);
    }
}

using Intervalometer.Core.Tide;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Plan;

[TestClass]
public class SiteFileTests
{
    [TestMethod]
    public void TheDemoSiteIsReadWhole()
    {
        Site site = DemoSite.Load();
        Assert.AreEqual("Gannet Ledge", site.Place.Name);
        Assert.AreEqual(2, site.Place.PathCount);
        Assert.AreEqual(3.4, site.Place.PathPoint(0).LimitMetres, 1e-12);
        Assert.AreEqual(25, site.Place.LongestWalkMinutes);
        Assert.AreEqual(35, site.Place.WalkInMinutes);
        var constants = ((HarmonicTide)site.Place.Tide).Constants;
        Assert.AreEqual(12, constants.Used);
        Assert.AreEqual(1.70, constants.AmplitudeMetres(Constituents.IndexOf("M2")));
        Assert.AreEqual(131.0, constants.PhaseLagDegrees(Constituents.IndexOf("M2")));
        Assert.AreEqual(3.15, constants.MeanLevelMetres);
        Assert.AreEqual(3.4, site.Wish.HighMetres);
        Assert.IsFalse(site.Wish.Evenings);
    }

    [TestMethod]
    [DataRow("site: Gannet Ledge", "site: A name far too long here", "line 2: the name of site is at most 16 plain letters")]
    [DataRow("latitude: 50.20", "latitude: 50,20", "line 4: latitude: '50,20' is no number; write it with a point")]
    [DataRow("latitude: 50.20", "latitude: 95", "line 4: latitude: 95 is outside -90 to 90")]
    [DataRow("latitude: 50.20", "lattitude: 50.20", "line 4: 'lattitude' is not known here; known are site")]
    [DataRow("datum: invented chart datum", "site: Twice", "line 3: site was given in line 2 already")]
    [DataRow("local-time: +00:00", "local-time: GMT", "line 6: local-time is like +01:00")]
    [DataRow("local-time: +00:00", "local-time: +10:00", "h apart; east is positive, west negative: check both signs")]
    [DataRow("walk-in: 35 min", "walk-in: 35", "line 7: walk-in is a number and min")]
    [DataRow("mean-level: 3.15 m", "node-factors: often", "the file ends without mean-level:")]
    [DataRow("S2: 0.57 m 176.0 deg", "S2: 0.57 176.0", "line 12: '0.57 176.0' is not of the form 1.72 m 133.0 deg")]
    [DataRow("S2: 0.57 m 176.0 deg", "M2: 0.57 m 176.0 deg", "line 12: M2 was given already")]
    [DataRow("S2: 0.57 m 176.0 deg", "X2: 0.57 m 176.0 deg", "line 12: 'X2' is none of the 37 constituents")]
    [DataRow("[path]", "[paths]", "line 24: [paths] is no section")]
    [DataRow("floods 3.8 m, walk 12 min", "floods 3.8, walk 12 min", "line 25: 'floods 3.8, walk 12 min, margin 0.4 m' is not of the form")]
    [DataRow("evenings: no", "evenings: perhaps", "line 33: evenings is yes or no")]
    [DataRow("evenings: no", "evenings", "line 33: 'evenings' is not of the form key: value")]
    [DataRow("band: 3.4 to 1.2 m", "band: 3.4-1.2 m", "line 31: '3.4-1.2 m' is not of the form 4.0 to 2.0 m")]
    public void EveryBadLineIsNamed(string good, string bad, string said)
    {
        Assert.Contains(good, DemoSite.Text);
        var e = Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse(DemoSite.Text.Replace(good, bad), "ledge.txt"));
        Assert.StartsWith("ledge.txt, line ", e.Message);
        Assert.Contains(said, e.Message);
    }

    private const string Printed = """
        site: Gannet Ledge
        datum: invented
        latitude: 50
        longitude: -5
        local-time: +01:00
        walk-in: 35 min
        [turns]
        low: 2026-03-07 05:12 0.9 m
        high: 2026-03-07 11:20 5.2 m
        [morning]
        before: 60 min
        after: 60 min
        band: 3 to 1 m
        work: 30 min
        """;

    [TestMethod]
    public void PrintedTurnsAreTakenInLocalTime()
    {
        var tide = (PrintedTide)SiteFile.Parse(Printed, "x").Place.Tide;
        Assert.AreEqual(2, tide.Count);
        Assert.AreEqual(new DateTime(2026, 3, 7, 4, 12, 0), Planner.ToDateTime(tide[0].Time));
        Assert.AreEqual(5.2, tide[1].HeightMetres);
    }

    [TestMethod]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "high: 2026-03-07 04:20 5.2 m", "line 9: Turns must be typed in order of time")]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "high: 2026-02-29 11:20 5.2 m", "line 9: '2026-02-29 11:20 5.2 m' is not of the form")]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "turn: 2026-03-07 11:20 5.2 m", "line 9: a turn starts with high: or low:")]
    [DataRow("walk-in: 35 min", "walk-in: 35 min\nmean-level: 3 m", "line 7: mean-level belongs to [constituents]")]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "", "line 8: one turn makes no tide")]
    public void BadTurnsAreNamed(string good, string bad, string said)
    {
        Assert.Contains(good, Printed);
        var e = Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse(Printed.Replace(good, bad), "x"));
        Assert.Contains(said, e.Message);
    }
}

using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
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
    [DataRow("latitude: 50.20", "latitude: 50,20", "line 4: latitude: '50,20' is not a number; write it with a decimal point")]
    [DataRow("latitude: 50.20", "latitude: 95", "line 4: latitude: 95 is outside -90 to 90")]
    [DataRow("latitude: 50.20", "lattitude: 50.20", "line 4: 'lattitude' is not known here; known are site")]
    [DataRow("datum: invented chart datum", "site: Twice", "line 3: site was already given in line 2")]
    [DataRow("local-time: +00:00", "local-time: GMT", "line 6: local-time is like +01:00")]
    [DataRow("local-time: +00:00", "local-time: +10:00", "h apart; east is positive, west negative: check both signs")]
    [DataRow("walk-in: 35 min", "walk-in: 35", "line 7: walk-in is a number and min")]
    [DataRow("mean-level: 3.15 m", "node-factors: often", "the file ends without mean-level:")]
    [DataRow("S2: 0.57 m 176.0 deg", "S2: 0.57 176.0", "line 12: '0.57 176.0' is not of the form 1.72 m 133.0 deg")]
    [DataRow("S2: 0.57 m 176.0 deg", "M2: 0.57 m 176.0 deg", "line 12: M2 was given already")]
    [DataRow("S2: 0.57 m 176.0 deg", "MU2: 0.57 m 176.0 deg", "line 20: MU2 was given already")]
    [DataRow("MU2: 0.07 m 150.0 deg", "labda2: 0.07 m 150.0 deg\nLAM2: 0.02 m 150.0 deg", "LAM2 is another name of labda2, which was given already")]
    [DataRow("M2: 1.70 m 131.0 deg", "XX2: 1.70 m 131.0 deg\nYY2: 0.3 m 20 deg", "the box would have to leave out too much of the tide: XX2 YY2 (no known name)")]
    [DataRow("M2: 1.70 m 131.0 deg", "M2: 6.70 m 131.0 deg\n2MS6: 0.1 m 20 deg", "M2: beside other names than the 37 of NOAA an amplitude is at most 6.5535 m")]
    [DataRow("[path]", "[paths]", "line 24: [paths] is not a section")]
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

    /// <summary>Who mends a file wants to know everything that is wrong with it, and not to come back for each line.</summary>
    [TestMethod]
    public void EveryMistakeIsToldAtOnceInTheOrderOfTheFile()
    {
        string text = DemoSite.Text;
        foreach (var (good, bad) in new[] { ("latitude: 50.20", "latitude: north"), ("walk-in: 35 min", "walk-in: 35"), ("S2: 0.57 m", "S2: 0.57"), ("walk 12 min", "walk 12"), ("evenings: no", "evenings: perhaps"), ("work: ", "worked: ") })
        {
            Assert.Contains(good, text);
            text = text.Replace(good, bad);
        }
        string[] told = Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse(text, "ledge.txt")).Message.Split('\n');
        string[] wanted =
        [
            "line 4: latitude: 'north' is not a number", "line 7: walk-in is a number and min, like 20 min", "line 12: '0.57 176.0 deg' is not of the form",
            "line 25: 'floods 3.8 m, walk 12, margin 0.4 m' is not of the form", "line 32: 'worked' is not known here", "line 33: evenings is yes or no", "the file ends without work: in [morning]",
        ];
        Assert.AreEqual(wanted.Length, told.Length, string.Join("\n", told));
        for (int i = 0; i < wanted.Length; i++) Assert.Contains("ledge.txt, line ", told[i]);
        for (int i = 0; i < wanted.Length; i++) Assert.Contains(wanted[i], told[i]);
    }

    [TestMethod]
    public void AKeyWithoutAValueIsToldOnce()
    {
        Assert.AreEqual("x, line 4: latitude has no value.", Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse(DemoSite.Text.Replace("latitude: 50.20", "latitude:"), "x")).Message);
    }

    [TestMethod]
    public void AFileOfAnotherKindIsToldInFewLines()
    {
        string[] told = Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse(string.Join('\n', Enumerable.Repeat("a letter", 5000)), "x")).Message.Split('\n');
        Assert.AreEqual(21, told.Length);
        Assert.Contains("more mistakes; is it a site file?", told[^1]);
    }

    [TestMethod]
    public void NamesBeyondThe37AreTaken()
    {
        Site site = SiteFile.Parse(DemoSite.Text.Replace("[path]", "2MS6: 0.194 m 10 deg\neps2: 0.02 m 5 deg\n2(MN)S6: 0.004 m 5 deg\n[path]"), "x");
        var tide = (HarmonicTide)site.Place.Tide;
        Assert.AreEqual(15, tide.Constants.Used);
        Assert.AreEqual(NodeSchedule.Daily, tide.Schedule);
        Assert.AreEqual("", site.LeftOut.Words);
    }

    /// <summary>0.05 m of an unknown tide may be all at once at the flood: with a node factor of 1.4 that is 7 cm.</summary>
    [TestMethod]
    public void AnUnknownNameIsReportedWithItsCostAndTakenOff()
    {
        Site site = SiteFile.Parse(DemoSite.Text.Replace("[path]", "QX7: 0.05 m 10 deg\n[path]"), "x");
        CollectionAssert.AreEqual(new[] { "QX7" }, site.LeftOut.Unknown.ToArray());
        Assert.AreEqual(7, site.LeftOut.Centimetres);
        Assert.IsGreaterThan(2.0, site.LeftOut.Minutes);
        Assert.StartsWith("QX7 (no known name): over a year the height falls short by 7 cm at most, and a flood is called late by ", site.LeftOut.Words);
        Assert.IsGreaterThanOrEqualTo(8, site.Place.AllowanceCentimetres);
    }

    [TestMethod]
    public void OfMoreThanSixtyTheSmallestAreLeftOutAndTold()
    {
        IEnumerable<string> lines = Tests.DeviceBoard.Compare.LargestPlace.Names.Append("2SK5").Append("MK1").Where(n => !DemoSite.Text.Contains("\n" + n + ":")).Select((n, i) => $"{n}: {(n is "2SK5" ? "0.003" : n is "MK1" ? "0.002" : "0.01")} m {i * 37 % 360} deg");
        Site site = SiteFile.Parse(DemoSite.Text.Replace("[path]", string.Join("\n", lines) + "\n[path]"), "x");
        Assert.AreEqual(60, ((HarmonicTide)site.Place.Tide).Constants.Used);
        CollectionAssert.AreEqual(new[] { "2SK5", "MK1" }, site.LeftOut.Small.ToArray());
        Assert.AreEqual(1, site.LeftOut.Centimetres);
        Assert.Contains("(the smallest; the box holds 60)", site.LeftOut.Words);
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

    /// <summary>Heights are read between knots, within half a millimetre: the path is taken to close that much lower.</summary>
    [TestMethod]
    public void TheErrorOfAReadHeightIsTakenOffTheFloodHeight()
    {
        CoastPlace place = DemoSite.Load().Place;
        Assert.AreEqual(0.05, place.AllowanceCentimetres / 100.0);
        Assert.AreEqual(3.8 - 0.4 - 0.05 - 0.0005, place.CutMetres(0), 1e-12);
    }

    /// <summary>A walk is kept in whole minutes, and never as a shorter one.</summary>
    [TestMethod]
    public void AWalkIsRoundedUp()
    {
        Site site = SiteFile.Parse(DemoSite.Text.Replace("walk-in: 35 min", "walk-in: 35.1 min").Replace("walk 12 min", "walk 12.9 min"), "x");
        Assert.AreEqual(36, site.Place.WalkInMinutes);
        Assert.AreEqual(13, Enumerable.Range(0, site.Place.PathCount).Select(i => site.Place.PathPoint(i)).Single(point => point.Name == "Sand neck").WalkMinutes);
    }

    [TestMethod]
    public void PrintedTurnsAreTakenInLocalTime()
    {
        var tide = (PrintedTide)SiteFile.Parse(Printed, "x").Place.Tide;
        Assert.AreEqual(2, tide.Count);
        Assert.AreEqual(new DateTime(2026, 3, 7, 4, 12, 0), Planner.ToDateTime(tide[0].Time));
        Assert.AreEqual(5.2, tide[1].HeightMetres);
    }

    /// <summary>Real tables: Galveston has gaps of 17 to 20 h and of less than 2 h, and neighbours of one printed height.</summary>
    [TestMethod]
    public void LongAndShortGapsOfARealTableAreTaken()
    {
        string table = Printed.Replace("walk-in: 35 min", "walk-in: 35 min\ntide-shape: daily")
            .Replace("high: 2026-03-07 11:20 5.2 m", "high: 2026-03-07 23:20 5.2 m\nlow: 2026-03-08 00:31 5.1 m\nhigh: 2026-03-08 02:20 5.1 m");
        Site site = SiteFile.Parse(table, "x");
        Assert.AreEqual(4, ((PrintedTide)site.Place.Tide).Count);
        Assert.AreEqual(65, site.Place.AllowanceMinutes);
    }

    /// <summary>How a turn stands to a neighbour that could not be read is not known, so it is not called wrong for it.</summary>
    [TestMethod]
    public void OnlyTheTurnsThatAreWrongThemselvesAreTold()
    {
        string text = Printed.Replace("high: 2026-03-07 11:20 5.2 m", "high: later 5.2 m\nlow: 2026-03-08 18:00 0.9 m\nhigh: 2026-03-09 00:10 5.2");
        Assert.AreEqual("9 11", string.Join(' ', Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse(text, "x")).Mistakes.Select(mistake => mistake.Line)));
    }

    [TestMethod]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "high: 2026-03-07 04:20 5.2 m", "line 9: Turns must be typed in order of time")]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "high: 2026-02-29 11:20 5.2 m", "line 9: '2026-02-29 11:20 5.2 m' is not of the form")]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "turn: 2026-03-07 11:20 5.2 m", "line 9: a turn starts with high: or low:")]
    [DataRow("walk-in: 35 min", "walk-in: 35 min\nmean-level: 3 m", "line 7: mean-level is for [constituents] only")]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "high: 2026-03-07 22:20 5.2 m", "line 9: this turn comes more than 16 h after the one before: a pair of turns is missing; where the tide turns once a day, say tide-shape: daily")]
    [DataRow("walk-in: 35 min", "walk-in: 35 min\ntide-shape: round", "line 7: tide-shape is plain")]
    [DataRow("high: 2026-03-07 11:20 5.2 m", "", "line 8: one turn is not enough for a tide")]
    public void BadTurnsAreNamed(string good, string bad, string said)
    {
        Assert.Contains(good, Printed);
        var e = Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse(Printed.Replace(good, bad), "x"));
        Assert.Contains(said, e.Message);
    }
}

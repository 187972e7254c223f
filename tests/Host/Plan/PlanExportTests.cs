using Ical.Net;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Plan;

[TestClass]
public class PlanExportTests
{
    private static readonly Site Demo = DemoSite.Load();
    private static readonly UtcInstant Start = new CivilTime(2026, 3, 1, 12, 0, 0).AsUtc();
    private static readonly IReadOnlyList<Morning> Ranked = Planner.Search(Demo, Start, 60).Ranked;

    /// <summary>Every listed morning is as the list says, checked minute by minute against the tide itself.</summary>
    [TestMethod]
    public void ListedMorningsHoldMinuteByMinute()
    {
        Assert.IsGreaterThan(5, Ranked.Count);
        TideSource tide = Demo.Place.Tide;
        for (int i = 0; i < Ranked.Count; i++)
        {
            Morning m = Ranked[i];
            if (i > 0) Assert.IsLessThanOrEqualTo(Ranked[i - 1].Score, m.Score);
            Assert.IsGreaterThanOrEqualTo(Demo.Wish.WorkMinutes, m.WorkMinutes);
            for (UtcInstant t = m.WorkStart; t <= m.WorkEnd; t = t.PlusMinutes(1))
            {
                Assert.IsLessThan(0.0, tide.RateMetresPerHour(t));
                Assert.IsInRange(Demo.Wish.LowMetres - 1e-9, Demo.Wish.HighMetres + 1e-9, tide.HeightMetres(t));
                Assert.IsLessThanOrEqualTo(3600L, Math.Abs(t.SecondsSince(m.Sun)));
            }
            // Walking in and back, every low point is passed below its limit.
            for (int k = 0; k < Demo.Place.PathCount; k++)
            {
                PathPoint point = Demo.Place.PathPoint(k);
                for (UtcInstant t = m.WorkStart.PlusMinutes(-point.WalkMinutes); t <= m.WorkEnd.PlusMinutes(point.WalkMinutes); t = t.PlusMinutes(1))
                    Assert.IsLessThan(point.LimitMetres, tide.HeightMetres(t), point.Name);
            }
        }
    }

    /// <summary>A place may be named "=1+1": a spreadsheet that opens the list must not take the name for a formula.</summary>
    [TestMethod]
    [DataRow("=1+1")]
    [DataRow("+44")]
    [DataRow("-2")]
    [DataRow("@here")]
    public void ANameThatLooksLikeAFormulaStaysAText(string name)
    {
        Site site = SiteFile.Parse(string.Join('\n', DemoSite.Text.Split('\n').Select(line => line.StartsWith("site:", StringComparison.Ordinal) ? "site: " + name : line)), "demo");
        Assert.AreEqual(name, site.Place.Name);
        var text = new StringWriter();
        PlanCsv.Write(text, site, Planner.Search(site, Start, 60).Ranked);
        StringAssert.Contains(text.ToString(), ",'" + name + ",");
        Assert.IsFalse(text.ToString().Contains("," + name + ",", StringComparison.Ordinal));
    }

    /// <summary>The days that are not listed have no working time of that length, so the search overlooks nothing.</summary>
    [TestMethod]
    public void NoFittingMorningIsOverlooked()
    {
        var listed = Ranked.Select(m => m.Sun.DayNumber).ToHashSet();
        for (int d = 0; d < 60; d++)
        {
            var day = new Coast.Sky.SunDay(Demo.Place.Position, Demo.Place.Offset, Start.PlusDays(d));
            UtcInstant rise = day.Rise.Time;
            if (listed.Contains(rise.DayNumber)) continue;
            int run = 0, longest = 0;
            for (int minute = -60; minute <= 60; minute++)
            {
                UtcInstant t = rise.PlusMinutes(minute);
                double h = Demo.Place.Tide.HeightMetres(t);
                bool fits = Demo.Place.Tide.RateMetresPerHour(t) < 0 && h <= Demo.Wish.HighMetres && h >= Demo.Wish.LowMetres
                    && Enumerable.Range(-25, 51).All(k => Demo.Place.Tide.HeightMetres(t.PlusMinutes(k)) < Demo.Place.LowestCutMetres);
                run = fits ? run + 1 : 0;
                longest = Math.Max(longest, run);
            }
            // Five minutes at each end is the search's own grain.
            Assert.IsLessThan(Demo.Wish.WorkMinutes + 10, longest, Planner.ToDateTime(rise).ToString("u"));
        }
    }

    [TestMethod]
    public void CsvReadsBackWithItsCaution()
    {
        var text = new StringWriter();
        PlanCsv.Write(text, Demo, Ranked);
        string[] lines = text.ToString().TrimEnd().Split('\n');
        Assert.HasCount(Ranked.Count + 1, lines);
        Assert.StartsWith("rank,date,kind,sun_utc,", lines[0]);
        foreach (string line in lines.Skip(1)) Assert.Contains("Official tide tables, the coastguard and local advice come first", line);
        Assert.Contains("2026-", lines[1]);
        Assert.DoesNotContain("safe", text.ToString());
    }

    [TestMethod]
    public void CalendarReadsBackAsRfc5545()
    {
        string text = PlanCalendar.Text(Demo, Ranked, new DateTime(2026, 3, 1, 0, 0, 0, DateTimeKind.Utc));
        Assert.StartsWith("BEGIN:VCALENDAR\r\n", text);
        foreach (string line in text.Split("\r\n")) Assert.IsLessThanOrEqualTo(75, System.Text.Encoding.UTF8.GetByteCount(line), line);
        Calendar calendar = Calendar.Load(text)!;
        Assert.HasCount(Ranked.Count, calendar.Events);
        Assert.AreEqual(Ranked.Count, calendar.Events.Select(e => e.Uid).Distinct().Count());
        for (int i = 0; i < Ranked.Count; i++)
        {
            var e = calendar.Events[i]!;
            Assert.AreEqual(Planner.ToDateTime(Ranked[i].WorkStart), e.DtStart!.AsUtc);
            Assert.AreEqual(Planner.ToDateTime(Ranked[i].WorkEnd), e.DtEnd!.AsUtc);
            Assert.Contains(TideCaution.Full, e.Description!);
            Assert.HasCount(1, e.Alarms);
        }
    }

    [TestMethod]
    public void PicturesHoldTheCurveAndTheCaution()
    {
        string folder = Directory.CreateTempSubdirectory("plan").FullName;
        try
        {
            string svg = Path.Combine(folder, "day.svg"), png = Path.Combine(folder, "day.png");
            var plot = PlanPlot.Day(Demo, Ranked[0].Sun, Ranked[0]);
            PlanPlot.Save(plot, svg);
            PlanPlot.Save(plot, png);
            Assert.Contains("<svg", File.ReadAllText(svg));
            Assert.IsGreaterThan(5_000L, new FileInfo(png).Length);
            Assert.Contains("coastguard", plot.Axes.Bottom.Label.Text);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [TestMethod]
    public void TheCommandPrintsATableAndItsErrors()
    {
        (int code, string output, _) = Run("--from", "2026-03-01", "--days", "60", "--top", "3");
        Assert.AreEqual(0, code);
        Assert.Contains("Gannet Ledge", output);
        Assert.Contains("Leave by", output);
        Assert.Contains("coastguard", output);
        Assert.Contains($"3 of {Ranked.Count} that fit.", output);
        (code, _, string error) = Run("--from", "1 March");
        Assert.AreEqual(2, code);
        Assert.Contains("--from is a day like 2026-03-01", error);
        (code, _, error) = Run("no-such-file.txt");
        Assert.AreEqual(2, code);
        Assert.StartsWith("no-such-file.txt: cannot be read", error);
        string folder = Directory.CreateTempSubdirectory().FullName, file = Path.Combine(folder, "file");
        File.WriteAllText(file, "");
        foreach (string option in new[] { "--csv", "--ics" })
        {
            (code, _, error) = Run("--from", "2026-03-01", "--days", "9", option, folder);
            Assert.AreEqual((2, $"{folder}: cannot be written (that is a folder); choose another name\n"), (code, error));
        }
        (code, _, error) = Run("--from", "2026-03-01", "--days", "9", "--plots", file);
        Assert.AreEqual((2, $"{file}: cannot be written (that is a file); choose another name\n"), (code, error));
        Directory.Delete(folder, recursive: true);
    }

    private static (int Code, string Output, string Error) Run(params string[] arguments)
    {
        var output = new StringWriter();
        var error = new StringWriter();
        int code = PlanCommand.Build().Parse(arguments).Invoke(new System.CommandLine.InvocationConfiguration { Output = output, Error = error });
        return (code, output.ToString(), error.ToString());
    }

    /// <summary>A year across both changes of the clocks: every list and export shows the local time of its own day.</summary>
    [TestMethod]
    public void AYearCrossesBothChangesOfTheClocks()
    {
        string text = DemoSite.Text.Replace("local-time: +00:00", "local-time: +00:00\nclock-changes: 2031-03-30 01:00 UTC +01:00, 2031-10-26 01:00 UTC +00:00");
        Site site = SiteFile.Parse(text, "x");
        var stored = new OfflineBox(SiteImage.Make(site, Planner.FromDateTime(new DateTime(2031, 1, 1)))).Shore.Settings.Place;
        var (ranked, _, _) = Planner.Search(site, Planner.FromDateTime(new DateTime(2031, 1, 1)), 365);
        using var csv = new StringWriter();
        PlanCsv.Write(csv, site, ranked);
        string[] rows = csv.ToString().Split("\r\n", StringSplitOptions.RemoveEmptyEntries)[1..];
        string calendar = PlanCalendar.Text(site, ranked, new DateTime(2031, 1, 1)).Replace("\r\n ", "");
        int summer = 0, winter = 0;
        for (int i = 0; i < ranked.Count; i++)
        {
            DateTime sun = Planner.ToDateTime(ranked[i].Sun);
            bool isSummer = sun >= new DateTime(2031, 3, 30, 1, 0, 0) && sun < new DateTime(2031, 10, 26, 1, 0, 0);
            if (isSummer) summer++;
            else winter++;
            DateTime shown = sun.AddSeconds(30).AddHours(isSummer ? 1 : 0);
            string words = $"sunrise {shown:HH:mm}";
            Assert.Contains(words, rows[i]);
            Assert.Contains($"{shown:yyyy-MM-dd}", rows[i]);
            Assert.AreEqual(shown.ToString("HH:mm"), TimeText.HourMinute(ranked[i].Sun, stored.Offset), "the box shows it");
            Assert.Contains(words, calendar.Replace("\\,", ","));
        }
        Assert.IsGreaterThan(20, summer);
        Assert.IsGreaterThan(20, winter);
        Assert.AreEqual("UTC+00:00, UTC+01:00 from 2031-03-30 01:00 UTC, UTC+00:00 from 2031-10-26 01:00 UTC", Planner.OffsetWords(stored.Offset));
    }
}

using System.Globalization;
using System.Text.RegularExpressions;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Study;

namespace Intervalometer.Tests.Host;

/// <summary>
/// The tables that the study's page publishes: a ragged sea, a swell and the real beach are played again, whole and with the same seeds,
/// and give the same rows; and what the page says of every sea stays within the limits.
/// </summary>
[TestClass]
public partial class StudyPageTests
{
    private static readonly string[] Page = File.ReadAllLines(Path.Combine(Repository.Root, "firmware/VirtualBoard/Study/README.md"));

    private static readonly StudyOptions Again = new()
    {
        TrainingSeeds = [],
        Rows = [SeaStudy.AtOnce, SeaStudy.AfterMark, SeaStudy.Rhythm, SeaStudy.Arrival, SeaStudy.Arrival50, SeaStudy.Vague + SeaStudy.AfterMark, SeaStudy.Vague + SeaStudy.AfterMark + SeaStudy.NotDrilled],
    };

    [TestMethod]
    [DataRow("wind sea 6 s")]
    [DataRow("swell 16 s")]
    [DataRow("traced beach")]
    public void TheRowsOfASeaAreWhatTheStudyGives(string sea)
    {
        StudiedSea played = sea == "traced beach" ? StudiedSea.Traced(Again) : StudiedSea.Of(KnownSeas.All.Single(s => s.Name == sea), Again);
        SeaResult result = new SeaStudy(Again).Play(played);
        CollectionAssert.AreEqual(
            new[] { StudyReport.ExpectedRow(result), StudyReport.ExposuresRow(result), StudyReport.VagueRow(result) },
            Page.Where(line => line.StartsWith($"| {sea} |", StringComparison.Ordinal)).ToArray(),
            $"run sea-study again and take its tables over:{Environment.NewLine}{StudyReport.ExpectedRow(result)}{Environment.NewLine}{StudyReport.ExposuresRow(result)}{Environment.NewLine}{StudyReport.VagueRow(result)}");
    }

    [TestMethod]
    public void OnEverySeaOfThePageTheRecommendedWayIsAnnouncedToFivePoints()
    {
        string[] seas = [.. KnownSeas.All.Select(s => s.Name), .. KnownSeas.Shallow.Select(s => s.Name), "traced beach"];
        string[][] rows = TableWith("**mark, a little later**");
        CollectionAssert.AreEqual(seas, rows.Select(r => r[0]).ToArray(), "every sea of both solvers and the real beach");
        foreach (string[] row in rows)
        {
            var (happened, announced) = HappenedAndAnnounced(row[7].Trim('*'));
            Assert.AreEqual(announced, happened, 5, row[0]);
        }
    }

    [TestMethod]
    public void InEveryClassOfThePageWithEnoughFramesTheChanceIsAnnouncedToEightPoints()
    {
        string[][] rows = TableWith("every turn marked");
        Assert.HasCount(10, rows);
        int judged = 0;
        foreach (string[] row in rows)
        {
            foreach (string cell in row[1..3])
            {
                Match m = Class().Match(cell);
                if (!m.Success) continue;
                if (int.Parse(m.Groups[3].Value, CultureInfo.InvariantCulture) < StudyReport.FewestFrames) continue;
                judged++;
                Assert.AreEqual(double.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture), double.Parse(m.Groups[2].Value, CultureInfo.InvariantCulture), 8, $"{row[0]}: {cell}");
            }
        }
        Assert.IsTrue(judged >= 15, $"{judged} classes have frames enough");
    }

    private static (double Happened, double Announced) HappenedAndAnnounced(string cell)
    {
        Match m = Cell().Match(cell);
        Assert.IsTrue(m.Success, cell);
        return (double.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture), double.Parse(m.Groups[2].Value, CultureInfo.InvariantCulture));
    }

    // The rows of the table in whose heading a column stands.
    private static string[][] TableWith(string column)
    {
        int head = Array.FindIndex(Page, line => line.StartsWith('|') && line.Contains(column, StringComparison.Ordinal));
        Assert.IsTrue(head >= 0, $"no table has a column {column}");
        return [.. Page.Skip(head + 2).TakeWhile(line => line.StartsWith('|')).Select(line => line.Trim('|').Split('|').Select(c => c.Trim()).ToArray())];
    }

    [GeneratedRegex(@"^(\d+) \((\d+)\)$")]
    private static partial Regex Cell();

    [GeneratedRegex(@"^([\d.]+) / ([\d.]+) of (\d+)$")]
    private static partial Regex Class();
}

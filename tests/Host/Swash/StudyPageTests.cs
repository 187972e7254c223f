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
        Rows = [SeaStudy.AtOnce, SeaStudy.AfterMark, SeaStudy.Rhythm, SeaStudy.Arrival, SeaStudy.Arrival50, SeaStudy.Card, SeaStudy.Vague + SeaStudy.Card],
    };

    [TestMethod]
    [DataRow("wind sea 6 s")]
    [DataRow("swell 16 s")]
    [DataRow("traced beach")]
    public void TheRowsOfASeaAreWhatTheStudyGives(string sea)
    {
        StudiedSea played = sea == "traced beach" ? StudiedSea.Traced(Again) : StudiedSea.Of(KnownSeas.All.Single(s => s.Name == sea), Again);
        SeaResult result = new SeaStudy(Again).Play(played);
        string[] rows =
        [
            StudyReport.ExpectedRow(result), StudyReport.CardRow(result, ""), StudyReport.CardRow(result, SeaStudy.Vague), StudyReport.ExposuresRow(result), .. StudyReport.FiredAnywayRows(result),
        ];
        CollectionAssert.IsSubsetOf(rows, Page.Where(line => line.StartsWith($"| {sea}", StringComparison.Ordinal)).ToArray(),
            "run sea-study again and take its tables over:" + Environment.NewLine + string.Join(Environment.NewLine, rows));
    }

    /// <summary>
    /// What is announced and what happens may be 5 points apart. The cells that miss this are named with how far they miss it, so that no other
    /// one may and these may get no worse: of an uneven hand on the real beach and in the 16 s swell, the outings that the card found short enough were the lucky ones.
    /// </summary>
    [TestMethod]
    [DataRow("| as the card recommends, exposure", 40, "", 0, 0, "", 0, 0)]
    [DataRow("| an uneven hand, as the card recommends, exposure", 40, "traced beach", 3, 8, "swell 16 s", 4, 22)]
    public void OnEverySeaOfThePageTheChanceIsNotFurtherOffThanThePageSays(string table, int least, string firstSea, int firstColumn, int firstLimit, string secondSea, int secondColumn, int secondLimit)
    {
        string[] seas = [.. KnownSeas.All.Select(s => s.Name), .. KnownSeas.Shallow.Select(s => s.Name), "traced beach"];
        string[][] rows = TableWith(table);
        CollectionAssert.AreEqual(seas, rows.Select(r => r[0]).ToArray(), "every sea of both solvers and the real beach");
        int judged = 0;
        foreach (string[] row in rows)
        {
            Assert.HasCount(5, row);
            for (int column = 1; column < row.Length; column++)
            {
                if (row[column].StartsWith("too ", StringComparison.Ordinal)) continue;
                var (happened, announced) = HappenedAndAnnounced(row[column]);
                int tooHigh = (row[0], column) == (firstSea, firstColumn) ? firstLimit : (row[0], column) == (secondSea, secondColumn) ? secondLimit : 5;
                Assert.IsTrue(announced - happened <= tooHigh && happened - announced <= 5, $"{row[0]}: {row[column]}");
                judged++;
            }
        }
        Assert.IsTrue(judged >= least, $"{judged} cells");
    }

    [TestMethod]
    public void InEveryClassOfThePageWithEnoughFramesTheChanceIsAtMostEightPointsOff()
    {
        string[][] rows = TableWith("every turn marked");
        Assert.HasCount(10, rows);
        int judged = 0;
        foreach (string[] row in rows)
        {
            Assert.HasCount(4, row);
            foreach (Match m in row[1..].Select(cell => Class().Match(cell)).Where(m => m.Success && int.Parse(m.Groups[3].Value, CultureInfo.InvariantCulture) >= StudyReport.FewestFrames))
            {
                judged++;
                double excess = double.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture) - double.Parse(m.Groups[2].Value, CultureInfo.InvariantCulture);
                Assert.IsTrue(Math.Abs(excess) <= 8, $"{row[0]}: {m.Value}");
            }
        }
        Assert.IsTrue(judged >= 20, $"{judged} classes have frames enough");
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

    [GeneratedRegex(@"^(\d+) \((\d+)\)( in \d+ of \d+)?$")]
    private static partial Regex Cell();

    [GeneratedRegex(@"^([\d.]+) / ([\d.]+) of (\d+)$")]
    private static partial Regex Class();
}

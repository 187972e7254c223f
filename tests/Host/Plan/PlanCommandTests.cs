using System.Globalization;
using Intervalometer.VirtualBoard.Cli;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Plan;

/// <summary>The plan as typed in the README: into a folder that is not there yet, with the caution on every export.</summary>
[TestClass]
public class PlanCommandTests
{
    [TestMethod]
    public void EveryExportIsWrittenIntoANewFolderWithItsCaution()
    {
        string folder = Path.Combine(Directory.CreateTempSubdirectory("plan").FullName, "out");
        try
        {
            var output = new StringWriter();
            var error = new StringWriter();
            int code = CommandLine.Run(["plan", "--from", "2031-03-14", "--days", "10", "--csv", Path.Combine(folder, "m.csv"), "--ics", Path.Combine(folder, "m.ics"), "--plots", Path.Combine(folder, "plots")], output, error);
            Assert.AreEqual(0, code, error.ToString());
            StringAssert.Contains(File.ReadAllText(Path.Combine(folder, "m.csv")), "coastguard");
            StringAssert.Contains(File.ReadAllText(Path.Combine(folder, "m.ics")).Replace("\r\n ", ""), "coastguard");
            Assert.IsTrue(Directory.GetFiles(Path.Combine(folder, "plots")).Length > 0);
            Assert.AreEqual(0, Directory.GetFiles(folder, "*.part").Length);
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(folder)!, true);
        }
    }

    /// <summary>A year of mornings and evenings under a law of summer time: every one is in the exports, with the local time of its own day.</summary>
    [TestMethod]
    public void AYearOfMorningsAndEveningsIsExportedWholeInTheLocalTimeOfEachDay()
    {
        string folder = Directory.CreateTempSubdirectory("plan").FullName;
        try
        {
            string site = Path.Combine(folder, "site.txt");
            File.WriteAllText(site, DemoSite.Text.Replace("local-time: +00:00", "local-time: +00:00\nclock-changes: Directive 2000/84/EC")
                .Replace("evenings: no", "evenings: yes").Replace("band: 3.4 to 1.2 m", "band: 6 to 0 m").Replace("work: 40 min", "work: 5 min").Replace("floods 3.8 m", "floods 9 m").Replace("floods 4.4 m", "floods 9 m"));
            using StringWriter output = new(), error = new();
            string csv = Path.Combine(folder, "m.csv"), ics = Path.Combine(folder, "m.ics");
            Assert.AreEqual(0, CommandLine.Run(["plan", site, "--from", "2031-01-01", "--days", "366", "--csv", csv, "--ics", ics], output, error), error.ToString());
            string[] rows = File.ReadAllLines(csv)[1..];
            Assert.IsGreaterThan(400, rows.Length);
            Assert.AreEqual(rows.Length, File.ReadLines(ics).Count(line => line == "BEGIN:VEVENT"));
            Assert.AreEqual(rows.Length, File.ReadLines(ics).Where(line => line.StartsWith("UID:", StringComparison.Ordinal)).Distinct().Count(), "a morning and the evening after it");
            // The same law in the tz database, for a zone without an offset in winter.
            TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/London");
            foreach (string row in rows)
            {
                string[] cells = row.Split(',');
                DateTime Local(string utc) => TimeZoneInfo.ConvertTimeFromUtc(DateTime.Parse(utc, CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal), zone);
                Assert.AreEqual(Local(cells[3]).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), cells[1], row);
                StringAssert.Contains(row, Local(cells[6]).AddSeconds(30).ToString("HH:mm", CultureInfo.InvariantCulture), row);
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }
}

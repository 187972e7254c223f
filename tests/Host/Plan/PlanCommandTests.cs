using Intervalometer.VirtualBoard.Cli;

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
}

using System.Text.RegularExpressions;

namespace Intervalometer.Tests.Hardware;

/// <summary>What KiCad says of the schematic: its rule check, its netlist and its picture.</summary>
[TestClass]
public class KicadTests
{
    private static string _good = "";
    private static string _broken = "";

    [ClassInitialize]
    public static void Drive(TestContext _)
    {
        Repo.Need("eeschema", "kicad");
        Repo.Need("Xvfb", "xvfb");
        Repo.Need("xdotool", "xdotool");
        Repo.Need("openbox", "openbox");
        _good = Kicad(text => text);
        // A wire of the shutter coupler is lost and an open pin loses its mark: the check must see both.
        _broken = Kicad(text =>
        {
            text = Regex.Replace(text, @"\(label ""CAM_SHUTTER""[^\n]*\n", "", RegexOptions.None);
            return new Regex(@"\(no_connect[^\n]*\n").Replace(text, "", 1);
        });
    }

    [TestMethod]
    public void TheRuleCheckIsClean()
    {
        var report = File.ReadAllText(Path.Combine(_good, "ERC.rpt"));
        Assert.Contains("ERC messages: 0  Errors 0  Warnings 0", report);
    }

    [TestMethod]
    public void TheRuleCheckSeesABrokenSheet()
    {
        var report = File.ReadAllText(Path.Combine(_broken, "ERC.rpt"));
        Assert.IsTrue(Regex.IsMatch(report, @"Errors [1-9]"), report);
    }

    [TestMethod]
    public void TheNetlistIsTheTable()
    {
        var expected = Repo.Circuit.Nets.Select(n => $"{n.Key}: {string.Join(" ", n.Select(p => p.Key).Order(StringComparer.Ordinal))}").Order(StringComparer.Ordinal).ToList();
        CollectionAssert.AreEqual(expected, Nets(_good));
        CollectionAssert.AreNotEqual(expected, Nets(_broken), "the comparison sees a lost label");
    }

    [TestMethod]
    public void TheCommittedPictureIsThePlot()
    {
        var plotted = File.ReadAllText(Path.Combine(_good, "intervalometer.svg"));
        Assert.AreEqual(plotted, File.ReadAllText(Path.Combine(Repo.Folder, "pictures", "schematic.svg")), "run hardware/tools/kicad-run.sh and copy its plot to hardware/pictures/schematic.svg");
    }

    private static List<string> Nets(string folder)
    {
        var text = File.ReadAllText(Path.Combine(folder, "intervalometer.net"));
        return Regex.Matches(text, @"\(net \(code ""\d+""\) \(name ""([^""]*)""\)(.*?)(?=\(net \(code|\z)", RegexOptions.Singleline)
            .Where(m => !m.Groups[1].Value.StartsWith("unconnected-", StringComparison.Ordinal))
            .Select(m => $"{m.Groups[1].Value.TrimStart('/')}: {string.Join(" ", Regex.Matches(m.Groups[2].Value, @"\(node \(ref ""([^""]*)""\) \(pin ""(\d+)""\)").Select(n => $"{n.Groups[1].Value}.{n.Groups[2].Value}").Order(StringComparer.Ordinal))}")
            .Order(StringComparer.Ordinal).ToList();
    }

    private static string Kicad(Func<string, string> change)
    {
        var project = Directory.CreateTempSubdirectory("kicad-project").FullName;
        foreach (var file in Directory.GetFiles(Path.Combine(Repo.Folder, "kicad")))
        {
            File.Copy(file, Path.Combine(project, Path.GetFileName(file)));
        }

        var schematic = Path.Combine(project, "intervalometer.kicad_sch");
        var before = File.ReadAllText(schematic);
        File.WriteAllText(schematic, change(before));
        var result = Directory.CreateTempSubdirectory("kicad-result").FullName;
        // Keys sent to a window on a busy machine may come before it is ready: the drive, not the check, is tried again.
        var output = "";
        for (var attempt = 1; attempt <= 3; attempt++)
        {
            (var code, output) = Repo.Run("bash", Path.Combine(Repo.Folder, "tools", "kicad-run.sh"), schematic, result);
            if (code == 0) return result;
        }
        throw new AssertFailedException($"KiCad left no report in three attempts:\n{output}");
    }
}

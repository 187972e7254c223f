namespace Intervalometer.Tests.Hardware;

/// <summary>The committed files are those that the tables give, byte for byte.</summary>
[TestClass]
public class GeneratedTests
{
    [TestMethod]
    public void CommittedFilesAreTheGeneratedOnes()
    {
        foreach (var (file, text) in Outputs.All(Repo.Root))
        {
            var path = Path.Combine(Repo.Root, file);
            Assert.IsTrue(File.Exists(path), $"{file} is missing; run dotnet run --project hardware/Generator");
            Assert.AreEqual(text, File.ReadAllText(path), $"{file} is stale; run dotnet run --project hardware/Generator");
        }
    }

    [TestMethod]
    public void GeneratingTwiceGivesTheSameBytes()
    {
        var (first, second) = (Outputs.All(Repo.Root), Outputs.All(Repo.Root));
        CollectionAssert.AreEqual(first.Keys.ToList(), second.Keys.ToList());
        CollectionAssert.AreEqual(first.Values.ToList(), second.Values.ToList());
    }

    [TestMethod]
    public void EveryReferenceIsOnExactlyOneLineOfThePartsList()
    {
        var listed = Table.Read(Repo.Folder, "bom.csv").SelectMany(r =>
        {
            var references = r["references"].Split(' ', StringSplitOptions.RemoveEmptyEntries);
            Assert.IsTrue(references.Length == 0 || references.Length.ToString() == r["quantity"], $"{r["references"]}: quantity {r["quantity"]}");
            return references;
        }).Order(StringComparer.Ordinal).ToList();
        CollectionAssert.AreEqual(Repo.Circuit.References.Order(StringComparer.Ordinal).ToList(), listed);
    }

    [TestMethod]
    public void EveryPartSaysWhatToOrderAndWhatMayReplaceIt()
    {
        foreach (var part in Repo.Circuit.References.Select(Repo.Circuit.PartOf).Distinct())
        {
            Assert.IsGreaterThan(3, part.Order.Length, part.Name);
            Assert.IsGreaterThan(3, part.Substitute.Length, part.Name);
            Assert.IsTrue(part.Price > 0 || part.Kind == "test-pad", $"{part.Name} has no price");
        }
    }

    [TestMethod]
    public void NoFrameOfTheSheetRunsThroughASymbol()
    {
        static double D(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
        var seen = 0;
        foreach (var row in Table.Read(Repo.Folder, "sheet.csv").Where(r => !r["reference"].StartsWith('#')))
        {
            var symbol = Symbols.For(Repo.Circuit.PartOf(row["reference"]), Repo.Circuit.PinsOf(row["reference"]));
            var turned = row["rotation"] is "90" or "270";
            var (w, h) = turned ? (symbol.HalfHeight, symbol.HalfWidth) : (symbol.HalfWidth, symbol.HalfHeight);
            foreach (var f in Table.Read(Repo.Folder, "sheet-frames.csv"))
            {
                var (x, y) = (D(row["x"]), D(row["y"]));
                var (left, top, right, bottom) = (D(f["x"]), D(f["y"]), D(f["x"]) + D(f["width"]), D(f["y"]) + D(f["height"]));
                var across = y + h > top && y - h < bottom && new[] { left, right }.Any(e => x - w < e && e < x + w);
                var along = x + w > left && x - w < right && new[] { top, bottom }.Any(e => y - h < e && e < y + h);
                Assert.IsFalse(across || along, $"the frame of {f["title"]} runs through {row["reference"]}");
                seen++;
            }
        }

        Assert.IsGreaterThan(500, seen);
    }

    [TestMethod]
    public void EveryFactNamesItsSource()
    {
        foreach (var fact in Repo.Facts.Names)
        {
            Assert.IsGreaterThan(5, Repo.Facts.Source(fact).Length, fact);
        }
    }

    [TestMethod]
    public void EveryLinkOfTheReadmeLeadsSomewhere()
    {
        var text = File.ReadAllText(Path.Combine(Repo.Folder, "README.md"));
        var links = System.Text.RegularExpressions.Regex.Matches(text, @"\]\(([^)#:]+)\)").Select(m => m.Groups[1].Value).ToList();
        Assert.IsGreaterThan(5, links.Count);
        foreach (var link in links)
        {
            Assert.IsTrue(Path.Exists(Path.Combine(Repo.Folder, link)), $"README.md links to {link}");
        }
    }
}

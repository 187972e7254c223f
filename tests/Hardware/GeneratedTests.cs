namespace Intervalometer.Tests.Hardware;

/// <summary>What is committed is what the tables give, byte for byte.</summary>
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
        }
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

using Intervalometer.Tests.Host.Architecture;

namespace Intervalometer.Tests.Host.Recipes;

/// <summary>
/// Follows the recipes of DEVELOPERS.md on a copy of the sources, in the files that the text names and no others, builds
/// the copy, and runs its tests: the new card, filter kind, chip and stored value work through the buttons and come back
/// after a restart, and no older test breaks. This builds the copy and runs the tests of the screens and the store, which takes one to three minutes or more.
/// </summary>
[TestClass]
public class RecipeTests
{
    private static readonly Edit[] Edits =
    [
        new("Add a screen", "firmware/Screens/Cards/ExampleCard.cs", "firmware/Screens/Cards", "ExampleCard.cs.txt"),
        new("Add a screen", "firmware/Screens/Nav/FrontPanel.cs", "firmware/Screens/Nav/FrontPanel.cs", "            _waves,\n", "            _waves,\n            new ExampleCard(settings),\n"),
        new("Add a filter kind", "firmware/Core/Exposure/FilterKind.cs", "firmware/Core/Exposure/FilterKind.cs", "    Other = 5,\n", "    Other = 5,\n\n    /// <summary>Scatters the lights.</summary>\n    Mist = 6,\n"),
        new("Add a filter kind", "firmware/Core/Exposure/FilterKind.cs", "firmware/Core/Exposure/FilterKind.cs", "FilterKind.Other => \"other\",\n", "FilterKind.Other => \"other\",\n        FilterKind.Mist => \"mist\",\n"),
        new("Add a filter kind", "firmware/BoardModel/Scenario/FilterNotation.cs", "firmware/BoardModel/Scenario/FilterNotation.cs", "        string bare = text.Trim();\n", "        string bare = text.Trim();\n        if (bare.StartsWith(\"MIST \", StringComparison.Ordinal))\n        {\n            filter = Named(bare, FilterKind.Mist, FilterScale.Density, Hundredths(bare[5..]));\n            return true;\n        }\n"),
        new("Add a chip", "firmware/Drivers/Example/ExampleChip.cs", "firmware/Drivers", "ExampleChip.cs.txt"),
        new("Add a chip", "firmware/BoardModel/Example/ExampleModel.cs", "firmware/BoardModel", "ExampleModel.cs.txt"),
        new("Add a stored value", "firmware/Settings/BoxSettings.cs", "", "    /// <summary>Display brightness, 0 to 10.</summary>\n", "    /// <summary>A number to be kept.</summary>\n    public int Example { get; set; }\n\n    /// <summary>Display brightness, 0 to 10.</summary>\n"),
        new("Add a stored value", "firmware/Settings/Store/SettingsRecord.cs", "firmware/Settings/Store", "        bytes.Put(waves.Minutes, 1);\n", "        bytes.Put(waves.Minutes, 1);\n        bytes.Put(settings.Example, 1);\n"),
        new("Add a stored value", "firmware/Settings/Store/SettingsRecord.cs", "firmware/Settings/Store", "        TakeWaves(settings.Waves, bytes);\n", "        TakeWaves(settings.Waves, bytes);\n        settings.Example = bytes.TakeInt(1, 0, 200, settings.Example);\n"),
        new("", "tests/Host/Example/ExampleTests.cs", "", "ExampleTests.cs.txt"),
    ];

    // The tests of cards, filter kinds and records. This test itself is left out, because it would start again without end.
    private const string Judges = "FullyQualifiedName~Tests.Host.Example|FullyQualifiedName~Tests.Host.Screens|FullyQualifiedName~Tests.Host.Panel|FullyQualifiedName~KeeperAllocation|FullyQualifiedName~PowerCut|FullyQualifiedName~Faults.ScreenFault";

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void TheRecipesOfTheTextAreWhatTheyTake()
    {
        using var copy = new SourceCopy("recipes-");
        string text = File.ReadAllText(Repository.At("DEVELOPERS.md")).ReplaceLineEndings("\n");
        foreach (Edit edit in Edits)
        {
            if (edit.Named.Length > 0) Assert.Contains(edit.Named, Recipe(text, edit.Recipe), $"\"{edit.Recipe}\" does not name {edit.Named}");
            edit.Make(copy.Folder);
        }
        copy.Run("build", "tests/Host", "-v", "q", "-clp:ErrorsOnly", "-nodeReuse:false");
        string told = copy.Run("test", "tests/Host", "--no-build", "--filter", Judges);
        TestContext.WriteLine(told);
        Assert.Contains("Failed:     0", told);
    }

    // From its bold name to the next one.
    private static string Recipe(string text, string name)
    {
        int from = text.IndexOf($"- **{name}**", StringComparison.Ordinal);
        Assert.IsGreaterThanOrEqualTo(0, from, $"DEVELOPERS.md has no recipe \"{name}\"");
        int until = text.IndexOf("\n- **", from + 1, StringComparison.Ordinal);
        return text[from..(until < 0 ? text.Length : until)];
    }

    /// <summary>One change of a recipe: a new file from the examples, or words in a file that are replaced.</summary>
    /// <param name="Recipe">The recipe's name in DEVELOPERS.md.</param>
    /// <param name="File">The file that is changed or made.</param>
    /// <param name="Named">What the recipe must name for it; empty for what follows from it without being said.</param>
    /// <param name="Old">The words that are there, or the example's name for a new file.</param>
    /// <param name="New">The words that come in their place; null for a new file.</param>
    private sealed record Edit(string Recipe, string File, string Named, string Old, string? New = null)
    {
        public void Make(string copy)
        {
            string path = Path.Combine(copy, File);
            if (New == null)
            {
                Directory.CreateDirectory(Path.GetDirectoryName(path)!);
                System.IO.File.Copy(Path.Combine(copy, "tests/Host/Recipes/Example", Old), path);
                return;
            }
            string text = System.IO.File.ReadAllText(path).ReplaceLineEndings("\n");
            Assert.AreEqual(2, text.Split(Old).Length, $"{File}: \"{Old.Trim()}\" must stand there once");
            System.IO.File.WriteAllText(path, text.Replace(Old, New, StringComparison.Ordinal));
        }
    }
}

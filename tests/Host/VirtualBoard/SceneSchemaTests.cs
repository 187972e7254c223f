using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Scenario;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The schema for editors agrees with the reader of scenarios: the same names, the same ranges, the same words to choose from.</summary>
[TestClass]
public class SceneSchemaTests
{
    private static readonly JsonElement Schema = JsonDocument.Parse(File.ReadAllText(Repository.At("firmware/VirtualBoard/Examples/scenario.schema.json"))).RootElement;

    // Each kind of object within a scenario that is otherwise right.
    private static readonly Dictionary<string, (string Json, Func<JsonObject, JsonObject> Inside)> Around = new()
    {
        [""] = ("""{ "endAt": 100 }""", root => root),
        ["filter"] = ("""{ "endAt": 100, "kit": [ { "printed": "ND 1.8" } ] }""", root => First(root, "kit")),
        ["metered"] = ("""{ "endAt": 100, "metered": { "shutter": "1/60", "aperture": "f/8" } }""", root => root["metered"]!.AsObject()),
        ["camera"] = ("""{ "endAt": 100, "camera": { "dial": "timed", "dialSeconds": 1 } }""", root => root["camera"]!.AsObject()),
        ["battery"] = ("""{ "endAt": 100, "battery": { "millivolts": 4000 } }""", root => root["battery"]!.AsObject()),
        ["sea"] = ("""{ "endAt": 100, "sea": { "kind": "steady" } }""", root => root["sea"]!.AsObject()),
        ["sky"] = ("""{ "endAt": 100, "sky": { "kind": "clear" } }""", root => root["sky"]!.AsObject()),
        ["press"] = ("""{ "endAt": 100, "presses": [ { "button": "up", "at": 1 } ] }""", root => First(root, "presses")),
        ["press of a turn"] = ("""{ "endAt": 100, "presses": [ { "button": "up", "everyTurn": true } ] }""", root => First(root, "presses")),
        ["dial"] = ("""{ "endAt": 100, "dials": [ { "at": 1, "dial": "timed", "dialSeconds": 1 } ] }""", root => First(root, "dials")),
        ["picture"] = ("""{ "endAt": 100, "pictures": [ { "at": 1, "name": "one" } ] }""", root => First(root, "pictures")),
        ["step"] = ("""{ "endAt": 100, "steps": [ { "at": 1, "title": "One", "words": "Words." } ] }""", root => First(root, "steps")),
    };

    public static IEnumerable<object[]> Kinds => Schema.GetProperty("$defs").EnumerateObject().Select(d => d.Name).Prepend("").Select(k => new object[] { k });

    [TestMethod]
    [DynamicData(nameof(Kinds))]
    public void TheSameNamesAreKnown(string kind)
    {
        IEnumerable<string> known = Known(kind);
        if (kind == "press") known = known.Union(Known("press of a turn"));
        Assert.AreEqual(string.Join(" ", known.Order(StringComparer.Ordinal)), string.Join(" ", Properties(kind).Select(p => p.Name).Order(StringComparer.Ordinal)));
    }

    [TestMethod]
    [DynamicData(nameof(Kinds))]
    public void TheSameRangesHold(string kind)
    {
        foreach (JsonProperty property in Properties(kind).Where(p => p.Value.TryGetProperty("minimum", out _)))
        {
            double least = property.Value.GetProperty("minimum").GetDouble(), most = property.Value.GetProperty("maximum").GetDouble();
            bool ofTurn = kind == "press" && property.Name is "from" or "count" or "reactionMs";
            string around = ofTurn ? "press of a turn" : kind;
            // What lies in the run ends with the run, which is shorter than a day here.
            bool inRun = most == SceneFile.LongestSeconds && property.Name != "endAt";
            JsonObject What(double value) => With(around, inside => inside[property.Name] = value);
            Assert.IsNull(Complaint(What(least)), $"{kind}.{property.Name} {least}");
            if (!inRun) Assert.IsNull(Complaint(What(most)), $"{kind}.{property.Name} {most}");
            bool whole = property.Value.GetProperty("type").GetString() == "integer";
            double step = whole ? 1 : Math.Max(1e-6, Math.Abs(most) * 1e-3);
            Assert.IsNotNull(Complaint(What(most + step)), $"{kind}.{property.Name} {most + step}");
            Assert.IsNotNull(Complaint(What(whole ? least - 1 : least - 1e-5)), $"{kind}.{property.Name} below {least}");
        }
    }

    [TestMethod]
    public void TheSameWordsAreToChooseFrom()
    {
        foreach (var (of, kinds) in new[] { ("sea", SeaChoice.Kinds), ("sky", SkyChoice.Kinds) })
        {
            string[] words = [.. Schema.GetProperty("$defs").GetProperty(of).GetProperty("properties").GetProperty("kind").GetProperty("enum").EnumerateArray().Select(e => e.GetString()!)];
            CollectionAssert.AreEqual(kinds.ToArray(), words, of);
        }
        foreach (JsonElement button in Schema.GetProperty("$defs").GetProperty("press").GetProperty("properties").GetProperty("button").GetProperty("enum").EnumerateArray())
            Assert.IsNull(Complaint(With("press", inside => inside["button"] = button.GetString())));
    }

    [TestMethod]
    [DynamicData(nameof(Kinds))]
    public void WhatIsRequiredIsMissed(string kind)
    {
        JsonElement of = Of(kind);
        if (!of.TryGetProperty("required", out JsonElement required)) return;
        foreach (JsonElement name in required.EnumerateArray())
            Assert.IsNotNull(Complaint(With(kind, inside => inside.Remove(name.GetString()!))), $"{kind}.{name}");
    }

    [TestMethod]
    public void AScenarioMayNameTheSchema() => Assert.IsNull(Complaint(With("", root => root["$schema"] = "scenario.schema.json")));

    private static JsonElement Of(string kind) => kind == "" ? Schema : Schema.GetProperty("$defs").GetProperty(kind);

    private static JsonProperty[] Properties(string kind) => [.. Of(kind).GetProperty("properties").EnumerateObject()];

    // The reader names what it knows when it is given what it does not know.
    private static string[] Known(string kind)
    {
        string said = Complaint(With(kind, inside => inside["nothingOfTheKind"] = 1))!;
        return said[(said.LastIndexOf("; use ", StringComparison.Ordinal) + 6)..].Split(", ");
    }

    private static JsonObject With(string kind, Action<JsonObject> change)
    {
        var (json, inside) = Around[kind];
        JsonObject root = JsonNode.Parse(json)!.AsObject();
        change(inside(root));
        return root;
    }

    private static JsonObject First(JsonObject root, string list) => root[list]![0]!.AsObject();

    private static string? Complaint(JsonObject scene)
    {
        try
        {
            SceneReader.Parse("scene.json", Encoding.UTF8.GetBytes(scene.ToJsonString()));
            return null;
        }
        catch (SceneFileException e)
        {
            return e.Message;
        }
    }
}

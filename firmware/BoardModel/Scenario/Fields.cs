using System.Globalization;
using System.Text.Json;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>Reads the properties of one JSON object one by one; <see cref="Done"/> reports any property that was not read.</summary>
internal sealed class Fields
{
    private readonly JsonNode _object;
    private readonly string _what;
    private readonly List<string> _asked = [];

    public Fields(JsonNode node, string what)
    {
        if (node.Kind != JsonTokenType.StartObject) throw node.Fault($"{what} is {node.Words}", "write an object in { }");
        _object = node;
        _what = what;
    }

    public JsonNode? Get(string name)
    {
        if (!_asked.Contains(name)) _asked.Add(name);
        return _object.Members.Find(m => m.Name == name).Value;
    }

    public JsonNode Need(string name) => Get(name) ?? throw _object.Fault($"{_what} has no \"{name}\"", "add it");

    public double? Number(string name, double low, double high, string unit)
    {
        JsonNode? node = Get(name);
        if (node is null) return null;
        if (node.Kind != JsonTokenType.Number) throw node.Fault($"\"{name}\" is {node.Words}", "write a number");
        if (node.Number < low || node.Number > high)
            throw node.Fault($"\"{name}\" is {node.Text}", string.Create(CultureInfo.InvariantCulture, $"use {low} to {high}{(unit.Length > 0 ? " " + unit : "")}"));
        return node.Number;
    }

    public double NeedNumber(string name, double low, double high, string unit)
    {
        Need(name);
        return Number(name, low, high, unit)!.Value;
    }

    public long? Whole(string name, long low, long high)
    {
        double? value = Number(name, low, high, "");
        if (value is double v && v != Math.Floor(v)) throw Get(name)!.Fault($"\"{name}\" is {Get(name)!.Text}", "use a whole number");
        return (long?)value;
    }

    public string? Text(string name)
    {
        JsonNode? node = Get(name);
        if (node is null) return null;
        if (node.Kind != JsonTokenType.String) throw node.Fault($"\"{name}\" is {node.Words}", "write a text in \" \"");
        return node.Text;
    }

    public string NeedText(string name)
    {
        Need(name);
        return Text(name)!;
    }

    public bool Flag(string name)
    {
        JsonNode? node = Get(name);
        if (node is null) return false;
        if (node.Kind is not (JsonTokenType.True or JsonTokenType.False)) throw node.Fault($"\"{name}\" is {node.Words}", "write true or false");
        return node.Kind == JsonTokenType.True;
    }

    public IReadOnlyList<JsonNode> List(string name)
    {
        JsonNode? node = Get(name);
        if (node is null) return [];
        if (node.Kind != JsonTokenType.StartArray) throw node.Fault($"\"{name}\" is {node.Words}", "write a list in [ ]");
        return node.Items;
    }

    /// <summary>The index of one of the given words, in any letter case; null when the property is absent.</summary>
    public int? Choice(string name, params string[] words)
    {
        string? text = Text(name);
        if (text is null) return null;
        int index = Array.FindIndex(words, w => w.Equals(text, StringComparison.OrdinalIgnoreCase));
        if (index < 0) throw Get(name)!.Fault($"unknown {name} \"{text}\"", $"use {string.Join(", ", words)}");
        return index;
    }

    public void Done()
    {
        foreach (var (name, line, _) in _object.Members)
        {
            if (!_asked.Contains(name))
                throw new SceneFileException($"{_object.File}: line {line}: unknown property \"{name}\" in {_what}; use {string.Join(", ", _asked)}");
        }
    }
}

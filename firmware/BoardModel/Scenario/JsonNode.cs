using System.Text.Json;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>A JSON value that knows its line, so that an error message can name it.</summary>
internal sealed class JsonNode
{
    // An object of a scenario has some twenty.
    private const int MostMembers = 1000;

    private JsonNode(string file, int line, JsonTokenType kind)
    {
        File = file;
        Line = line;
        Kind = kind;
    }

    public string File { get; }

    /// <summary>Line from 1.</summary>
    public int Line { get; }

    public JsonTokenType Kind { get; }

    public string Text { get; private set; } = "";

    public double Number { get; private set; }

    public List<(string Name, int Line, JsonNode Value)> Members { get; } = [];

    public List<JsonNode> Items { get; } = [];

    /// <summary>What it is, in words.</summary>
    public string Words => Kind switch
    {
        JsonTokenType.StartObject => "an object",
        JsonTokenType.StartArray => "a list",
        JsonTokenType.String => $"the text \"{Text}\"",
        JsonTokenType.Number => $"the number {Text}",
        JsonTokenType.Null => "null",
        _ => Kind == JsonTokenType.True ? "true" : "false",
    };

    public SceneFileException Fault(string what, string todo) => new($"{File}: line {Line}: {what}; {todo}");

    /// <summary>Reads a whole file, without comments or trailing commas.</summary>
    public static JsonNode Parse(string file, byte[] utf8)
    {
        ReadOnlySpan<byte> text = utf8.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? utf8.AsSpan(3) : utf8;
        if (text.IndexOfAnyExcept(" \t\r\n"u8) < 0) throw new SceneFileException($"{file}: line 1: the file is empty; write a scenario into it");
        var reader = new Utf8JsonReader(text);
        var lines = new LineCounter();
        try
        {
            reader.Read();
            JsonNode node = Value(file, ref reader, text, lines);
            reader.Read();
            return node;
        }
        catch (InvalidOperationException)
        {
            throw new SceneFileException($"{file}: line {lines.At(text, (int)reader.TokenStartIndex)}: a text with a broken letter; save the file as UTF-8 and write that text again");
        }
        catch (JsonException e)
        {
            string what = e.Message.Split(" LineNumber:")[0].TrimEnd('.');
            throw new SceneFileException($"{file}: line {(e.LineNumber ?? 0) + 1}: not JSON: {what}; correct this first");
        }
    }

    private static JsonNode Value(string file, ref Utf8JsonReader reader, ReadOnlySpan<byte> text, LineCounter lines)
    {
        var node = new JsonNode(file, lines.At(text, (int)reader.TokenStartIndex), reader.TokenType);
        switch (reader.TokenType)
        {
            case JsonTokenType.StartObject:
                var names = new HashSet<string>();
                while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
                {
                    string name = reader.GetString()!;
                    int line = lines.At(text, (int)reader.TokenStartIndex);
                    reader.Read();
                    JsonNode value = Value(file, ref reader, text, lines);
                    if (!names.Add(name))
                        throw new SceneFileException($"{file}: line {line}: \"{name}\" is given twice; remove one");
                    if (names.Count > MostMembers) throw new SceneFileException($"{file}: line {line}: more than {MostMembers} properties in one object; this is not a scenario");
                    node.Members.Add((name, line, value));
                }
                break;
            case JsonTokenType.StartArray:
                while (reader.Read() && reader.TokenType != JsonTokenType.EndArray) node.Items.Add(Value(file, ref reader, text, lines));
                break;
            case JsonTokenType.String:
                node.Text = reader.GetString()!;
                break;
            case JsonTokenType.Number:
                node.Number = reader.GetDouble();
                node.Text = System.Text.Encoding.UTF8.GetString(reader.ValueSpan);
                break;
        }
        return node;
    }

    /// <summary>Counts line feeds up to a place that only moves on.</summary>
    private sealed class LineCounter
    {
        private int _line = 1;
        private int _at;

        public int At(ReadOnlySpan<byte> text, int place)
        {
            for (; _at < place; _at++)
            {
                if (text[_at] == '\n') _line++;
            }
            return _line;
        }
    }
}

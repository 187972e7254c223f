using System.Text;

namespace Intervalometer.Tests.Host.Panel;

/// <summary>
/// Reads the drawings of a font (firmware/Screens/Fonts/*.txt; rows that are left out at the bottom are dark) and writes the packed table beside them. To write the
/// tables again after a drawing has changed:
/// <c>REDRAW_FONTS=1 dotnet test tests/Host --filter FullyQualifiedName~FontArtTests</c>.
/// </summary>
public sealed class FontArt
{
    /// <summary>The fonts that have a drawing and a table.</summary>
    public static readonly string[] Names = ["Small", "Medium", "Large", "Huge", "Icons"];

    // The device keeps a table in its heap and a program in its flash, so the pixels of the tall fonts are a program.
    private static readonly string[] s_inCode = ["Medium", "Large", "Huge"];

    // These have few characters: a short list of them takes less of the heap than a map of all.
    private static readonly string[] s_withoutMap = ["Large", "Huge", "Icons"];

    // The device's converter counts the cases of a switch in one byte.
    private const int WordsPerSwitch = 250;

    private readonly List<(string Name, string[] Rows)> _glyphs = [];

    private FontArt(string name) => Name = name;

    public string Name { get; }
    public int Height { get; private set; }
    public int Baseline { get; private set; }
    public int Gap { get; private set; }
    public IReadOnlyList<(string Name, string[] Rows)> Glyphs => _glyphs;

    /// <summary>The repository's top folder, found upwards from the test assembly.</summary>
    public static string Top => Architecture.Repository.Root;

    public static string Folder => Path.Combine(Top, "firmware", "Screens", "Fonts");

    public static string TablePath(string name) => Path.Combine(Folder, name + "Font.cs");

    public static FontArt Read(string name) =>
        Parse(name, File.ReadAllLines(Path.Combine(Folder, name + ".txt")));

    /// <summary>Parses a drawing. Any mistake names the font, the line and the glyph.</summary>
    public static FontArt Parse(string name, string[] lines)
    {
        var art = new FontArt(name);
        string[]? heads = null;
        var rows = new List<string[]>();
        int headLine = 0;
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i].TrimEnd();
            string Where() => $"{name}.txt line {i + 1}";
            if (line.Length == 0 || line[0] == ';') continue;
            if (line[0] == '=')
            {
                art.Take(heads, rows, headLine);
                heads = line[1..].Split(' ', StringSplitOptions.RemoveEmptyEntries);
                headLine = i + 1;
            }
            else if (heads != null)
            {
                string[] cells = line.Split(' ');
                if (cells.Length != heads.Length) throw new FormatException($"{Where()}: {cells.Length} cells under {heads.Length} headings");
                if (cells.Any(c => c.Any(p => p != '#' && p != '.'))) throw new FormatException($"{Where()}: only '#' and '.' may be drawn");
                rows.Add(cells);
            }
            else
            {
                string[] parts = line.Split(' ');
                if (parts.Length != 2 || !int.TryParse(parts[1], out int value)) throw new FormatException($"{Where()}: expected 'name number'");
                switch (parts[0])
                {
                    case "height": art.Height = value; break;
                    case "baseline": art.Baseline = value; break;
                    case "gap": art.Gap = value; break;
                    default: throw new FormatException($"{Where()}: unknown setting {parts[0]}");
                }
            }
        }
        art.Take(heads, rows, headLine);
        if (art.Height == 0 || art.Glyphs.Count == 0) throw new FormatException($"{name}.txt: no height or no glyphs");
        return art;
    }

    /// <summary>The table in C#, complete.</summary>
    public string ToTable()
    {
        bool icons = Name == "Icons";
        // Signs beyond ASCII come last, so that a sign's glyph number follows from its place among them.
        var order = icons ? _glyphs : _glyphs.OrderBy(g => Code(g.Name)).ToList();
        var map = Enumerable.Repeat((byte)255, 128).ToArray();
        var signs = new List<int>();
        var widths = new List<int>();
        var starts = new List<int>();
        var bytes = new List<byte>();
        for (int i = 0; i < order.Count; i++)
        {
            if (!icons)
            {
                int code = Code(order[i].Name);
                if (code < 128 && !s_withoutMap.Contains(Name)) map[code] = (byte)i;
                else signs.Add(code);
            }
            widths.Add(order[i].Rows[0].Length);
            starts.Add(bytes.Count);
            bytes.AddRange(Pack(order[i].Rows));
        }
        var text = new StringBuilder();
        text.Append($"// Generated from {Name}.txt by tests/Host/Panel/FontArt.cs; change the drawing, not this file.\n");
        text.Append("namespace Intervalometer.Screens;\n\n");
        text.Append($"internal static class {Name}Font\n{{\n");
        text.Append($"    internal const int Height = {Height};\n    internal const int Baseline = {Baseline};\n    internal const int Gap = {Gap};\n");
        Append(text, "byte", "Map", s_withoutMap.Contains(Name) ? [] : map.Select(b => (int)b), 16, "{0,3}");
        Append(text, "ushort", "Signs", signs, 12, "0x{0:X4}");
        Append(text, "byte", "Widths", widths, 24, "{0,2}");
        Append(text, "ushort", "Starts", starts, 16, "{0,4}");
        bool inCode = s_inCode.Contains(Name);
        Append(text, "byte", "Bits", inCode ? [] : bytes.Select(b => (int)b), 20, "0x{0:X2}");
        if (inCode) AppendWords(text, bytes);
        return text.Append("}\n").ToString();
    }

    // Eight bytes a word, the first one lowest. One local and one return a method: the device makes a large stack frame otherwise.
    private static void AppendWords(StringBuilder text, List<byte> bytes)
    {
        byte[] padded = [.. bytes, .. new byte[(8 - bytes.Count % 8) % 8]];
        int words = padded.Length / 8;
        int methods = (words + WordsPerSwitch - 1) / WordsPerSwitch;
        if (methods == 1)
        {
            AppendSwitch(text, "internal", "Word", padded, 0, words);
            return;
        }
        string choice = "";
        for (int m = 0; m < methods; m++)
        {
            int first = m * WordsPerSwitch;
            choice += m == methods - 1 ? $"Word{m}(index)" : $"index < {first + WordsPerSwitch} ? Word{m}(index) : ";
            AppendSwitch(text, "private", $"Word{m}", padded, first, Math.Min(WordsPerSwitch, words - first));
        }
        text.Append($"\n    internal static long Word(int index) => {choice};\n");
    }

    private static void AppendSwitch(StringBuilder text, string access, string name, byte[] padded, int first, int count)
    {
        text.Append($"\n    {access} static long {name}(int index) => index switch\n    {{\n");
        for (int i = first; i < first + count; i++)
        {
            long word = BitConverter.ToInt64(padded, 8 * i);
            if (word != 0) text.Append(FormattableString.Invariant($"        {i} => {(word < 0 ? "unchecked((long)" : "")}0x{word:X16}{(word < 0 ? ")" : "")},\n"));
        }
        text.Append("        _ => 0,\n    };\n");
    }

    private static void Append(StringBuilder text, string type, string name, IEnumerable<int> values, int perLine, string format)
    {
        int[] all = values.ToArray();
        text.Append($"\n    internal static readonly {type}[] {name} =\n    {{\n");
        foreach (int[] line in all.Chunk(perLine))
            text.Append("        ").Append(string.Join(", ", line.Select(v => string.Format(format, v)))).Append(",\n");
        text.Append("    };\n");
    }

    private static IEnumerable<byte> Pack(string[] rows)
    {
        for (int page = 0; page * 8 < rows.Length; page++)
        {
            for (int column = 0; column < rows[0].Length; column++)
            {
                int value = 0;
                for (int bit = 0; bit < 8 && page * 8 + bit < rows.Length; bit++)
                    if (rows[page * 8 + bit][column] == '#') value |= 1 << bit;
                yield return (byte)value;
            }
        }
    }

    private static int Code(string name) => name == "space" ? ' ' : name[0];

    private void Take(string[]? heads, List<string[]> rows, int line)
    {
        if (heads == null) return;
        if (rows.Count == 0 || rows.Count > Height) throw new FormatException($"{Name}.txt line {line}: {rows.Count} rows under the headings, the height is {Height}");
        for (int g = 0; g < heads.Length; g++)
        {
            string[] glyph = rows.Select(r => r[g]).ToArray();
            if (glyph.Any(r => r.Length != glyph[0].Length)) throw new FormatException($"{Name}.txt line {line}: glyph {heads[g]} has rows of different widths");
            if (Name != "Icons" && heads[g] != "space" && heads[g].Length != 1) throw new FormatException($"{Name}.txt line {line}: heading {heads[g]} is not one character");
            if (_glyphs.Any(o => o.Name == heads[g])) throw new FormatException($"{Name}.txt line {line}: glyph {heads[g]} is drawn twice");
            string dark = new('.', glyph[0].Length);
            _glyphs.Add((heads[g], [.. glyph, .. Enumerable.Repeat(dark, Height - glyph.Length)]));
        }
        rows.Clear();
    }
}

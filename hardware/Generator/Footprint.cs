using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>A node of KiCad's file format: a word, or a list of nodes.</summary>
public sealed class Node
{
    private Node(string? word, bool quoted, List<Node>? items) => (Word, Quoted, Items) = (word, quoted, items ?? []);

    /// <summary>The word; null for a list.</summary>
    public string? Word { get; }

    /// <summary>True when the word was in quotes.</summary>
    public bool Quoted { get; }

    /// <summary>The items of a list; none for a word.</summary>
    public List<Node> Items { get; }

    /// <summary>The first word of a list.</summary>
    public string Head => Items.Count > 0 ? Items[0].Word ?? "" : "";

    /// <summary>The first list with this head, or null.</summary>
    public Node? Find(string head) => Items.FirstOrDefault(i => i.Head == head);

    /// <summary>All lists with this head.</summary>
    public IEnumerable<Node> All(string head) => Items.Where(i => i.Head == head);

    /// <summary>The word at a place in the list.</summary>
    public string Text(int index) => Items[index].Word ?? "";

    /// <summary>The number at a place in the list.</summary>
    public double Number(int index) => double.Parse(Text(index), CultureInfo.InvariantCulture);

    /// <summary>Reads one list.</summary>
    public static Node Parse(string text)
    {
        var at = 0;
        return Read(text, ref at);
    }

    private static Node Read(string text, ref int at)
    {
        while (char.IsWhiteSpace(text[at]))
        {
            at++;
        }

        if (text[at] == '(')
        {
            var items = new List<Node>();
            for (at++; ;)
            {
                while (char.IsWhiteSpace(text[at]))
                {
                    at++;
                }

                if (text[at] == ')')
                {
                    at++;
                    return new(null, false, items);
                }

                items.Add(Read(text, ref at));
            }
        }

        var word = new StringBuilder();
        if (text[at] == '"')
        {
            for (at++; text[at] != '"'; at++)
            {
                word.Append(text[at] == '\\' ? text[++at] : text[at]);
            }

            at++;
            return new(word.ToString(), true, null);
        }

        while (!char.IsWhiteSpace(text[at]) && text[at] is not ('(' or ')'))
        {
            word.Append(text[at++]);
        }

        return new(word.ToString(), false, null);
    }
}

/// <summary>A copper pad in the part's own millimetres, y downwards.</summary>
public sealed record Pad(int Number, string Shape, double X, double Y, double Width, double Height, double Drill);

/// <summary>A footprint of KiCad's library, as Debian's package kicad-footprints installs it.</summary>
public sealed class Footprint
{
    /// <summary>Where the library is.</summary>
    public const string Library = "/usr/share/kicad/footprints";

    private static readonly Dictionary<string, Footprint> Known = [];

    private Footprint(string id, Node root)
    {
        Id = id;
        Root = root;
        Pads = root.All("pad").Select(p => new Pad(
            int.Parse(p.Text(1), CultureInfo.InvariantCulture), p.Text(3), p.Find("at")!.Number(1), p.Find("at")!.Number(2),
            p.Find("size")!.Number(1), p.Find("size")!.Number(2), p.Find("drill")!.Number(1))).ToList();
    }

    /// <summary>"Library:Name".</summary>
    public string Id { get; }

    /// <summary>The file's content.</summary>
    public Node Root { get; }

    /// <summary>The pads.</summary>
    public IReadOnlyList<Pad> Pads { get; }

    /// <summary>Reads a footprint once.</summary>
    public static Footprint Load(string id)
    {
        lock (Known)
        {
            if (Known.TryGetValue(id, out var known))
            {
                return known;
            }

            var file = Path.Combine(Library, id.Split(':')[0] + ".pretty", id.Split(':')[1] + ".kicad_mod");
            if (!File.Exists(file))
            {
                throw new FileNotFoundException($"{file} is missing: install KiCad's footprints (Debian: apt-get install kicad-footprints), or correct the footprint in parts.csv");
            }

            return Known[id] = new(id, Node.Parse(File.ReadAllText(file)));
        }
    }
}

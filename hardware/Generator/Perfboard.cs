using System.Globalization;

namespace Intervalometer.Hardware;

/// <summary>One wire to solder: from hole to hole on the solder side.</summary>
public sealed record Joint(int Step, string Net, Pin From, Pin To);

/// <summary>One step of the wiring guide.</summary>
public sealed record Step(int Number, string Title, IReadOnlyList<string> References, string Text, string Check);

/// <summary>The perforated board: where every lead goes, and which wires follow from the wiring table step by step.</summary>
public sealed class Perfboard
{
    /// <summary>Columns 1 to 34.</summary>
    public const int Columns = 34;

    /// <summary>Rows A to Z.</summary>
    public const int Rows = 26;

    private readonly Dictionary<string, (int Column, int Row)> _holes;

    /// <summary>Reads placement.csv and steps.csv.</summary>
    public Perfboard(Circuit circuit, string folder)
    {
        Circuit = circuit;
        _holes = Table.Read(folder, "placement.csv").ToDictionary(r => $"{r["reference"]}.{r["pin"]}", r => Parse(r["hole"]));
        Steps = Table.Read(folder, "steps.csv").Select(r => new Step(
            int.Parse(r["step"], CultureInfo.InvariantCulture), r["title"], r["references"].Split(' '), r["text"], r["check"])).ToList();
        Joints = Wire();
    }

    /// <summary>The circuit it carries.</summary>
    public Circuit Circuit { get; }

    /// <summary>The steps in order.</summary>
    public IReadOnlyList<Step> Steps { get; }

    /// <summary>Every wire, in the order of the steps.</summary>
    public IReadOnlyList<Joint> Joints { get; }

    /// <summary>Keys ("R1.2") of all placed pins.</summary>
    public IEnumerable<string> PlacedPins => _holes.Keys;

    /// <summary>Column from 1 and row from 0 of a pin.</summary>
    public (int Column, int Row) Hole(Pin pin) => _holes[pin.Key];

    /// <summary>True when the pin has a hole of its own.</summary>
    public bool Has(Pin pin) => _holes.ContainsKey(pin.Key);

    /// <summary>"8T": the number first, so that no hole reads like a reference.</summary>
    public static string Name((int Column, int Row) hole) => $"{hole.Column}{(char)('A' + hole.Row)}";

    private static (int, int) Parse(string text) => (int.Parse(text[..^1], CultureInfo.InvariantCulture), text[^1] - 'A');

    /// <summary>Each new pin of a net is joined to the nearest pin of that net that is already on the board.</summary>
    private List<Joint> Wire()
    {
        var joints = new List<Joint>();
        var present = new Dictionary<string, List<Pin>>();
        foreach (var step in Steps)
        {
            var waiting = step.References.SelectMany(Circuit.PinsOf).Where(p => !p.IsOpen).ToList();
            while (waiting.Count > 0)
            {
                // Nearest pair first, so that a bus grows from what is there.
                var best = waiting.Where(p => present.ContainsKey(p.Net))
                    .SelectMany(p => present[p.Net].Select(q => (p, q, d: Distance(p, q))))
                    .OrderBy(x => x.d).ThenBy(x => x.p.Key, StringComparer.Ordinal).ThenBy(x => x.q.Key, StringComparer.Ordinal).FirstOrDefault();
                var next = best.p ?? waiting[0];
                if (best.p is not null)
                {
                    joints.Add(new(step.Number, next.Net, best.q, next));
                }

                (present.TryGetValue(next.Net, out var list) ? list : present[next.Net] = []).Add(next);
                waiting.Remove(next);
            }
        }

        return joints;
    }

    private double Distance(Pin a, Pin b)
    {
        var (p, q) = (Hole(a), Hole(b));
        return Math.Sqrt(Math.Pow(p.Column - q.Column, 2) + Math.Pow(p.Row - q.Row, 2));
    }
}

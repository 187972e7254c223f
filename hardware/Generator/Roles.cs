namespace Intervalometer.Hardware;

/// <summary>What one part is there for: its kind, its value, the net of each of its pins in pin order, and the reason in a sentence.</summary>
public sealed record Role(string Kind, string Value, IReadOnlyList<(string Name, string Net)> Pins, string Reason)
{
    /// <summary>Two-lead parts that may be turned without harm list their pins by a star.</summary>
    public bool IsOrdered => Pins.All(p => p.Name != "*");

    /// <summary>The role in words, for a sentence.</summary>
    public string Words => $"{Kind}{(Value.Length > 0 ? " " + Value : "")} ({string.Join(", ", Pins.Select(p => IsOrdered ? $"{p.Name} on {p.Net}" : p.Net))})";

    /// <summary>Reads roles.csv; a row with {button} stands for one row a button.</summary>
    public static IReadOnlyList<Role> Load(string folder) => Table.Read(folder, "roles.csv").SelectMany(row =>
        row["pins"].Contains("{button}", StringComparison.Ordinal)
            ? ElectricalRules.Buttons.Select(b => Read(row, row["pins"].Replace("{button}", b, StringComparison.Ordinal)))
            : [Read(row, row["pins"])]).ToList();

    private static Role Read(IReadOnlyDictionary<string, string> row, string pins) => new(row["kind"], row["value"],
        pins.Split(' ').Select(p => (p.Split(':')[0], p.Split(':')[1])).ToList(), row["reason"]);

    /// <summary>How many pins of a part are on the net that this role asks for.</summary>
    public int Score(IReadOnlyList<Pin> pins) => IsOrdered
        ? Pins.Count(r => pins.Any(p => p.Name == r.Name) && pins.Where(p => p.Name == r.Name).All(p => p.Net == r.Net))
        : Pins.Select(r => r.Net).Intersect(pins.Select(p => p.Net)).Count();
}

/// <summary>Every part of the wiring table plays exactly one role of roles.csv and plays it the right way round.</summary>
public static class RoleRules
{
    /// <summary>The trip current of a polymer fuse is twice its hold current.</summary>
    private const double TripOverHold = 2;

    /// <summary>Adds a sentence for each role that no part plays in full, and for each part without a role.</summary>
    public static void Check(Circuit circuit, IReadOnlyList<Role> roles, List<Violation> found)
    {
        var parts = circuit.References.ToDictionary(r => r, circuit.PinsOf);
        var open = roles.ToList();
        foreach (var role in roles)
        {
            var player = parts.Keys.FirstOrDefault(r => Kind(circuit, r) == role.Kind && role.Score(parts[r]) == role.Pins.Count);
            if (player is null)
            {
                continue;
            }

            PinOrder(player, parts[player], role, found);
            if (circuit.PartOf(player).Value != role.Value)
            {
                found.Add(new("part-value", $"{player} is {circuit.PartOf(player).Value}, and its role asks for {role.Words}. {role.Reason}"));
            }

            open.Remove(role);
            parts.Remove(player);
        }

        // What is left over is paired by the most pins in common, so that the sentence names the part that was meant.
        foreach (var role in open)
        {
            var player = parts.Keys.Where(r => Kind(circuit, r) == role.Kind).OrderByDescending(r => role.Score(parts[r])).FirstOrDefault();
            if (player is null)
            {
                found.Add(new("part-missing", $"no part is the {role.Words}. {role.Reason}"));
                continue;
            }

            var has = string.Join(", ", parts[player].Where(p => !role.IsOrdered || role.Pins.Any(r => r.Name == p.Name)).Select(p => $"{p.Name} on {p.Net}"));
            found.Add(new("part-role", $"{player} has {has}; expected {role.Words}. {role.Reason}"));
            parts.Remove(player);
        }

        foreach (var reference in parts.Keys)
        {
            found.Add(new("part-without-role", $"{reference} has no role; write one with its reason into roles.csv, or take the part out"));
        }
    }

    /// <summary>The fuse carries the box when hot, and trips before the reverse diode is overloaded.</summary>
    public static void Fuse(Circuit circuit, Facts facts, List<Violation> found)
    {
        foreach (var reference in circuit.References.Where(r => Kind(circuit, r) == "fuse"))
        {
            var hold = Units.Parse(circuit.PartOf(reference).Value.Replace(" A", "", StringComparison.Ordinal)) * 1e3;
            var need = facts["inrush"] / facts["fuse_hold_60"];
            var most = facts["reverse_diode"] / TripOverHold;
            if (hold < need || hold > most)
            {
                found.Add(new("fuse-rating", string.Create(System.Globalization.CultureInfo.InvariantCulture,
                    $"{reference} holds {hold:F0} mA; it must hold {need:F0} mA to start the box at 60 C, and at most {most:F0} mA so that it trips before the reverse diode is overloaded")));
            }
        }
    }

    private static void PinOrder(string reference, IReadOnlyList<Pin> pins, Role role, List<Violation> found)
    {
        var asked = role.Pins.Select(p => p.Name).ToList();
        var given = pins.OrderBy(p => p.Number).Select(p => p.Name).ToList();
        if (role.IsOrdered && role.Kind != "board" && !given.SequenceEqual(asked))
        {
            found.Add(new("pin-order", $"{reference} names its pins {string.Join(" ", given)}; the part has {string.Join(" ", asked)}. {role.Reason}"));
        }
    }

    private static string Kind(Circuit circuit, string reference) => circuit.PartOf(reference).Kind;
}

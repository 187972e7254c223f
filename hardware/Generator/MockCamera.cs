using System.Globalization;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>The mock camera of the first-power steps: its own wiring table, its rules, its page and its picture.</summary>
public sealed class MockCamera
{
    /// <summary>The two contacts with the pin of the plug that each one is on.</summary>
    public static readonly (string Net, string Pin, string Words)[] Contacts = [("CAM_SHUTTER", "TIP", "shutter"), ("CAM_HALF", "RING", "half-press")];

    private readonly Circuit _box;
    private readonly Circuit _mock;

    /// <summary>Takes the box and the mock camera.</summary>
    public MockCamera(Circuit box, Circuit mock)
    {
        _box = box;
        _mock = mock;
    }

    /// <summary>Reads mock-camera.csv; its parts stand in parts.csv.</summary>
    public static Circuit Load(Circuit box, string folder) => new(Table.Read(folder, "mock-camera.csv").Select(r => new Pin(
        r["reference"], r["part"], int.Parse(r["pin"], CultureInfo.InvariantCulture), r["name"], r["net"])).ToList(), box.Parts);

    /// <summary>What is wrong with the table, in sentences; an empty list may be built.</summary>
    public IReadOnlyList<string> Check()
    {
        var found = new List<string>();
        var jack = _box.References.Single(r => _box.PartOf(r).Kind == "jack");
        var plug = _mock.References.SingleOrDefault(r => _mock.PartOf(r).Kind == "plug");
        foreach (var pin in _box.PinsOf(jack))
        {
            if (plug is null || _mock.PinsOf(plug).All(p => p.Name != pin.Name || p.Net != pin.Net))
            {
                found.Add($"{pin.Name} of the plug must be on {pin.Net}, as it is at the jack");
            }
        }

        foreach (var pin in _mock.Pins.Where(p => _box.Pins.Any(b => b.Net == p.Net) && !Layout.IsCamera(p.Net)))
        {
            found.Add($"{pin.Key} is on {pin.Net}, a net of the box: the mock camera joins the camera's side alone");
        }

        var cells = _mock.References.SingleOrDefault(r => _mock.PartOf(r).Kind == "cells");
        if (cells is null || NetOf(cells, "-") != "CAM_COMMON" || NetOf(cells, "+") != "MOCK_PLUS")
        {
            found.Add("the cells must have their minus on CAM_COMMON and their plus on MOCK_PLUS");
        }

        foreach (var (net, _, words) in Contacts)
        {
            if (PullUp(net) is null)
            {
                found.Add($"the {words} needs 10 kohm from MOCK_PLUS, as the input of a camera has");
            }

            if (Lamp(net) is not { } lamp)
            {
                found.Add($"the {words} needs a LED with its cathode on {net}, and 1 kohm from MOCK_PLUS to its anode");
            }
            else if (Milliamps(lamp.Resistor) > 5)
            {
                found.Add($"the lamp of the {words} draws {Milliamps(lamp.Resistor):F1} mA; a coupler should carry 5 mA at most");
            }
        }

        foreach (var net in _mock.Nets.Where(n => n.Count() < 2))
        {
            found.Add($"net {net.Key} has only {net.First().Key}");
        }

        return found;
    }

    /// <summary>The page with parts, joints and the check of the mock camera itself.</summary>
    public string Page()
    {
        var text = new StringBuilder("# Mock camera\n\nGenerated from `mock-camera.csv`. It stands in for a camera in the first-power steps: two lamps show what the two contacts do, and a meter reads what a camera would. Build it without a board or on a piece of stripboard. Connect it to the camera jack only and to nothing else of the box.\n\n![Mock camera](pictures/mock-camera.svg)\n\n");
        text.Append("| Qty | References | Order | Each | May be replaced by |\n| ---: | --- | --- | ---: | --- |\n");
        foreach (var group in _mock.References.GroupBy(r => _mock.PartOf(r).Name))
        {
            var part = _mock.Parts[group.Key];
            text.Append(CultureInfo.InvariantCulture, $"| {group.Count()} | {string.Join(" ", group)} | {part.Title}: {part.Order} | {part.Price:0.##} | {part.Substitute} |\n");
        }

        text.Append("\n| Joint | What meets there |\n| --- | --- |\n");
        foreach (var net in _mock.Nets)
        {
            text.Append($"| {net.Key} | {string.Join(", ", net.Select(p => p.Name == p.Number.ToString(CultureInfo.InvariantCulture) ? p.Reference : $"{p.Reference} {p.Name}"))} |\n");
        }

        text.Append(CultureInfo.InvariantCulture, $"\nThe long leg of an LED is A, the short one is K. A lamp draws {Milliamps(Lamp("CAM_SHUTTER")!.Value.Resistor):F1} mA when its contact closes.\n\n**Check before use.** With the plug in nothing, both lamps are dark, and there are 3.0 V or a little more from tip to sleeve and from ring to sleeve. Touch tip to sleeve with a wire: {Lamp("CAM_SHUTTER")!.Value.Led} lights and the reading falls to 0. Touch ring to sleeve: {Lamp("CAM_HALF")!.Value.Led} lights. If this is not so, check the joints again.\n");
        return text.ToString();
    }

    /// <summary>The circuit as a picture, 140 mm wide.</summary>
    public string Draw()
    {
        var text = new StringBuilder("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"140mm\" height=\"80mm\" viewBox=\"0 0 140 80\" font-family=\"DejaVu Sans, Verdana, sans-serif\" font-size=\"3.6\">\n<rect width=\"140\" height=\"80\" fill=\"#fff\"/>\n");
        const string wire = " fill=\"none\" stroke=\"#000\" stroke-width=\"0.4\"/>\n";
        var cells = _mock.References.Single(r => _mock.PartOf(r).Kind == "cells");
        var plug = _mock.References.Single(r => _mock.PartOf(r).Kind == "plug");
        // Cells at the left, the plus rail above, the common below, the plug at the right.
        text.Append($"<path d=\"M16 14V32M16 37V72H118M16 14H94M10 32H22M12.5 37H19.5\"{wire}");
        text.Append($"<text x=\"4\" y=\"29\">+</text><text x=\"4\" y=\"43\">-</text><text x=\"24\" y=\"36\">{cells}, {_mock.PartOf(cells).Value}</text><text x=\"50\" y=\"11\">MOCK_PLUS</text><text x=\"50\" y=\"76.5\">CAM_COMMON</text>\n");
        foreach (var ((net, pin, _), i) in Contacts.Select((c, i) => (c, i)))
        {
            var x = 48.0 + 28 * i;
            var y = 52.0 + 9 * i;
            var (led, resistor) = Lamp(net)!.Value;
            var pull = PullUp(net)!;
            text.Append(CultureInfo.InvariantCulture, $"<path d=\"M{x} 14V19M{x} 29V{y}M{x + 18} 14V19M{x + 18} 29V34M{x + 18} 40V{y}M{x} {y}H118\"{wire}");
            text.Append(CultureInfo.InvariantCulture, $"<rect x=\"{x - 2}\" y=\"19\" width=\"4\" height=\"10\"{wire}<rect x=\"{x + 16}\" y=\"19\" width=\"4\" height=\"10\"{wire}");
            text.Append(CultureInfo.InvariantCulture, $"<path d=\"M{x + 15} 34H{x + 21}L{x + 18} 40ZM{x + 15} 40H{x + 21}\"{wire}");
            text.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{x}\" cy=\"{y}\" r=\"0.8\"/><circle cx=\"{x + 18}\" cy=\"{y}\" r=\"0.8\"/><circle cx=\"{x}\" cy=\"14\" r=\"0.8\"/>{(i + 1 < Contacts.Length ? string.Create(CultureInfo.InvariantCulture, $"<circle cx=\"{x + 18}\" cy=\"14\" r=\"0.8\"/>") : "")}");
            text.Append(CultureInfo.InvariantCulture, $"<text x=\"{x + 2.6}\" y=\"25\">{pull} {_mock.PartOf(pull).Value}</text><text x=\"{x + 20.6}\" y=\"25\" font-size=\"3.2\">{resistor}</text><text x=\"{x + 20.6}\" y=\"29\" font-size=\"3.2\">{_mock.PartOf(resistor).Value}</text><text x=\"{x + 21.6}\" y=\"38.5\">{led}</text>");
            text.Append(CultureInfo.InvariantCulture, $"<text x=\"120\" y=\"{y + 1.2}\">{pin}</text><text x=\"97\" y=\"{y - 1.2}\" font-size=\"2.7\">{net}</text>\n");
        }

        text.Append($"<text x=\"120\" y=\"73.2\">SLEEVE</text><rect x=\"118\" y=\"46\" width=\"19\" height=\"30\" rx=\"2\"{wire}<text x=\"118\" y=\"44\">{plug}, plug</text>\n");
        return text.Append("</svg>\n").ToString();
    }

    private string NetOf(string reference, string pin) => _mock.PinsOf(reference).FirstOrDefault(p => p.Name == pin)?.Net ?? "";

    private string? Between(string kind, string value, string a, string b) => _mock.References.FirstOrDefault(r =>
        _mock.PartOf(r).Kind == kind && (value.Length == 0 || _mock.PartOf(r).Value == value) && _mock.PinsOf(r).Select(p => p.Net).Order(StringComparer.Ordinal).SequenceEqual(new[] { a, b }.Order(StringComparer.Ordinal)));

    private string? PullUp(string net) => Between("resistor", "10k", "MOCK_PLUS", net);

    private (string Led, string Resistor)? Lamp(string net)
    {
        var led = _mock.References.FirstOrDefault(r => _mock.PartOf(r).Kind == "led" && NetOf(r, "K") == net);
        var resistor = led is null ? null : Between("resistor", "", "MOCK_PLUS", NetOf(led, "A"));
        return resistor is null ? null : (led!, resistor);
    }

    private double Milliamps(string resistor) => (3.3 - 1.7) / _mock.PartOf(resistor).Number * 1e3;
}

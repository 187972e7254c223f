namespace Intervalometer.Tests.Hardware;

/// <summary>The wiring table keeps every rule, and every rule can fail.</summary>
[TestClass]
public class RuleTests
{
    private static readonly (string Rule, string What, Func<Circuit, Circuit> Break)[] Mutations =
    [
        ("pin-without-net", "the shutter pin loses its net", c => Net(c, "U1.27", "")),
        ("reference-twice", "R5 is listed twice", c => new(c.Pins.Append(c.Pins.First(p => p.Key == "R5.1")).ToList(), c.Parts)),
        ("reference-twice", "one lead of R5 is another part", c => Map(c, p => p.Key == "R5.2" ? p with { Part = "r10k" } : p)),
        ("unknown-part", "R5 uses a part that is not listed", c => Map(c, p => p.Reference == "R5" ? p with { Part = "r4k8" } : p)),
        ("pin-missing", "an optocoupler has three pins", c => new(c.Pins.Where(p => p.Key != "U2.4").ToList(), c.Parts)),
        ("net-of-one", "a slip of the pen in a net name", c => Net(c, "R3.2", "HALF_BSAE")),
        ("camera-net", "tip and ring change places", c => Net(Net(c, "J2.2", "CAM_HALF"), "J2.3", "CAM_SHUTTER")),
        ("camera-net", "a button's ground lead goes to the camera's ground", c => Net(c, "S1.2", "CAM_COMMON")),
        ("isolation", "the shutter coupler's emitter is wired to ground", c => Net(Net(Net(c, "U3.3", "GND"), "U2.3", "GND"), "J2.1", "GND")),
        ("isolation", "a capacitor bridges the two sides", c => Net(c, "C3.2", "CAM_COMMON")),
        ("address-twice", "a second display at the same address", c => Parts(c, "clock", p => p with { Addresses = "0x3C 0x57" })),
        ("address-twice", "the light sensor at the display's address", c => Parts(c, "light", p => p with { Addresses = "0x3C" })),
        ("address-twice", "the light sensor at the clock's address", c => Parts(c, "light", p => p with { Addresses = "0x68" })),
        ("address-twice", "the light sensor at the memory's address", c => Parts(c, "light", p => p with { Addresses = "0x57" })),
        ("address-of-chip", "a free address that the light sensor cannot have", c => Parts(c, "light", p => p with { Addresses = "0x48" })),
        ("address-of-chip", "a clock module without its memory", c => Parts(c, "clock", p => p with { Addresses = "0x68" })),
        ("bus-pull-up", "22 kohm pull-ups are too slow", c => Parts(c, "r3k3", p => p with { Value = "22k" })),
        ("bus-pull-up", "4.7 kohm, enough for the bus without a light sensor, is too slow with it", c => Map(c, p => p.Reference is "R17" or "R18" ? p with { Part = "r4k7" } : p)),
        ("bus-pull-up", "1 kohm pull-ups ask too much of a chip", c => Parts(c, "r3k3", p => p with { Value = "1k" })),
        ("bus-supply", "the light sensor on the switched cell, up to 4.2 V", c => Net(c, "A3.2", "V_SWITCHED")),
        ("bus-supply", "the light sensor on the 5 V of the ESP32 board", c => Net(Net(c, "A3.2", "V5"), "U1.19", "V5")),
        ("bus-supply", "the light sensor without a supply", c => Net(c, "A3.2", "-")),
        ("output-on-input", "half-press on IO34", c => Swap(c, "U1.28", "U1.5")),
        ("strapping-pin", "shutter on IO12", c => Swap(c, "U1.27", "U1.13")),
        ("strapping-pin", "a button on IO0", c => Swap(c, "U1.9", "U1.33")),
        ("reserved-pin", "the LED on IO6", c => Swap(c, "U1.21", "U1.38")),
        ("reserved-pin", "the LED on the console", c => Swap(c, "U1.21", "U1.23")),
        ("restless-pin", "the heartbeat on IO14", c => Swap(c, "U1.32", "U1.12")),
        ("restless-pin", "the gauge on IO36", c => Swap(c, "U1.5", "U1.3")),
        ("output-current", "the LED without its resistor", c => Net(Net(c, "D5.2", "LED"), "R12.2", "LED")),
        ("output-current", "the LED through 220 ohm", c => Map(c, p => p.Reference == "R12" ? p with { Part = "r220" } : p)),
        ("opto-current", "22 ohm before the couplers", c => Parts(c, "r220", p => p with { Value = "22" })),
        ("release-pull-down", "no pull-down on the shutter line", c => Net(c, "R6.2", "V33")),
        ("release-pull-down", "a pull-down too weak against the internal pull-up", c => Map(c, p => p.Reference == "R6" ? p with { Part = "r10k" } : p)),
        ("limiter-bypassed", "a coupler fed from the 3.3 V supply", c => Net(c, "R2.1", "V33")),
        ("limiter-bypassed", "a resistor from the 3.3 V supply to LED_SUPPLY", c => Net(c, "R18.2", "LED_SUPPLY")),
        ("limiter-bypassed", "the light sensor is wired to the supply that the limiter switches", c => Net(c, "A3.2", "LED_SUPPLY")),
        ("output-current", "the light sensor is fed by an output of the ESP32", c => Net(c, "A3.2", "LED")),
        ("button", "no capacitor on Fire", c => Net(c, "C12.1", "V33")),
        ("button", "10 kohm in series with the contact", c => Parts(c, "r1k", p => p with { Value = "10k" })),
        ("heartbeat-direct", "a resistor where the pump capacitor belongs", c => Map(c, p => p.Reference == "C4" ? p with { Part = "r1k" } : p)),
        ("heartbeat-direct", "nothing empties the hold capacitor", c => Net(c, "R8.2", "V33")),
        ("gauge", "the gauge on the second converter", c => Swap(c, "U1.5", "U1.9")),
        ("gauge", "the whole cell voltage on the converter", c => Map(c, p => p.Reference == "R15" ? p with { Part = "r10k" } : p)),
        ("part-role", "the read-backs of the two drivers change places", c => Swap(c, "R35.1", "R36.1")),
        ("part-role", "the read-back of the shutter driver is wired to its base", c => Net(c, "R36.1", "SHUTTER_BASE")),
        ("part-role", "nothing holds the cathode of a coupler up", c => Net(c, "R34.1", "GND")),
        ("part-value", "a pull-up that could feed a coupler past the limiter", c => Map(c, p => p.Reference == "R33" ? p with { Part = "r4k7" } : p)),
        ("part-role", "the cell's plug is reversed", c => Swap(c, "J1.1", "J1.2")),
        ("part-role", "the reverse diode is turned", c => Swap(c, "D1.1", "D1.2")),
        ("part-role", "the charger's B- is joined to GND", c => Map(c, p => p.Net == "BAT_N" ? p with { Net = "GND" } : p)),
        ("part-role", "the charger's outputs change places", c => Swap(c, "A2.5", "A2.6")),
        ("part-role", "the power switch is shorted", c => Map(c, p => p.Net == "PACK_OUT" ? p with { Net = "V_SWITCHED" } : p)),
        ("part-role", "the board's 5 V comes from the switched cell", c => Net(c, "U1.19", "V_SWITCHED")),
        ("part-role", "the second diode of the pump is turned", c => Swap(c, "D3.1", "D3.2")),
        ("part-role", "collector and emitter of Q1 change places", c => Swap(c, "Q1.1", "Q1.3")),
        ("part-role", "REF and K of the reference change places", c => Swap(c, "U5.1", "U5.3")),
        ("part-role", "the electrolytic of the supply is turned", c => Swap(c, "C2.1", "C2.2")),
        ("part-role", "VCC and GND of the display change places", c => Swap(c, "DS1.1", "DS1.2")),
        ("part-role", "SDA and SCL of the clock change places", c => Swap(c, "A1.3", "A1.4")),
        ("part-role", "SDA and SCL of the light sensor change places", c => Swap(c, "A3.3", "A3.4")),
        ("part-role", "VCC and GND of the light sensor change places", c => Swap(c, "A3.1", "A3.2")),
        ("part-role", "the light sensor's data wire is wired to the status light's pin", c => Net(c, "A3.4", "LED")),
        ("pin-order", "the pads of the light sensor are named in another order", c => Map(c, p => p.Key == "A3.1" ? p with { Name = "VCC", Net = "V33" } : p.Key == "A3.2" ? p with { Name = "GND", Net = "GND" } : p)),
        ("part-role", "EN is joined to GND", c => Net(c, "U1.2", "GND")),
        ("part-role", "the Fire button leads to 3.3 V", c => Net(c, "S6.2", "V33")),
        ("part-value", "couplers of rank A", c => Parts(c, "opto", p => p with { Value = "PC817A" })),
        ("fuse-rating", "a fuse of 11 A", c => Parts(c, "fuse", p => p with { Value = "11 A" })),
        ("pin-order", "the legs of the regulator are named in another order", c => Map(c, p => p.Key == "U4.1" ? p with { Name = "VOUT", Net = "V33" } : p.Key == "U4.3" ? p with { Name = "GND", Net = "GND" } : p)),
        ("part-missing", "the input capacitor of the regulator is left out", c => Without(c, "C1")),
        ("part-without-role", "a capacitor that nobody asked for", c => new(c.Pins.Append(new Pin("C99", "c100n", 1, "1", "HOLD")).Append(new Pin("C99", "c100n", 2, "2", "GND")).ToList(), c.Parts)),
    ];

    [TestMethod]
    public void TheTableKeepsEveryRule()
    {
        var found = ElectricalRules.Check(Repo.Circuit, Repo.Facts, Repo.Roles);
        Assert.IsEmpty(found, string.Join("\n", found));
    }

    [TestMethod]
    public void EachRuleCatchesItsOwnMistake()
    {
        // The tables that a careful person can get wrong with a soldering iron or a spreadsheet; the four tests below make over 400 more.
        Assert.IsGreaterThanOrEqualTo(70, Mutations.Length);
        foreach (var (rule, what, change) in Mutations)
        {
            var found = ElectricalRules.Check(change(Repo.Circuit), Repo.Facts, Repo.Roles);
            Assert.IsTrue(found.Any(v => v.Rule == rule && v.Text.Length > 20), $"{what}: expected {rule} in a sentence, found [{string.Join(", ", found)}]");
        }
    }

    [TestMethod]
    public void EveryRuleHasAMutation()
    {
        var source = string.Concat(new[] { "Rules.cs", "Roles.cs", "Bus.cs" }.Select(f => File.ReadAllText(Path.Combine(Repo.Folder, "Generator", f))));
        var rules = System.Text.RegularExpressions.Regex.Matches(source, "new\\(\"([a-z-]+)\"").Select(m => m.Groups[1].Value).Distinct().Order().ToList();
        CollectionAssert.AreEquivalent(rules, Mutations.Select(m => m.Rule).Distinct().Order().ToList());
    }

    [TestMethod]
    public void LeavingOutAnyPartIsReportedInASentence() =>
        EachIsTold(Repo.Circuit.References.Select(r => ($"{r} left out", Without(Repo.Circuit, r))), 70);

    [TestMethod]
    public void ShortingAnyPartOfTwoLeadsIsReported() =>
        EachIsTold(Repo.Circuit.References.Where(r => Repo.Circuit.PartOf(r).Pins == 2).Select(r => ($"{r} shorted", Map(Repo.Circuit, p => p.Reference == r ? p with { Net = Repo.Circuit.PinsOf(r)[0].Net } : p))), 57);

    /// <summary>Every exchange of two pins on different nets, of every part whose pins are not alike: the board's own pins are held by the pin map.</summary>
    [TestMethod]
    public void ExchangingAnyTwoOrderedPinsIsReported() =>
        EachIsTold(from r in Repo.Circuit.References
                   where Ordered.Contains(Repo.Circuit.PartOf(r).Kind)
                   from a in Repo.Circuit.PinsOf(r)
                   from b in Repo.Circuit.PinsOf(r)
                   where a.Number < b.Number && a.Net != b.Net
                   select ($"{a.Key} and {b.Key} exchanged", Swap(Repo.Circuit, a.Key, b.Key)), 81);

    [TestMethod]
    public void AnyOtherResistorOrCapacitorIsReported() =>
        EachIsTold(from r in Repo.Circuit.References
                   let part = Repo.Circuit.PartOf(r)
                   where part.Kind is "resistor" or "capacitor"
                   from other in Repo.Circuit.Parts.Values
                   where other.Kind == part.Kind && other != part
                   select ($"{r} fitted as {other.Value}", Map(Repo.Circuit, p => p.Reference == r ? p with { Part = other.Name } : p)), 200);

    [TestMethod]
    public void APartThatIsNotInTheTableIsNamed() =>
        StringAssert.Contains(Assert.Throws<InvalidDataException>(() => Repo.Circuit.PartOf("R99")).Message, "R99");

    [TestMethod]
    [DataRow("4k7", 4700)]
    [DataRow("220", 220)]
    [DataRow("1M", 1e6)]
    [DataRow("3u3", 3.3e-6)]
    [DataRow("100n", 1e-7)]
    public void ValuesAreRead(string text, double expected) => Assert.AreEqual(expected, Units.Parse(text), expected * 1e-9);

    private static readonly string[] Ordered = ["opto", "regulator", "reference", "pnp", "npn", "diode", "led", "capacitor-polar", "buzzer", "connector", "jack", "clock", "charger", "display", "light"];

    /// <summary>Each changed table gives at least one violation with a whole sentence, and no exception; at least so many were tried.</summary>
    private static void EachIsTold(IEnumerable<(string What, Circuit Changed)> changes, int atLeast)
    {
        var tried = 0;
        foreach (var (what, changed) in changes)
        {
            var found = ElectricalRules.Check(changed, Repo.Facts, Repo.Roles);
            Assert.IsTrue(found.Any(v => v.Text.Length > 20), $"{what}: nothing was said");
            tried++;
        }

        Assert.IsGreaterThanOrEqualTo(atLeast, tried);
    }

    private static Circuit Without(Circuit c, string reference) => new(c.Pins.Where(p => p.Reference != reference).ToList(), c.Parts);

    private static Circuit Map(Circuit c, Func<Pin, Pin> change) => new(c.Pins.Select(change).ToList(), c.Parts);

    private static Circuit Net(Circuit c, string key, string net) => Map(c, p => p.Key == key ? p with { Net = net } : p);

    private static Circuit Swap(Circuit c, string a, string b)
    {
        var (x, y) = (c.Pins.First(p => p.Key == a).Net, c.Pins.First(p => p.Key == b).Net);
        return Map(c, p => p.Key == a ? p with { Net = y } : p.Key == b ? p with { Net = x } : p);
    }

    private static Circuit Parts(Circuit c, string name, Func<Part, Part> change) =>
        new(c.Pins, c.Parts.ToDictionary(p => p.Key, p => p.Key == name ? change(p.Value) : p.Value));
}

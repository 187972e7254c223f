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
        ("isolation", "the shutter coupler's emitter is tied to ground", c => Net(Net(Net(c, "U3.3", "GND"), "U2.3", "GND"), "J2.1", "GND")),
        ("isolation", "a capacitor bridges the two sides", c => Net(c, "C3.2", "CAM_COMMON")),
        ("address-twice", "a second display at the same address", c => Parts(c, "clock", p => p with { Addresses = "0x3C 0x57" })),
        ("bus-pull-up", "22 kohm pull-ups are too slow", c => Parts(c, "r4k7", p => p with { Value = "22k" })),
        ("bus-pull-up", "1 kohm pull-ups ask too much of a chip", c => Parts(c, "r4k7", p => p with { Value = "1k" })),
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
        ("button", "no capacitor on Fire", c => Net(c, "C12.1", "V33")),
        ("button", "10 kohm in series with the contact", c => Parts(c, "r1k", p => p with { Value = "10k" })),
        ("heartbeat-direct", "a resistor where the pump capacitor belongs", c => Map(c, p => p.Reference == "C4" ? p with { Part = "r1k" } : p)),
        ("heartbeat-direct", "nothing empties the hold capacitor", c => Net(c, "R8.2", "V33")),
        ("gauge", "the gauge on the second converter", c => Swap(c, "U1.5", "U1.9")),
        ("gauge", "the whole cell voltage on the converter", c => Map(c, p => p.Reference == "R15" ? p with { Part = "r10k" } : p)),
    ];

    [TestMethod]
    public void TheTableKeepsEveryRule()
    {
        var found = ElectricalRules.Check(Repo.Circuit, Repo.Facts);
        Assert.IsEmpty(found, string.Join("\n", found));
    }

    [TestMethod]
    public void EachRuleCatchesItsOwnMistake()
    {
        foreach (var (rule, what, change) in Mutations)
        {
            var found = ElectricalRules.Check(change(Repo.Circuit), Repo.Facts);
            Assert.IsTrue(found.Any(v => v.Rule == rule), $"{what}: expected {rule}, found [{string.Join(", ", found)}]");
        }
    }

    [TestMethod]
    public void EveryRuleHasAMutation()
    {
        var source = File.ReadAllText(Path.Combine(Repo.Folder, "Generator", "Rules.cs"));
        var rules = System.Text.RegularExpressions.Regex.Matches(source, "new\\(\"([a-z-]+)\"").Select(m => m.Groups[1].Value).Distinct().Order().ToList();
        CollectionAssert.AreEquivalent(rules, Mutations.Select(m => m.Rule).Distinct().Order().ToList());
    }

    [TestMethod]
    public void ThePullUpLimitIsThatOfTheBusStandard() =>
        Assert.AreEqual(3540, ElectricalRules.WeakestPullUp(300, 100), 5); // UM10204: 300 ns and 100 pF, about 3.5 kohm

    [TestMethod]
    [DataRow("4k7", 4700)]
    [DataRow("220", 220)]
    [DataRow("1M", 1e6)]
    [DataRow("3u3", 3.3e-6)]
    [DataRow("100n", 1e-7)]
    public void ValuesAreRead(string text, double expected) => Assert.AreEqual(expected, Units.Parse(text), expected * 1e-9);

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

using System.Globalization;
using System.Text.RegularExpressions;

namespace Intervalometer.Tests.Hardware;

/// <summary>The firmware's pin map and the wiring table name the same pins, both ways.</summary>
[TestClass]
public class PinMapTests
{
    private static readonly string Source = File.ReadAllText(Path.Combine(Repo.Root, "firmware", "Esp32", "PinMap.cs"));

    [TestMethod]
    public void FirmwareAndTableAgree() => Assert.IsEmpty(Differences(Source), string.Join("\n", Differences(Source)));

    [TestMethod]
    [DataRow("Shutter = 19", "Shutter = 18")]
    [DataRow("Heartbeat = 4", "Heart = 4")]
    [DataRow("DisplayAddress = 0x3C", "DisplayAddress = 0x3D")]
    [DataRow("MemoryAddress = 0x57", "MemoryAddress = 0x50")]
    [DataRow("LightAddress = 0x10", "LightAddress = 0x48")]
    [DataRow("Battery = 34;", "Battery = 34; public const int Extra = 16;")]
    public void AWrongMapIsFound(string from, string to)
    {
        Assert.Contains(from, Source);
        Assert.IsNotEmpty(Differences(Source.Replace(from, to, StringComparison.Ordinal)));
    }

    [TestMethod]
    public void TheOrderOfButtonsIsTheFirmwares()
    {
        var names = Regex.Match(File.ReadAllText(Path.Combine(Repo.Root, "firmware", "Settings", "Button.cs")), "enum Button.*?^}", RegexOptions.Singleline | RegexOptions.Multiline).Value;
        var order = Regex.Matches(names, @"(\w+) = \d").Select(m => m.Groups[1].Value.ToUpperInvariant()).ToArray();
        CollectionAssert.AreEqual(ElectricalRules.Buttons, order);
    }

    /// <summary>The virtual board and the stand-in board have the pins of the table too, in the order that the box takes them.</summary>
    [TestMethod]
    public void BothStandInBoardsHaveTheTablesPins()
    {
        var io = ElectricalRules.BoardSignals(Repo.Circuit).ToDictionary(p => p.Net, ElectricalRules.Gpio);
        var buttons = string.Join(", ", ElectricalRules.Buttons.Select(b => io[b]));
        var expected = $"new({io["HALF_PRESS"]}, {io["SHUTTER"]}, [{buttons}], {io["LED"]}, {io["HEARTBEAT"]}, {io["BUZZER"]}, {io["LIMITER"]}, {io["HALF_SENSE"]}, {io["SHUTTER_SENSE"]})";
        Assert.Contains("public BoxPins Pins { get; init; } = " + expected, File.ReadAllText(Path.Combine(Repo.Root, "firmware", "BoardModel", "BoardOptions.cs")));
        var pins = File.ReadAllText(Path.Combine(Repo.Root, "tests", "DeviceBoard", "Board", "Pins.cs"));
        foreach (var net in new[] { "HEARTBEAT", "LIMITER", "HALF_PRESS", "SHUTTER", "HALF_SENSE", "SHUTTER_SENSE" })
        {
            Assert.Contains($"const int {Pascal(net)} = {io[net]};", pins);
        }
    }

    [TestMethod]
    public void TheDisplayOfTheFirmwareIsTheOneOfTheTable()
    {
        var display = Repo.Circuit.References.Select(Repo.Circuit.PartOf).Single(p => p.Kind == "display");
        var chip = Regex.Match(Source, @"const DisplayKind Display = DisplayKind\.(\w+);").Groups[1].Value;
        Assert.StartsWith(chip.ToUpperInvariant() + " ", display.Value);
    }

    private static List<string> Differences(string source)
    {
        var constants = Regex.Matches(source, @"const int (\w+) = (0x[0-9A-Fa-f]+|\d+);").ToDictionary(m => m.Groups[1].Value, m => Number(m.Groups[2].Value));
        var wrong = new List<string>();
        var expected = ElectricalRules.BoardSignals(Repo.Circuit).ToDictionary(p => Pascal(p.Net), ElectricalRules.Gpio);
        foreach (var reference in Repo.Circuit.References)
        {
            var part = Repo.Circuit.PartOf(reference);
            var addresses = part.Addresses.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Number).ToArray();
            if (part.Kind == "display")
            {
                expected["DisplayAddress"] = addresses[0];
            }
            else if (part.Kind == "light")
            {
                expected["LightAddress"] = addresses[0];
            }
            else if (part.Kind == "clock")
            {
                expected["ClockAddress"] = addresses[0];
                expected["MemoryAddress"] = addresses[1];
            }
        }

        wrong.AddRange(expected.Where(e => !constants.ContainsKey(e.Key)).Select(e => $"the table has {e.Key} = {e.Value}, PinMap.cs does not"));
        wrong.AddRange(constants.Where(c => c.Key != "BusId" && !expected.ContainsKey(c.Key)).Select(c => $"PinMap.cs has {c.Key}, the table does not"));
        wrong.AddRange(constants.Where(c => expected.TryGetValue(c.Key, out var e) && e != c.Value).Select(c => $"{c.Key} is {c.Value} in PinMap.cs, {expected[c.Key]} in the table"));
        return wrong;
    }

    private static int Number(string text) => text.StartsWith("0x", StringComparison.Ordinal) ? Convert.ToInt32(text[2..], 16) : int.Parse(text, CultureInfo.InvariantCulture);

    private static string Pascal(string net) => string.Concat(net.Split('_').Select(w => w[..1] + w[1..].ToLowerInvariant()));
}

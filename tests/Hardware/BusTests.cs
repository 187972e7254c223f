namespace Intervalometer.Tests.Hardware;

/// <summary>The sums of the bus, against the standard's own and against the drawn board, with and without its optional part.</summary>
[TestClass]
public class BusTests
{
    private static readonly Bus Bus = new(Repo.Circuit, Repo.Facts);

    public TestContext TestContext { get; set; } = null!;

    [ClassInitialize]
    public static void Install(TestContext _) => Repo.Need("ngspice", "ngspice");

    /// <summary>UM10204, figure of the largest pull-up over the bus capacitance in fast mode: 100 pF at 300 ns, about 3.5 kohm.</summary>
    [TestMethod]
    public void ThePullUpLimitIsThatOfTheBusStandard() => Assert.AreEqual(3540, Bus.WeakestPullUp(300, 100), 5);

    [TestMethod]
    public void TheBusHoldsItsLimitsWithTheLightSensorAndWithoutIt()
    {
        foreach (var bus in new[] { Bus, Bus.WithoutOptional() })
        {
            var found = new List<Violation>();
            bus.Check(found);
            Assert.IsEmpty(found, string.Join("\n", found));
            foreach (var line in Bus.Lines)
            {
                TestContext.WriteLine($"{line}, {bus.Modules.Count} modules: {bus.Picofarads:F0} pF, rise {bus.RiseOf(line):F0} ns, {bus.Sink(line):F2} mA");
                Assert.IsLessThan(Repo.Facts["i2c_rise"], bus.RiseOf(line));
                Assert.IsLessThan(Repo.Facts["i2c_sink"], bus.Sink(line));
            }
        }

        CollectionAssert.AreEqual(new[] { "A3" }, Bus.Modules.Except(Bus.WithoutOptional().Modules).ToList());
        Assert.AreEqual(35, Bus.Picofarads - Bus.WithoutOptional().Picofarads, 1e-9, "one chip and a quarter of a metre of wire");
    }

    [TestMethod]
    public void TheTracksAreNoLongerThanTheSumSays()
    {
        var layout = new Layout(Repo.Circuit, Repo.Folder);
        foreach (var line in Bus.Lines)
        {
            var length = layout.Tracks.Where(t => t.Net == line && t.Layer != "via").Sum(t => t.Points.Zip(t.Points.Skip(1), (a, b) => Math.Sqrt(Math.Pow(a.X - b.X, 2) + Math.Pow(a.Y - b.Y, 2))).Sum());
            TestContext.WriteLine($"{line}: {length:F0} mm of track");
            Assert.IsGreaterThan(40.0, length);
            Assert.IsLessThanOrEqualTo(Repo.Facts["i2c_track_length"], length, line);
        }
    }

    /// <summary>A simulated line rises and is held low as the sums say: without a module's pull-ups, and with the strongest of three modules.</summary>
    [TestMethod]
    public void ASimulatedLineKeepsTheStandardsLimits()
    {
        var f = Repo.Facts;
        var line = Bus.Lines[0];
        var slow = SpiceTests.Run("bus.cir", ["low", "tr"], ("rup", Ohms(Bus.Weakest(line))), ("cbus", Bus.Picofarads.ToString("F1", System.Globalization.CultureInfo.InvariantCulture) + "p"));
        Assert.AreEqual(Bus.RiseOf(line) * 1e-9, slow["tr"], 2e-9);
        Assert.IsLessThan(f["i2c_rise"] * 1e-9, slow["tr"]);
        var own = 1 / (1 / Bus.Strongest(line) - Bus.Modules.Count / f["i2c_module_pull_low"]);
        var strong = SpiceTests.Run("bus.cir", ["low", "tr"], ("rup", Ohms(own)), ("rmod", Ohms(f["i2c_module_pull_low"] / Bus.Modules.Count)), ("v33", "3.366"));
        TestContext.WriteLine($"rise {slow["tr"] * 1e9:F0} ns, low {strong["low"]:F3} V");
        Assert.IsLessThan(0.4, strong["low"]);
        // Both limits can be broken: a line of 4.7 kohm is too slow, and a fourth module of 1 kohm asks for more than 3 mA.
        Assert.IsGreaterThan(f["i2c_rise"] * 1e-9, SpiceTests.Run("bus.cir", ["low", "tr"], ("rup", "4.7k"))["tr"]);
        Assert.IsGreaterThan(0.4, SpiceTests.Run("bus.cir", ["low", "tr"], ("rmod", "1k"))["low"]);
    }

    /// <summary>The page says that a longer wire, a fourth module and stronger pull-ups on the modules are refused.</summary>
    [TestMethod]
    public void WhatLeavesTheBoundsIsRefused()
    {
        var fourth = new Circuit(Repo.Circuit.Pins.Concat(Repo.Circuit.PinsOf("DS1").Select(p => p with { Reference = "DS2" })).ToList(), Repo.Circuit.Parts);
        foreach (var (what, bus) in new[]
                 {
                     ("ohm is weaker than", new Bus(Repo.Circuit, With("i2c_lead_light,0.25", "i2c_lead_light,0.35"))),
                     ("mA to pull low", new Bus(Repo.Circuit, With("i2c_module_pull_low,4700", "i2c_module_pull_low,2200"))),
                     ("mA to pull low", new Bus(fourth, Repo.Facts)),
                 })
        {
            var found = new List<Violation>();
            bus.Check(found);
            Assert.IsTrue(found.Any(v => v.Rule == "bus-pull-up" && v.Text.Contains(what, StringComparison.Ordinal)), $"{what}: [{string.Join(", ", found)}]");
        }
    }

    private static Facts With(string from, string to)
    {
        var text = File.ReadAllText(Path.Combine(Repo.Folder, "facts.csv"));
        Assert.Contains(from, text);
        var folder = Directory.CreateTempSubdirectory("facts").FullName;
        File.WriteAllText(Path.Combine(folder, "facts.csv"), text.Replace(from, to, StringComparison.Ordinal));
        return Facts.Load(folder);
    }

    private static string Ohms(double ohms) => ohms.ToString("F1", System.Globalization.CultureInfo.InvariantCulture);
}

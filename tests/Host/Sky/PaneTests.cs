using System.Globalization;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.Tests.Host.Sky;

/// <summary>What comes through the light sensor's pane at which angle: the sky's model against the light followed photon by photon, with the figures of hardware/box.csv.</summary>
[TestClass]
public class PaneTests
{
    private const int Photons = 60_000;
    // Mean way between two scatterings in opal acrylic, millimetres: from memory. A pane of 3 mm then lets through what its sheet calls 30 to 60 %.
    private const double Free = 1.0, FreeLeast = 0.7, FreeMost = 1.5;

    private static readonly Dictionary<string, double> Box = File.ReadLines(Path.Combine(Repository.Root, "hardware", "box.csv")).Skip(1)
        .Select(l => l.Split(',')).ToDictionary(f => f[0], f => double.Parse(f[1], CultureInfo.InvariantCulture));

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void TheModelsPaneLetsThroughWhatThePhotonsSay()
    {
        PaneLight pane = Pane(Free, Box["pane_thickness"] - Box["pane_bed"]);
        double head = pane.Area(90, Photons, 1), opening = Math.PI * Box["window"] * Box["window"] / 4;
        Assert.AreEqual(1.0 / 3, head / opening, 0.04, "a third comes through the pane into the well");
        for (int i = 0; i < SensorWindow.Heights.Count; i++)
        {
            double at = SensorWindow.Heights[i], through = pane.Area(at, Photons, 2) / head;
            TestContext.WriteLine($"{at} degrees: {through:F3}, sine {Math.Sin(at * Math.PI / 180):F3}");
            Assert.AreEqual(through, SensorWindow.Through[i], 0.002 + 0.03 * through, $"{at} degrees");
        }
    }

    /// <summary>Between panes that scatter more and less the answer to a low sun differs by less than a sixth, so that no pane needs to be measured.</summary>
    [TestMethod]
    [DataRow(FreeLeast)]
    [DataRow(FreeMost)]
    public void AnotherPaneDoesNearlyTheSame(double free)
    {
        PaneLight pane = Pane(free, Box["pane_thickness"] - Box["pane_bed"]);
        double through = pane.Area(5, Photons, 1) / pane.Area(90, Photons, 2);
        Assert.AreEqual(1, through / SensorWindow.Through[3], 1.0 / 6);
    }

    /// <summary>A pane that lies flush takes in a third of a sun at five degrees: why the edges stand out.</summary>
    [TestMethod]
    public void AFlushPaneTakesInTooLittleOfALowSun()
    {
        double flush = Pane(Free, 0).Area(5, Photons, 1) / Pane(Free, 0).Area(90, Photons, 2);
        Assert.AreEqual(0.36, flush / Math.Sin(5 * Math.PI / 180), 0.06);
        Assert.IsGreaterThan(1.7 * flush, SensorWindow.Through[3]);
    }

    /// <summary>On a leg that leans more or less than the collar is made for, the pane leans with it, and what comes from below its plane does not count.</summary>
    [TestMethod]
    public void ThePaneLeansWithTheLeg()
    {
        Assert.AreEqual(0.484, new SensorWindow().Response(0.5, 0.5), 1e-3, "30 degrees up");
        Assert.IsGreaterThan(new SensorWindow(25).Response(0.9, 0.44), new SensorWindow(30).Response(0.9, 0.44));
        Assert.AreEqual(0, new SensorWindow(30).Response(-0.998, 0.06));
        Assert.AreEqual(0, new SensorWindow().Response(0.99, -0.1));
    }

    private static PaneLight Pane(double free, double proud) => new(Box["pane"], Box["pane_thickness"], Box["window"], proud, (Box["collar_side"] - Box["pane"]) / 2 - Box["rim_wall"], free);
}

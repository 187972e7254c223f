using System.Globalization;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.Tests.Host.Sky;

/// <summary>What comes through the light sensor's pane at which angle: the sky's model against the light followed photon by photon, with the figures of hardware/box.csv.</summary>
[TestClass]
public class PaneTests
{
    private const int Photons = 40_000;
    // Mean way between two scatterings in opal acrylic, millimetres: from memory. A pane of 3 mm then lets through what its sheet calls 30 to 60 %.
    private const double Free = 1.0, FreeLeast = 0.7, FreeMost = 1.5;
    // Part of the light that the bed throws back, painted matt white: from memory, a little less than dry paint.
    private const double White = 0.8;

    private static readonly Dictionary<string, double> Box = File.ReadLines(Path.Combine(Repository.Root, "hardware", "box.csv")).Skip(1)
        .Select(l => l.Split(',')).ToDictionary(f => f[0], f => double.Parse(f[1], CultureInfo.InvariantCulture));

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void TheModelsPaneLetsThroughWhatThePhotonsSay()
    {
        var pane = new PaneLight(Fitted());
        double head = Head(pane), bore = Math.PI * Box["window"] * Box["window"] / 4;
        Assert.AreEqual(0.3, head / bore, 0.03, "three tenths come through the pane into the bore");
        for (int turn = 0; turn < SensorWindow.Turns.Count; turn++)
        {
            for (int i = 0; i < SensorWindow.Heights.Count - 1; i++)
            {
                double at = SensorWindow.Heights[i], through = pane.Area(at, SensorWindow.Turns[turn], Photons, 2) / head;
                TestContext.WriteLine($"{at} degrees, from {SensorWindow.Turns[turn]}: {through:F3}, sine {Math.Sin(at * Math.PI / 180):F3}");
                Assert.AreEqual(through, SensorWindow.Through[turn][i], 0.003 + 0.035 * through, $"{at} degrees, from {SensorWindow.Turns[turn]}");
            }
        }
    }

    /// <summary>
    /// Level ground takes in light by the sine of its height, upright ground that faces the camera by what comes from behind. The pane weighs the second by
    /// a quarter of the first, and from every other side it is within three tenths of the sine from 8 degrees on.
    /// </summary>
    [TestMethod]
    public void ThePaneWeighsLightFromBehindTheCameraByAQuarter()
    {
        var window = new SensorWindow();
        foreach (double height in new[] { 2.0, 5, 8, 15, 30 })
        {
            var (up, level) = Math.SinCos(height * Math.PI / 180);
            foreach (double turn in new[] { 0.0, 30, 45, 60 })
            {
                double behind = level * Math.Cos(turn * Math.PI / 180);
                Assert.AreEqual(0.25, (window.Response(-behind, up) - up) / behind, 0.06, $"{height} degrees, from {turn}");
            }
            if (height >= 8) foreach (double turn in new[] { 90.0, 120, 150, 180 }) Assert.AreEqual(1, window.Response(-level * Math.Cos(turn * Math.PI / 180), up) / up, 0.3, $"{height} degrees, from {turn}");
        }
    }

    /// <summary>Between panes that scatter more and less the weight of the light from behind, and the answer to a low sun, differ by less than a sixth, so that no pane needs to be measured. Nor does the paint of the bed.</summary>
    [TestMethod]
    [DataRow(FreeLeast, White)]
    [DataRow(FreeMost, White)]
    [DataRow(Free, 0.6)]
    public void AnotherPaneDoesNearlyTheSame(double free, double white)
    {
        var pane = new PaneLight(Fitted() with { Free = free, Bed = white });
        double head = Head(pane);
        foreach (int turn in new[] { 0, 2 }) Assert.AreEqual(1, pane.Area(5, SensorWindow.Turns[turn], Photons, 1) / head / SensorWindow.Through[turn][3], 1.0 / 6, $"from {SensorWindow.Turns[turn]}");
    }

    /// <summary>A pane that lies flush takes in a third of a sun at five degrees, and on a black bed less comes through: why the edges stand out, and why the bed is white.</summary>
    [TestMethod]
    public void AFlushPaneTakesInTooLittleOfALowSun()
    {
        var flush = new PaneLight(Fitted() with { Proud = 0, ProudBack = 0, Bed = 0 });
        double low = flush.Area(5, 90, Photons, 1) / Head(flush);
        Assert.AreEqual(0.36, low / Math.Sin(5 * Math.PI / 180), 0.07);
        Assert.IsGreaterThan(1.7 * low, SensorWindow.Through[2][3]);
        Assert.IsGreaterThan(1.2 * Head(new PaneLight(Fitted() with { Bed = 0 })), Head(new PaneLight(Fitted())));
    }

    /// <summary>On a leg that leans more or less than the collar is made for, the pane leans with it. What comes from below its plane counts only at the open edge, and not from below the end of its plate.</summary>
    [TestMethod]
    public void ThePaneLeansWithTheLeg()
    {
        // From 125 degrees round: between the rows of 90 and 135 by the cosine.
        Assert.AreEqual(0.518 + (0.552 - 0.518) * 0.5774 / 0.7071, new SensorWindow().Response(0.5, 0.5), 1e-3, "30 degrees up");
        Assert.IsGreaterThan(new SensorWindow(25).Response(0.9, 0.44), new SensorWindow(30).Response(0.9, 0.44));
        Assert.AreEqual(0, new SensorWindow(20).Response(0.998, 0.06));
        Assert.AreEqual(0, new SensorWindow().Response(0.99, -0.1));
        Assert.AreEqual(0, new SensorWindow().Response(-0.9, -0.436));
        Assert.IsTrue(new SensorWindow().Response(-0.99, -0.14) is > 0.1 and < 0.2);
    }

    private static double Head(PaneLight pane) => pane.Area(90, 90, 2 * Photons, 1);

    private static OpalPane Fitted() => new(
        Box["pane"], Box["pane_thickness"], Box["window"], Box["collar_slant"], Box["pane_thickness"] - Box["pane_bed"], Box["pane_thickness"],
        (Box["collar_side"] - Box["pane"]) / 2 - Box["rim_wall"], Box["collar_side"] / 2 - Box["rim_gap"], Free, White);
}

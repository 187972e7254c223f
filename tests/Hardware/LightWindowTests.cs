using System.Globalization;

namespace Intervalometer.Tests.Hardware;

/// <summary>
/// What the light sensor's pane sees past the printed box, by lines from the pane through the very bodies that are printed: no lamp on the
/// photographer's side, none of the box's own lights, and all of the sky in front.
/// </summary>
[TestClass]
public class LightWindowTests
{
    private static readonly BoxModel Box = new(new Layout(Repo.Circuit, Repo.Folder), Repo.Folder);
    private static readonly LightWindow Window = new(Box);
    private static readonly IReadOnlyList<PanelHole> Holes = PanelPicture.Load(Repo.Folder);
    private static readonly double Width = Box.Figures["width"], Height = Box.Figures["height"];
    private static Stl _body = null!;
    private static Stl _lid = null!;

    public TestContext TestContext { get; set; } = null!;

    [ClassInitialize]
    public static void Load(TestContext _)
    {
        _body = new(Path.Combine(BoxTests.Printed.Value, "body.stl"));
        _lid = new(Path.Combine(BoxTests.Printed.Value, "lid.stl"));
    }

    /// <summary>A head torch 0.35 to 1 m behind the window, 0.3 to 0.8 m over it and up to 0.5 m to a side, the box on a leg that leans 20 to 30 degrees (common practice, no source).</summary>
    [TestMethod]
    public void AHeadTorchOfTheOneWhoReadsTheDisplayIsHidden()
    {
        var lamps = 0;
        foreach (var lamp in Torches())
        {
            Assert.AreEqual(0.0, Seen(lamp, _lid), Text(lamp));
            lamps++;
        }

        Assert.IsGreaterThan(150, lamps);
    }

    [TestMethod]
    public void APeakThatIsTooShortIsSeen()
    {
        var file = Path.Combine(BoxTests.Printed.Value, "short.stl");
        Assert.AreEqual(0, Repo.Run("openscad", "-D", "part=\"lid\"", "-D", "peak_length=9", "-o", file, Path.Combine(Repo.Folder, "box", "box.scad")).Code);
        var stub = new Stl(file);
        Assert.IsTrue(Torches().Any(lamp => Seen(lamp, stub) > 0.5));
    }

    /// <summary>No point of the display and of the status light, which may stand 6 mm proud of the lid, lies before the plane of the pane; a light beyond the lid's edge would.</summary>
    [TestMethod]
    public void TheBoxsOwnLightsLieBehindThePane()
    {
        foreach (var hole in Holes.Where(h => h.Reference is "DS1" or "D5"))
        {
            TestContext.WriteLine($"{hole.Reference}: {Window.Behind(hole):F1} degrees off the axis");
            Assert.IsGreaterThan(95.0, Window.Behind(hole), hole.Reference);
            Assert.IsGreaterThan(95.0, Window.Behind(hole, 6), hole.Reference);
            Assert.IsLessThan(90.0, Window.Behind(hole with { Y = -hole.Height }), hole.Reference);
        }
    }

    [TestMethod]
    public void TheSkyInFrontIsSeenByTheWholePane()
    {
        foreach (var lean in new[] { 0.0, 20.0, 25.0, 30.0 })
        {
            foreach (var altitude in new[] { 5.0, 15.0, 30.0, 60.0 })
            {
                var (sin, cos) = Math.SinCos(altitude * Math.PI / 180);
                Assert.AreEqual(1.0, Seen(InBox(cos, sin, 0, lean), _lid), $"{altitude} degrees over the horizon in front, leaning {lean}");
            }
        }
    }

    /// <summary>The angles of the drawing are those of the printed bodies.</summary>
    [TestMethod]
    public void TheAnglesOfTheDrawingAreThoseOfTheBodies()
    {
        double At(double degrees) => Seen([0.01, Math.Cos(degrees * Math.PI / 180), Math.Sin(degrees * Math.PI / 180)], _lid);
        Assert.AreEqual(1.0, At(Window.OpenTo - 0.5));
        Assert.IsLessThan(1.0, At(Window.OpenTo + 2));
        Assert.IsGreaterThan(0.0, At(Window.HiddenFrom - 2));
        Assert.AreEqual(0.0, At(Window.HiddenFrom + 0.5));
        // Towards a side: 1 degree less than the limit is hidden, 6 degrees more is not.
        double Aside(double degrees) => Seen([Math.Sin(degrees * Math.PI / 180), 0.3, Math.Cos(degrees * Math.PI / 180)], _lid);
        Assert.AreEqual(0.0, Aside(Window.Sideways - 1));
        Assert.IsGreaterThan(0.0, Aside(Window.Sideways + 6));
    }

    /// <summary>What the pages say in degrees and shares is what the figures of the box give.</summary>
    [TestMethod]
    public void ThePageSaysTheSameFigures()
    {
        var page = string.Join(' ', File.ReadAllText(Path.Combine(Repo.Folder, "README.md")).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        string N(double value) => Math.Floor(value).ToString(CultureInfo.InvariantCulture);
        foreach (var text in new[]
                 {
                     $"{Math.Ceiling(Window.HiddenFrom):0} degrees or more off the window's axis",
                     $"up to {N(Window.HighestLamp(25))} degrees over the horizon behind the box on a leg that leans 25 degrees, {N(Window.HighestLamp(20))} on one that leans 20, {N(Window.HighestLamp(0))} when the box stands upright",
                     $"up to {N(Window.Sideways)} degrees to either side",
                     $"the display {N(Window.Behind(Holes.Single(h => h.Reference == "DS1")) - 90)} degrees and the status light {N(Window.Behind(Holes.Single(h => h.Reference == "D5")) - 90)} degrees behind the plane of the wall",
                     $"shades nothing up to {N(Window.OpenTo)} degrees",
                 })
        {
            Assert.IsTrue(page.Contains(text, StringComparison.Ordinal), text);
        }

        // The chip stands 3.0 mm high (VEML7700, form that looks upwards) and the foam is pressed to 2.2 mm.
        Assert.AreEqual(0.75, Window.Share(3.0, 2.2), 0.03);
        Assert.Contains("three quarters of the light behind the pane", page);
        var module = Box.Placed.Single(v => v.Name == "light sensor module");
        Assert.AreEqual(2.2, module.Y1 - Box.Figures["rim"], 1e-9, "the foam");
        Assert.AreEqual(Box.Figures["window_x"], (module.X1 + module.X2) / 2, 1e-9);
        Assert.AreEqual(Box.Figures["window_z"], (module.Z1 + module.Z2) / 2, 1e-9);
        var hole = Holes.Single(h => h.Face == "upper wall");
        Assert.AreEqual((Box.Figures["length"] - Box.Figures["window_x"], Height - Box.Figures["window_z"], Box.Figures["window"]), (hole.X, hole.Y, hole.Width));
    }

    private static IEnumerable<double[]> Torches() =>
        from lean in new[] { 20.0, 25.0, 30.0 }
        from behind in new[] { 0.35, 0.6, 1.0 }
        from over in new[] { 0.3, 0.5, 0.7, 0.8 }
        from side in new[] { -0.5, -0.25, 0.0, 0.25, 0.5 }
        select InBox(-behind, over, side, lean);

    /// <summary>From the world (forward where the camera looks, up, right) to the box: x along the lid's writing, y towards its upper edge, z out of the lid.</summary>
    private static double[] InBox(double forward, double up, double right, double lean)
    {
        var (sin, cos) = Math.SinCos(lean * Math.PI / 180);
        return [right, forward * sin + up * cos, -forward * cos + up * sin];
    }

    /// <summary>The part of the pane that sees something far away in a direction.</summary>
    private static double Seen(double[] direction, Stl lid) => Grid().Average(p => direction[1] <= 0 || Blocked(p, direction, lid) ? 0.0 : 1.0);

    /// <summary>Points over the outer face of the pane.</summary>
    private static IEnumerable<double[]> Grid()
    {
        const int steps = 4;
        var half = Box.Figures["pane"] / 2 - 0.05;
        return from i in Enumerable.Range(-steps, 2 * steps + 1)
               from j in Enumerable.Range(-steps, 2 * steps + 1)
               select new[] { Box.Figures["window_x"] + half * i / steps, Width + 0.01, Box.Figures["window_z"] + half * j / steps };
    }

    /// <summary>The lid lies on its face to be printed: turned about its long side.</summary>
    private static bool Blocked(double[] p, double[] d, Stl lid) => _body.Meets(p, d) || lid.Meets([p[0], Width - p[1], Height - p[2]], [d[0], -d[1], -d[2]]);

    private static string Text(double[] lamp) => FormattableString.Invariant($"lamp towards {lamp[0]:F2}, {lamp[1]:F2}, {lamp[2]:F2} of the box");
}

using System.Globalization;

namespace Intervalometer.Tests.Hardware;

/// <summary>
/// What the light sensor's pane sees past the printed box, by lines from the pane through the very bodies that are printed: the whole sky
/// when the box hangs on a leg, nothing of the ground by its edges, and none of the box's own lights.
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
    private static Stl _collar = null!;

    public TestContext TestContext { get; set; } = null!;

    [ClassInitialize]
    public static void Load(TestContext _)
    {
        _body = new(Path.Combine(BoxTests.Printed.Value, "body.stl"));
        _lid = new(Path.Combine(BoxTests.Printed.Value, "lid.stl"));
        _collar = new(Path.Combine(BoxTests.Printed.Value, "collar.stl"));
    }

    /// <summary>On a leg of 25 degrees the pane is level and its whole top sees the sky all round, down to a degree. On legs of 20 and 30 it is tilted by 5 degrees, and loses no more than that.</summary>
    [TestMethod]
    [DataRow(25.0, 1.0)]
    [DataRow(20.0, 6.0)]
    [DataRow(30.0, 6.0)]
    public void TheWholeSkyIsSeenByTheWholePane(double leg, double lowest)
    {
        foreach (var altitude in new[] { lowest, 10.0, 20.0, 30.0, 60.0, 85.0 })
        {
            foreach (var (forward, right) in Round())
            {
                Assert.AreEqual(1.0, Seen(OfWorld(altitude, forward, right, leg), _lid, _collar), $"{altitude} degrees over the horizon, {forward:F1} forward, {right:F1} to the right, on a leg of {leg}");
            }
        }
    }

    [TestMethod]
    public void ALowCollarIsSeenToHideTheSky()
    {
        var file = Path.Combine(BoxTests.Printed.Value, "low.stl");
        Assert.AreEqual(0, Repo.Run("openscad", "-D", "part=\"collar\"", "-D", "collar_height=0", "-o", file, Path.Combine(Repo.Folder, "box", "box.scad")).Code);
        Assert.IsLessThan(1.0, Seen(OfWorld(1, -1, 0, 25), _lid, new Stl(file), 0));
    }

    /// <summary>The rim hides all of a free edge from what lies level with the pane, and nothing of it from a higher light; its corners stand open, so that water runs off.</summary>
    [TestMethod]
    public void TheRimHidesWhatIsLevelWithThePaneAndLetsWaterOff()
    {
        var (half, bed, top) = (Box.Figures["pane"] / 2, Box.Figures["pane_bed"], Box.Figures["pane_thickness"]);
        double Edge(double degrees) => Enumerable.Range(1, 9).Average(i => Blocked(OnPane(0, -half - 0.01, bed + (top - bed) * i / 10), Tilted(Math.PI, degrees), _lid, _collar) ? 0.0 : 1.0);
        Assert.AreEqual(0.0, Edge(0.1));
        Assert.AreEqual(0.5, Edge(Window.RimTo / 2), 0.15);
        Assert.AreEqual(1.0, Edge(Window.RimTo + 0.5));
        var corner = Tilted(3 * Math.PI / 4, 0);
        Assert.IsFalse(Blocked(OnPane(half + 0.1, -half - 0.1, bed + 0.2), corner, _lid, _collar), "the corner stands open down to the plate");
        Assert.IsTrue(Blocked(OnPane(half + 0.3, -half - 0.3, bed - 0.2), corner, _lid, _collar), "below the plate it does not");
    }

    /// <summary>The edge on the side of the lid stands free: it sees a light that lies level with the pane, as far as the rims of the sides let it and but for a tenth that a lug of the lid may hide, and nothing that lies below the end of the plate.</summary>
    [TestMethod]
    public void TheEdgeOnTheSideOfTheLidStandsFree()
    {
        double Edge(double turn, double degrees) => (from x in new[] { -6.9, -3, 0, 3, 6.9 }
                                                     from i in Enumerable.Range(1, 9)
                                                     select Blocked(OnPane(x, Box.Figures["pane"] / 2 + 0.01, Box.Figures["pane_thickness"] * i / 10), Tilted(turn * Math.PI / 180, degrees), _lid, _collar) ? 0.0 : 1.0).Average();
        foreach (var turn in new[] { 0.0, 30, 60, -60 })
        {
            foreach (var degrees in new[] { 0.1, 5, 30 }) Assert.IsGreaterThan(0.9, Edge(turn, degrees), $"{turn}, {degrees}");
        }

        Assert.AreEqual(1.0, Edge(0, 0.1));
        Assert.AreEqual(0.5, Edge(0, -Window.PlateHides / 2), 0.1);
        Assert.AreEqual(0.0, Edge(0, -Window.PlateHides - 0.5));
        Assert.IsLessThan(1.0, Edge(80, 1));
    }

    /// <summary>No line leads from that edge to the display or the status light: the plate hides them.</summary>
    [TestMethod]
    public void TheOpenEdgeSeesNoneOfTheBoxsOwnLights()
    {
        var (half, top) = (Box.Figures["pane"] / 2, Box.Figures["pane_thickness"]);
        foreach (var hole in Holes.Where(h => h.Reference is "DS1" or "D5"))
        {
            foreach (var (from, hx, hy) in from x in new[] { -0.99, -0.5, 0, 0.5, 0.99 } from hx in new[] { -0.5, 0, 0.5 } from hy in new[] { -0.5, 0, 0.5 } select (x * half, hx, hy))
            {
                foreach (var proud in new[] { 0.1, 6.0 })
                {
                    var p = OnPane(from, half + 0.01, top - 0.05);
                    double[] way = [hole.X + hx * hole.Width - p[0], Width - (hole.Y + hy * hole.Height) - p[1], Height + proud - p[2]];
                    Assert.IsTrue(Blocked(p, way, _lid, _collar), $"{hole.Reference}, {from}, {hx}, {hy}, {proud} mm proud");
                }
            }
        }

        // A light that stood higher would be seen past the end of the plate.
        var led = Holes.Single(h => h.Reference == "D5");
        var upper = OnPane(0, half + 0.01, top - 0.05);
        Assert.IsFalse(Blocked(upper, [led.X - upper[0], Width - led.Y - upper[1], Height + 60 - upper[2]], _lid, _collar));
    }

    /// <summary>No point of the display and of the status light, which may stand 6 mm proud of the lid, lies over the plane of the pane; a light that stands off the lid would.</summary>
    [TestMethod]
    public void TheBoxsOwnLightsLieBehindThePane()
    {
        foreach (var hole in Holes.Where(h => h.Reference is "DS1" or "D5"))
        {
            TestContext.WriteLine($"{hole.Reference}: {Window.Behind(hole):F1} degrees off the axis");
            Assert.IsGreaterThan(95.0, Window.Behind(hole), hole.Reference);
            Assert.IsGreaterThan(95.0, Window.Behind(hole, 6), hole.Reference);
            Assert.IsLessThan(90.0, Window.Behind(hole, 120), hole.Reference);
        }
    }

    /// <summary>What the pages say in degrees and shares is what the figures of the box give.</summary>
    [TestMethod]
    public void ThePageSaysTheSameFigures()
    {
        var page = string.Join(' ', File.ReadAllText(Path.Combine(Repo.Folder, "README.md")).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        string N(double value) => Math.Floor(value).ToString(CultureInfo.InvariantCulture);
        foreach (var text in new[]
                 {
                     $"the edge of the lid lies {N(Window.LidBelow)} degrees below the plane of the pane",
                     $"the display {N(Window.Behind(Holes.Single(h => h.Reference == "DS1")) - 90)} degrees and the status light {N(Window.Behind(Holes.Single(h => h.Reference == "D5")) - 90)} degrees below the plane of the pane",
                     $"{N(Box.Figures["pane_thickness"] - Box.Figures["pane_bed"])} mm of three of its edges stand free",
                     $"all {N(Box.Figures["pane_thickness"])} mm of the fourth",
                     $"light from {N(Window.PlateHides)} degrees below the plane of the pane",
                     $"all of the edge from {N(Math.Round(Window.RimTo))} degrees on",
                 })
        {
            Assert.IsTrue(page.Contains(text, StringComparison.Ordinal), text);
        }

        // The chip stands 3.0 mm high (VEML7700, form that looks upwards) and the foam is pressed to 2.2 mm.
        Assert.AreEqual(0.36, Window.Share(3.0, 2.2, 0.85), 0.02);
        Assert.AreEqual(1.0 / 8, Window.Share(3.0, 2.2, 0) / Window.Share(3.0, 2.2, 0.85), 0.02, "a black bore");
        Assert.Contains("over a third of the light that comes through the pane", page);
        var module = Box.Placed.Single(v => v.Name == "light sensor module");
        Assert.AreEqual(2.2, module.Y1 - Box.Figures["rim"], 1e-9, "the foam");
        Assert.AreEqual(Box.Figures["window_x"], (module.X1 + module.X2) / 2, 1e-9);
        Assert.AreEqual(Box.Figures["window_z"], (module.Z1 + module.Z2) / 2, 1e-9);
        var hole = Holes.Single(h => h.Face == "upper wall");
        Assert.AreEqual((Box.Figures["length"] - Box.Figures["window_x"], Height - Box.Figures["window_z"], Box.Figures["window"]), (hole.X, hole.Y, hole.Width));
    }

    private static IEnumerable<(double Forward, double Right)> Round() => Enumerable.Range(0, 24).Select(i => (Math.Cos(i * Math.PI / 12), Math.Sin(i * Math.PI / 12 + 0.01)));

    /// <summary>From the world (forward where the camera looks, up, right) to the box: x along the lid's writing, y towards its upper edge, z out of the lid.</summary>
    private static double[] OfWorld(double altitude, double forward, double right, double leg)
    {
        var ((sin, cos), (up, level)) = (Math.SinCos(leg * Math.PI / 180), Math.SinCos(altitude * Math.PI / 180));
        return [level * right, level * forward * sin + up * cos, -level * forward * cos + up * sin];
    }

    /// <summary>A point by its place along the pane (along the lid's writing, and towards the lid) and over the pane's underside.</summary>
    private static double[] OnPane(double x, double along, double above, double? height = null)
    {
        var (sin, cos) = Math.SinCos(Box.Figures["collar_slant"] * Math.PI / 180);
        return [Box.Figures["window_x"] + x, Width + (height ?? Box.Figures["collar_height"]) - along * sin + above * cos, Box.Figures["window_z"] + along * cos + above * sin];
    }

    /// <summary>A direction so many degrees over the plane of the pane, turned from the lid's side by an angle.</summary>
    private static double[] Tilted(double turn, double degrees)
    {
        var ((sin, cos), (up, level)) = (Math.SinCos(Box.Figures["collar_slant"] * Math.PI / 180), Math.SinCos(degrees * Math.PI / 180));
        var (x, along) = (level * Math.Sin(turn), level * Math.Cos(turn));
        return [x, -along * sin + up * cos, along * cos + up * sin];
    }

    /// <summary>The part of the pane's top that sees something far away in a direction.</summary>
    private static double Seen(double[] direction, Stl lid, Stl collar, double? height = null)
    {
        const int steps = 3;
        var (half, top) = (Box.Figures["pane"] / 2 - 0.05, Box.Figures["pane_thickness"] + 0.01);
        return (from i in Enumerable.Range(-steps, 2 * steps + 1)
                from j in Enumerable.Range(-steps, 2 * steps + 1)
                select Blocked(OnPane(half * i / steps, half * j / steps, top, height), direction, lid, collar) ? 0.0 : 1.0).Average();
    }

    /// <summary>The lid lies on its face to be printed: turned about its long side. The collar stands on its foot.</summary>
    private static bool Blocked(double[] p, double[] d, Stl lid, Stl collar) =>
        _body.Meets(p, d) || lid.Meets([p[0], Width - p[1], Height - p[2]], [d[0], -d[1], -d[2]])
        || collar.Meets([p[0] - Box.Figures["window_x"], p[2] - Box.Figures["window_z"], p[1] - Width], [d[0], d[2], d[1]]);
}

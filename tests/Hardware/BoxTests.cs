using System.Text.RegularExpressions;

namespace Intervalometer.Tests.Hardware;

/// <summary>The box to print: nothing in it collides, its walls hold, its bodies are closed, and it fits the board and the panel.</summary>
[TestClass]
public class BoxTests
{
    private const double Air = 1;
    private static readonly BoxModel Box = new(new Layout(Repo.Circuit, Repo.Folder), Repo.Folder);
    private static readonly double Width = Box.Figures["width"];
    private static string _out = "";

    /// <summary>The files to print, made once for all tests; the command ends with an error when a part cuts into a wall, a rib or a post.</summary>
    public static readonly Lazy<string> Printed = new(() =>
    {
        Repo.Need("openscad", "openscad");
        Repo.Need("admesh", "admesh");
        var folder = Directory.CreateTempSubdirectory("box").FullName;
        var (code, output) = Repo.Run("bash", Path.Combine(Repo.Folder, "tools", "box.sh"), folder);
        Assert.AreEqual(0, code, output);
        return folder;
    });

    public TestContext TestContext { get; set; } = null!;

    [ClassInitialize]
    public static void Make(TestContext _) => _out = Printed.Value;

    [TestMethod]
    public void NothingCollides()
    {
        var clashes = Clashes(Box.Volumes);
        Assert.IsEmpty(clashes, string.Join("\n", clashes));
        Assert.IsGreaterThan(80, Box.Volumes.Count);
    }

    [TestMethod]
    public void EachCollisionIsSeen()
    {
        Volume Find(string name) => Box.Volumes.First(v => v.Name == name);
        List<string> With(string name, Func<Volume, Volume> change) => Clashes(Box.Volumes.Select(v => v.Name == name ? change(v) : v).ToList());
        Assert.IsNotEmpty(With("cell", v => v with { X1 = v.X1 - 11, X2 = v.X2 - 11 }), "the cell under the circuit board");
        Assert.IsNotEmpty(With("S5 body", v => v with { Z1 = v.Z2 - 41 }), "a button as deep as the ESP32 board");
        Assert.IsNotEmpty(With("S6 body", v => v with { Y1 = v.Y1 + 4, Y2 = v.Y2 + 4 }), "Fire into the power switch");
        Assert.IsNotEmpty(With("clock module", v => v with { Z2 = 37 }), "a higher clock module under the buttons");
        Assert.IsNotEmpty(With("display", v => v with { X2 = v.X2 + 9 }), "a wider display beside Mark");
        Assert.IsNotEmpty(With("light sensor module", v => v with { Y2 = v.Y2 + 2 }), "a thicker light sensor module behind the display");
        Assert.IsGreaterThanOrEqualTo(0.0, Find("circuit board").Gap(Find("cell")));
    }

    [TestMethod]
    public void EverythingIsWithinTheWalls()
    {
        var f = Box.Figures;
        CollectionAssert.AreEqual(new[] { ("lid", f["length"], Width), ("left end", Width, f["height"]), ("right end", Width, f["height"]) }, PanelPicture.Faces.ToList(), "the drawing of the holes has the box's faces");
        foreach (var v in Box.Volumes)
        {
            Assert.IsTrue(v.X1 >= f["wall"] && v.X2 <= f["length"] - f["wall"] && v.Y1 >= f["wall"] && v.Y2 <= Width - f["wall"] && v.Z1 >= f["floor"] && v.Z2 <= f["height"] - f["lid"], $"{v}");
        }

        // The circuit board passes the opening inside the rim.
        var board = Box.Placed.First(v => v.Name == "circuit board");
        Assert.IsGreaterThan(board.Y2 - board.Y1 + 1, Width - 2 * f["rim"]);
    }

    [TestMethod]
    public void AWallThatIsCutIsSeen()
    {
        // The same drawing with one volume inside a wall: the common body is not empty.
        var (code, output) = Repo.Run("openscad", "-D", "part=\"clash_lid\"", "-D", "part_volumes=[[1,1,60,8,8,69]]", "-o", Path.Combine(_out, "cut.stl"), Path.Combine(Repo.Folder, "box", "box.scad"));
        Assert.AreEqual(0, code, output);
        Assert.IsFalse(output.Contains("top level object is empty", StringComparison.Ordinal));
    }

    [TestMethod]
    [DataRow("body")]
    [DataRow("lid")]
    [DataRow("mask")]
    [DataRow("collar")]
    public void TheBodiesAreClosed(string part)
    {
        var report = File.ReadAllText(Path.Combine(_out, part + ".txt"));
        foreach (var line in new[] { "Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed" })
        {
            Assert.IsTrue(Regex.IsMatch(report, line + @" +: +0\b"), $"{part}: {line}\n{report}");
        }

        Assert.IsGreaterThan(2000.0, double.Parse(Regex.Match(report, @"Volume +: +([\d.]+)").Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture));
    }

    [TestMethod]
    [DataRow("body", 1.7)]
    [DataRow("lid", 1.3)]
    [DataRow("mask", 0.9)]
    [DataRow("collar", 0.7)]
    public void WallsAreTwoMillimetres(string part, double step)
    {
        var (thickness, where) = new Stl(Path.Combine(_out, part + ".stl")).Thinnest(step);
        TestContext.WriteLine($"{part}: thinnest {thickness:F2} mm, {where}");
        // The tongue of the lid stands 0.8 mm proud of a plate of 3 mm; lines across it meet 2 mm.
        Assert.IsGreaterThanOrEqualTo(1.999, thickness, $"{part}: {where}");
    }

    /// <summary>Without the optional light sensor the upper wall is closed and as thick as the others.</summary>
    [TestMethod]
    public void ABoxWithoutTheLightSensorHasNoWindow()
    {
        Assert.AreEqual(0, Repo.Run("openscad", "-D", "part=\"body\"", "-D", "light=false", "-o", Path.Combine(_out, "plain-body.stl"), Path.Combine(Repo.Folder, "box", "box.scad")).Code);

        var (x, z) = (Box.Figures["window_x"] + 0.01, Box.Figures["window_z"] + 0.02);
        double Upper(string file) => new Stl(Path.Combine(_out, file)).Solid(1, x, z).Where(s => s.To > Width - 10).Sum(s => s.To - s.From);
        Assert.AreEqual(Box.Figures["wall"], Upper("plain-body.stl"), 1e-6);
        Assert.AreEqual(0.0, Upper("body.stl"), "with the window the wall is open there");
    }

    [TestMethod]
    public void AThinWallIsSeen()
    {
        var file = Path.Combine(_out, "thin.stl");
        Assert.AreEqual(0, Repo.Run("openscad", "-D", "part=\"lid\"", "-D", "lid=1.5", "-o", file, Path.Combine(Repo.Folder, "box", "box.scad")).Code);
        Assert.IsLessThan(1.6, new Stl(file).Thinnest(7).Thickness);
    }

    [TestMethod]
    public void PostsStandUnderTheHolesOfTheBoard()
    {
        var body = new Stl(Path.Combine(_out, "body.stl"));
        var layout = new Layout(Repo.Circuit, Repo.Folder);
        var under = Box.Figures["floor"] + Box.Figures["post"];
        Assert.AreEqual(under, Box.Placed.First(v => v.Name == "circuit board").Z1, 1e-9);
        foreach (var hole in layout.Features.Where(f => f.Kind == "hole"))
        {
            var (x, y) = (Box.Figures["board_x"] + hole.X1, Width - Box.Figures["board_y"] - hole.Y1);
            Assert.AreEqual(Box.Figures["floor"], body.Solid(2, x + 0.01, y + 0.02)[0].To, 0.01, $"{hole.Name}: the screw's hole ends at the floor");
            Assert.AreEqual(under, body.Solid(2, x + 2.5, y + 0.02)[0].To, 0.01, $"{hole.Name}: the post carries the board");
        }
    }

    [TestMethod]
    public void EveryHoleOfThePanelIsThere()
    {
        var lid = new Stl(Path.Combine(_out, "lid.stl"));
        var body = new Stl(Path.Combine(_out, "body.stl"));
        foreach (var h in PanelPicture.Load(Repo.Folder))
        {
            // The lid lies on its face to be printed, turned about its long side: its y counts as the drawing's does.
            var (stl, axis, u, v) = h.Face switch
            {
                "lid" => (lid, 2, h.X, h.Y),
                "left end" => (body, 0, Width - h.X, Box.Figures["height"] - h.Y),
                "upper wall" => (body, 1, Box.Figures["length"] - h.X, Box.Figures["height"] - h.Y),
                _ => (body, 0, h.X, Box.Figures["height"] - h.Y),
            };
            bool Open(double du, double dv) => stl.Solid(axis, u + du, v + dv).All(s => h.Face switch
            {
                "lid" => false,
                "left end" => s.From > 5 || s.To < -0.001,
                "upper wall" => s.To < Width - 10,
                _ => s.To < Box.Figures["length"] - 5,
            });
            Assert.IsTrue(Open(0.01, 0.02) && Open(h.Width / 2 - 0.3, 0.02) && Open(0.02, (h.Round ? h.Width : h.Height) / 2 - 0.3), $"{h.Reference} is no hole of the {h.Face}");
            Assert.IsFalse(Open(h.Width / 2 + 0.3, 0.02) && Open(0.02, (h.Round ? h.Width : h.Height) / 2 + 0.3), $"{h.Reference} is too large a hole");
        }
    }

    /// <summary>Pairs that come nearer than a millimetre; what is soldered to the board is held apart by KiCad's courtyards instead.</summary>
    private static List<string> Clashes(IReadOnlyList<Volume> volumes)
    {
        var soldered = Repo.Circuit.References.ToHashSet();
        bool OnBoard(Volume v) => soldered.Contains(v.Name.Split(' ')[0]) && !v.Name.EndsWith("body", StringComparison.Ordinal);
        bool Plugged(Volume a, Volume b) => (a.Name, b.Name) is ("ESP32 board", "U1") or ("ESP32 board", "U1 second socket") or ("clock module", "A1") || (a.Name == "circuit board" && OnBoard(b));
        var found = new List<string>();
        for (var i = 0; i < volumes.Count; i++)
        {
            for (var j = i + 1; j < volumes.Count; j++)
            {
                var (a, b) = (volumes[i], volumes[j]);
                var least = Plugged(a, b) || Plugged(b, a) ? 0 : Air;
                if (!(OnBoard(a) && OnBoard(b)) && a.Gap(b) < least - 1e-9)
                {
                    found.Add($"{a.Name} and {b.Name}: {a.Gap(b):F1} mm");
                }
            }
        }

        return found;
    }
}

using System.Globalization;
using System.Text.RegularExpressions;

namespace Intervalometer.Tests.Hardware;

/// <summary>
/// The printed circuit board: KiCad's own design rule check, and a check of our own that reads the filled board file and joins copper by
/// geometry alone. Each check is also shown boards with a mistake, and must find it.
/// </summary>
[TestClass]
public class BoardTests
{
    private static readonly Layout Layout = new(Repo.Circuit, Repo.Folder);
    private static string _out = "";
    private static string _text = "";
    private static BoardCopper _copper = null!;

    public TestContext TestContext { get; set; } = null!;

    [ClassInitialize]
    public static void Check(TestContext _)
    {
        Repo.Need("pcbnew", "kicad");
        _out = Kicad(File.ReadAllText(Path.Combine(Repo.Folder, "kicad", "intervalometer.kicad_pcb")));
        _text = File.ReadAllText(Path.Combine(_out, "filled.kicad_pcb"));
        _copper = new(_text);
    }

    [TestMethod]
    public void KicadsDesignRuleCheckIsClean()
    {
        var report = File.ReadAllText(Path.Combine(_out, "DRC.rpt"));
        foreach (var line in new[] { "Found 0 DRC violations", "Found 0 unconnected pads", "Found 0 Footprint errors" })
        {
            Assert.Contains(line, report);
        }
    }

    [TestMethod]
    public void KicadsDesignRuleCheckSeesABrokenBoard()
    {
        var board = File.ReadAllText(Path.Combine(Repo.Folder, "kicad", "intervalometer.kicad_pcb"));
        // One board with three mistakes: a lost track, two parts in one place, and copper of the box near the camera's.
        var lost = new Regex(@"\(segment [^\n]*\n").Replace(board, "", 1);
        lost = lost.Replace(At("R1"), At("R4"), StringComparison.Ordinal);
        var gnd = Regex.Match(board, @"\(net (\d+) ""GND""\)").Groups[1].Value;
        lost = lost[..lost.LastIndexOf(')')] + $"(segment (start 16 10) (end 22 10) (width 0.4) (layer \"F.Cu\") (net {gnd}) (tstamp 00000000-0000-4000-8000-000000000001))\n" +
            $"(segment (start 12.84 27) (end 12.84 20) (width 0.4) (layer \"F.Cu\") (net {NetNumber(board, "CAM_COMMON")}) (tstamp 00000000-0000-4000-8000-000000000002)))\n";
        lost = lost.Replace("(segment (start 16 10)", "(segment (start 14.4 12) (end 16 10) (width 0.4) (layer \"F.Cu\") (net " + gnd + ") (tstamp 00000000-0000-4000-8000-000000000003))\n(segment (start 16 10)", StringComparison.Ordinal);
        var report = File.ReadAllText(Path.Combine(Kicad(lost), "DRC.rpt"));
        Assert.IsFalse(report.Contains("Found 0 unconnected pads", StringComparison.Ordinal), "a lost track");
        Assert.Contains("[courtyards_overlap]", report);
        Assert.Contains("camera side", report);
    }

    [TestMethod]
    public void TheCopperMakesExactlyTheNetsOfTheTable()
    {
        var wrong = NetFaults(_copper);
        Assert.IsEmpty(wrong, string.Join("\n", wrong));
    }

    [TestMethod]
    public void CameraAndBoxAreEightMillimetresApart()
    {
        var least = CameraGap(_copper);
        TestContext.WriteLine($"copper of the camera and of the box: {least:F2} mm apart at the nearest");
        Assert.IsGreaterThanOrEqualTo(Layout.CameraDistance, least);
        // The couplers stand over a slot at least 6 mm wide that reaches past their pads.
        var slot = Layout.Features.Single(f => f.Kind == "slot");
        Assert.IsGreaterThanOrEqualTo(6.0, slot.X2 - slot.X1);
        foreach (var pad in Layout.Pads.Where(p => Layout.IsCamera(p.Pin.Net)))
        {
            Assert.IsTrue(pad.Y - slot.Y1 >= Layout.CameraDistance && slot.Y2 - pad.Y >= Layout.CameraDistance, $"the way round the slot's end from {pad.Pin.Key} is shorter than {Layout.CameraDistance} mm");
        }

        foreach (var corner in new[] { (slot.X1, slot.Y1), (slot.X2, slot.Y1), (slot.X2, slot.Y2), (slot.X1, slot.Y2) })
        {
            Assert.IsTrue(_copper.Slots.Any(l => BoardCopper.To(corner, l.A, l.B) < 0.001), "the slot is cut in the board file");
        }
    }

    /// <summary>
    /// IPC-2221, external copper of 35 um: I = 0.048 dT^0.44 A^0.725 (A in square mils; formula from memory). The cell's path must carry
    /// the fuse's trip current, twice its hold, with 20 K of warming; a via counts as wide as its plating of 18 um.
    /// </summary>
    [TestMethod]
    public void TheCellsPathCarriesTheFusesTripCurrent()
    {
        var amperes = 2 * Repo.Facts["fuse_hold"] / 1e3;
        var needed = TrackFor(amperes, 20);
        Assert.AreEqual(0.586, TrackFor(2.2, 20), 0.02, "the formula, worked by hand");
        Assert.IsGreaterThan(needed, Math.PI * Layout.ViaDrill * 18 / 35, "a via of the path");
        TestContext.WriteLine($"{amperes:F1} A ask for {needed:F2} mm");
        var wrong = PathFaults(_copper, needed);
        Assert.IsEmpty(wrong, string.Join("\n", wrong));
    }

    [TestMethod]
    public void TheRingIsGroundAndHoldsNothingElse()
    {
        var ring = Layout.Features.Single(f => f.Kind == "guard");
        bool Within(Copper p) => p.Points.All(q => q.X > ring.X1 && q.X < ring.X2 && q.Y > ring.Y1 && q.Y < ring.Y2);
        var groups = _copper.Groups();
        foreach (var net in new[] { "HOLD", "HOLD_REF" })
        {
            foreach (var piece in Group(groups, net))
            {
                Assert.IsTrue(Within(piece), $"{net}: {piece.Kind} {piece.Owner} at {piece.Points[0]} is outside the ring");
            }
        }

        var allowed = new[] { "GND", "HOLD", "HOLD_REF" }.SelectMany(n => Group(groups, n)).ToHashSet();
        foreach (var piece in _copper.Pieces.Where(p => p.Kind != "area" && Within(p)))
        {
            Assert.Contains(piece, allowed, $"{piece.Kind} {piece.Owner} at {piece.Points[0]} is inside the ring");
        }

        // On both sides the ring is copper of GND, closed, and free of solder mask.
        foreach (var layer in new[] { "F", "B" })
        {
            var sides = Group(groups, "GND").Where(p => p.Kind == "track" && p.Layer == layer + ".Cu").ToList();
            foreach (var corner in new[] { (ring.X1, ring.Y1), (ring.X2, ring.Y1), (ring.X2, ring.Y2), (ring.X1, ring.Y2) })
            {
                Assert.HasCount(2, sides.Where(s => s.Points.Any(p => Math.Abs(p.X - corner.Item1) + Math.Abs(p.Y - corner.Item2) < 0.001)).ToList(), $"the ring is closed at {corner} on {layer}");
            }

            Assert.HasCount(4, Regex.Matches(_text, $@"\(gr_line [^\n]*\(layer ""{layer}.Mask""\)"), "bare of mask");
        }
    }

    [TestMethod]
    public void TheOwnCheckFindsEachMistake()
    {
        var trackOf = new Func<string, Match>(net => Regex.Matches(_text, $@"\(segment \(start [^\n]*\(net {NetNumber(_text, net)}\)[^\n]*\n").OrderByDescending(m => Length(m.Value)).First());
        var add = new Func<string, string>(line => _text[.._text.LastIndexOf(')')] + line + ")\n");
        (string What, string Text, Func<BoardCopper, bool> Found)[] mistakes =
        [
            ("a lost track", _text.Replace(trackOf("SHUTTER").Value, "", StringComparison.Ordinal), c => NetFaults(c).Count > 0),
            ("a bridge from V33 to the camera", add("(segment (start 92 25) (end 12.84 30) (width 0.4) (layer \"F.Cu\") (net 0) (tstamp 00000000-0000-4000-8000-000000000001))\n"), c => NetFaults(c).Count > 0 && CameraGap(c) < 8),
            ("a short of two buttons that names a net of its own", add("(segment (start 24 18.66) (end 36.2 18.66) (width 0.4) (layer \"B.Cu\") (net 0) (tstamp 00000000-0000-4000-8000-000000000001))\n"), c => NetFaults(c).Count > 0),
            ("copper of the box half way into the gap", add("(segment (start 19 10) (end 24 10) (width 0.4) (layer \"B.Cu\") (net 0) (tstamp 00000000-0000-4000-8000-000000000001))\n(segment (start 12.84 30) (end 12.84 12) (width 0.4) (layer \"F.Cu\") (net 0) (tstamp 00000000-0000-4000-8000-000000000002))\n"), c => CameraGap(c) < 8),
            ("a thin track in the cell's path", _text.Replace(trackOf("BAT_P").Value, trackOf("BAT_P").Value.Replace("(width 1.5)", "(width 0.4)", StringComparison.Ordinal), StringComparison.Ordinal), c => PathFaults(c, 0.59).Count > 0),
            ("the two pins of the cell's plug bridged", add("(segment (start 97 57.5) (end 97 60.04) (width 0.4) (layer \"B.Cu\") (net 0) (tstamp 00000000-0000-4000-8000-000000000001))\n"), c => NetFaults(c).Count > 0),
        ];
        foreach (var (what, text, found) in mistakes)
        {
            Assert.AreNotEqual(_text, text, what);
            Assert.IsTrue(found(new(text)), $"not found: {what}");
        }
    }

    [TestMethod]
    public void EveryPadIsNamedOnTheBoard()
    {
        // Wires land on pads with names, and the test pads carry the net's name.
        foreach (var reference in Repo.Circuit.References.Where(r => Repo.Circuit.PartOf(r).Kind == "test-pad"))
        {
            Assert.Contains($"(fp_text user \"{Repo.Circuit.PinsOf(reference)[0].Net}\"", _text);
        }

        foreach (var pin in new[] { "B+", "B-", "OUT+", "OUT-", "TIP", "RING", "SLEEVE", "VCC", "SDA", "SCL" })
        {
            Assert.Contains($"(fp_text user \"{pin}\"", _text);
        }

        foreach (var button in ElectricalRules.Buttons)
        {
            Assert.Contains($"(gr_text \"{button}\"", _text);
        }
    }

    [TestMethod]
    public void TheMakersFilesAreWhole()
    {
        foreach (var file in new[] { "F_Cu.gtl", "B_Cu.gbl", "F_Mask.gts", "B_Mask.gbs", "F_Silkscreen.gto", "Edge_Cuts.gm1" })
        {
            Assert.IsGreaterThan(500, new FileInfo(Path.Combine(_out, "gerber", "filled-" + file)).Length, file);
            Assert.EndsWith("M02*", File.ReadAllText(Path.Combine(_out, "gerber", "filled-" + file)).TrimEnd(), file);
        }

        // Excellon: as many hits as the table has pads and the tracks have vias, and four mounting holes.
        Assert.AreEqual(Layout.Pads.Count + Layout.Tracks.Count(t => t.Layer == "via"), Hits("PTH"));
        Assert.AreEqual(4, Hits("NPTH"));
        var placed = File.ReadAllLines(Path.Combine(_out, "placement.csv")).Skip(1).Select(l => l.Split(',')[0]).Order(StringComparer.Ordinal).ToList();
        CollectionAssert.AreEqual(Repo.Circuit.References.Order(StringComparer.Ordinal).ToList(), placed);
    }

    [TestMethod]
    public void EveryReferenceIsInExactlyOneStep() =>
        CollectionAssert.AreEqual(Repo.Circuit.References.Where(r => Repo.Circuit.PartOf(r).Kind != "test-pad").Order(StringComparer.Ordinal).ToList(), Layout.Steps.SelectMany(s => s.References).Order(StringComparer.Ordinal).ToList());

    [TestMethod]
    public void TheStepPicturesShowNoWires()
    {
        // The board makes the connections: a picture that drew lines from hole to hole was once read as a short of the cell.
        foreach (var step in Layout.Steps)
        {
            var picture = File.ReadAllText(Path.Combine(Repo.Folder, "pictures", $"step-{step.Number:00}.svg"));
            var pads = Layout.Pads.Select(p => (X: N(p.X), Y: N(p.Y))).ToHashSet();
            foreach (Match line in Regex.Matches(picture, @"<line x1=""([^""]*)"" y1=""([^""]*)"" x2=""([^""]*)"" y2=""([^""]*)"""))
            {
                Assert.IsFalse(pads.Contains((line.Groups[1].Value, line.Groups[2].Value)) && pads.Contains((line.Groups[3].Value, line.Groups[4].Value)), $"step {step.Number} draws a line from pad to pad: {line.Value}");
            }
        }
    }

    [TestMethod]
    public void PanelPartsFitAndGlovesToo()
    {
        var holes = PanelPicture.Load(Repo.Folder);
        foreach (var (face, width, height) in PanelPicture.Faces)
        {
            var here = holes.Where(h => h.Face == face).ToList();
            Assert.IsNotEmpty(here);
            foreach (var h in here)
            {
                var (rx, ry) = (Math.Max(h.Head, h.Width) / 2, Math.Max(h.Head, h.Height) / 2);
                Assert.IsTrue(h.X - rx >= 6 && h.X + rx <= width - 6 && h.Y - ry >= 6 && h.Y + ry <= height - 6, $"{h.Reference} is less than 6 mm from the edge of the {face}");
                foreach (var other in here.Where(o => o != h))
                {
                    var gap = Math.Sqrt(Math.Pow(h.X - other.X, 2) + Math.Pow(h.Y - other.Y, 2)) - Math.Max(h.Head, h.Width) / 2 - Math.Max(other.Head, other.Width) / 2;
                    Assert.IsGreaterThanOrEqualTo(5.0, gap, $"{h.Reference} and {other.Reference} are {gap:F1} mm apart");
                }
            }
        }

        // MIL-STD-1472: push buttons for gloved fingers 19 mm or more (from memory); 10 mm of free panel between the two big ones and any other (common practice, no source).
        var big = holes.Where(h => h.Label is "MARK" or "FIRE").ToList();
        Assert.HasCount(2, big);
        foreach (var h in holes.Where(h => h.Label.Length > 0 && h.Face == "lid"))
        {
            Assert.IsGreaterThanOrEqualTo(big.Contains(h) ? 25.0 : 19.0, h.Head, h.Label);
            foreach (var other in big.Where(o => o != h))
            {
                var gap = Math.Sqrt(Math.Pow(h.X - other.X, 2) + Math.Pow(h.Y - other.Y, 2)) - h.Head / 2 - other.Head / 2;
                Assert.IsGreaterThanOrEqualTo(10.0, gap, $"{h.Label} and {other.Label}");
            }
        }
    }

    [TestMethod]
    public void AMorningInTheColdIsCovered()
    {
        var power = new PowerBudget(Repo.Circuit, Repo.Facts, Repo.Folder);
        var (idle, armed, exposing, asleep) = (power.Modes[0], power.Modes[1], power.Modes[2], power.Modes[3]);
        Assert.IsGreaterThan(4.0, power.Usable(-20, Repo.Facts["cell_capacity"]) / exposing.High, "hours of open shutter at -20 C");
        // Boards without and with PSRAM, each with the source of its figure; the best known one is far from the board that the parts list asks for.
        Assert.IsTrue(power.Boards.Any(b => b.Psram == "yes") && power.Boards.Any(b => b.Psram == "no") && power.Boards.All(b => b.Source.Length > 20 && b.Cut.Length > 0));
        Assert.IsTrue(power.Boards.Where(b => b.Psram != "either").All(b => power.SleepDays(b.Milliamps) is > 5 and < 25));
        Assert.IsGreaterThan(14.0, power.Usable(20, Repo.Facts["cell_capacity"]) / asleep.High / 24, "days asleep");
        Assert.IsTrue(asleep.High < idle.Low / 10 && armed.High < idle.High && exposing.High < idle.High, "the lit display costs more than the contacts");
        Assert.IsLessThan(Repo.Facts["fuse_hold"] * Repo.Facts["fuse_hold_60"], Repo.Facts["inrush"] + power.Modes.Max(m => m.High), "the fuse holds at 60 C");
    }

    /// <summary>Each group of joined copper must hold exactly the pads of one net; a pad that is left open is alone.</summary>
    private static List<string> NetFaults(BoardCopper copper)
    {
        var expected = Layout.Pads.Select(p => p.Pin).GroupBy(p => p.IsOpen ? p.Key : p.Net).Select(g => string.Join(" ", g.Select(p => p.Key).Order(StringComparer.Ordinal))).Order(StringComparer.Ordinal).ToList();
        var found = copper.Groups().Select(g => string.Join(" ", g.Where(p => p.Kind == "pad").Select(p => p.Owner).Order(StringComparer.Ordinal))).Where(g => g.Length > 0).Order(StringComparer.Ordinal).ToList();
        return found.Except(expected).Select(g => $"joined, but no net of the table: {g}").Concat(expected.Except(found).Select(g => $"a net of the table, but not joined so: {g}")).ToList();
    }

    private static double CameraGap(BoardCopper copper)
    {
        var groups = copper.Groups();
        var camera = groups.Where(g => g.Any(p => Layout.Pads.Any(q => Layout.IsCamera(q.Pin.Net) && q.Pin.Key == p.Owner))).SelectMany(g => g).ToHashSet();
        return camera.SelectMany(c => copper.Pieces.Where(p => !camera.Contains(p)).Select(p => BoardCopper.Gap(c, p))).DefaultIfEmpty(0).Min();
    }

    /// <summary>Without the tracks that are too thin, the parts of the path must still be joined; a divider or a test pad needs no wide track.</summary>
    private static List<string> PathFaults(BoardCopper copper, double width)
    {
        var wide = copper.Groups(width);
        var wrong = new List<string>();
        foreach (var net in new[] { "BAT_RAW", "BAT_P", "BAT_N", "PACK_OUT", "V_SWITCHED" })
        {
            var pins = Repo.Circuit.Pins.Where(p => p.Net == net && Repo.Circuit.PartOf(p.Reference).Kind is not ("resistor" or "test-pad")).Select(p => p.Key).ToList();
            if (wide.Count(g => g.Any(p => pins.Contains(p.Owner))) != 1)
            {
                wrong.Add(FormattableString.Invariant($"{net} is not joined by tracks of {width:F2} mm or more"));
            }
        }

        return wrong;
    }

    private static double TrackFor(double amperes, double kelvin) => Math.Pow(amperes / (0.048 * Math.Pow(kelvin, 0.44)), 1 / 0.725) / (35 / 25.4) * 0.0254;

    private static List<Copper> Group(List<List<Copper>> groups, string net)
    {
        var key = Layout.Pads.First(p => p.Pin.Net == net).Pin.Key;
        return groups.Single(g => g.Any(p => p.Owner == key));
    }

    private static int Hits(string kind) => File.ReadAllLines(Path.Combine(_out, "gerber", $"filled-{kind}.drl")).Count(l => l.StartsWith('X'));

    private static double Length(string segment)
    {
        var n = Regex.Matches(segment, @"-?\d+\.?\d*").Take(4).Select(m => double.Parse(m.Value, CultureInfo.InvariantCulture)).ToArray();
        return Math.Abs(n[0] - n[2]) + Math.Abs(n[1] - n[3]);
    }

    private static string NetNumber(string text, string net) => Regex.Match(text, $@"\(net (\d+) ""/?{net}""\)").Groups[1].Value;

    private static string At(string reference)
    {
        var place = Layout.PlaceOf(reference);
        return FormattableString.Invariant($"(at {place.X} {place.Y} {place.Rotation})");
    }

    private static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Kicad(string board)
    {
        var folder = Directory.CreateTempSubdirectory("board").FullName;
        foreach (var file in new[] { "intervalometer.kicad_pro", "intervalometer.kicad_dru" })
        {
            File.Copy(Path.Combine(Repo.Folder, "kicad", file), Path.Combine(folder, file));
        }

        File.WriteAllText(Path.Combine(folder, "intervalometer.kicad_pcb"), board);
        var (code, output) = Repo.Run("/usr/bin/python3", Path.Combine(Repo.Folder, "tools", "board.py"), Path.Combine(folder, "intervalometer.kicad_pcb"), Path.Combine(folder, "out"));
        Assert.AreEqual(0, code, output);
        return Path.Combine(folder, "out");
    }
}

namespace Intervalometer.Tests.Hardware;

/// <summary>The perforated board, the wires and the drilled panel can be built as drawn.</summary>
[TestClass]
public class BoardTests
{
    private static readonly Perfboard Board = new(Repo.Circuit, Repo.Folder);

    [TestMethod]
    public void EveryConnectedPinHasAHoleOfItsOwn()
    {
        var pins = Repo.Circuit.Pins.Where(p => !p.IsOpen || Repo.Circuit.PartOf(p.Reference).Package == "board").ToList();
        CollectionAssert.AreEquivalent(pins.Select(p => p.Key).ToList(), Board.PlacedPins.ToList());
        foreach (var shared in pins.GroupBy(Board.Hole).Where(g => g.Count() > 1))
        {
            Assert.Fail($"{string.Join(" and ", shared.Select(p => p.Key))} share hole {Perfboard.Name(shared.Key)}");
        }

        foreach (var pin in pins)
        {
            var (column, row) = Board.Hole(pin);
            Assert.IsTrue(column is >= 1 and <= Perfboard.Columns && row is >= 0 and < Perfboard.Rows, $"{pin.Key} is off the board");
        }
    }

    [TestMethod]
    public void LeadsFitTheirParts()
    {
        foreach (var reference in Repo.Circuit.References.Where(r => Repo.Circuit.PartOf(r).Mount == "board"))
        {
            var holes = Repo.Circuit.PinsOf(reference).Select(Board.Hole).ToList();
            var across = (X: holes.Max(h => h.Column) - holes.Min(h => h.Column), Y: holes.Max(h => h.Row) - holes.Min(h => h.Row));
            var (longest, other) = (Math.Max(across.X, across.Y), Math.Min(across.X, across.Y));
            var expected = Repo.Circuit.PartOf(reference).Package switch
            {
                "axial" => (4, 0),
                "axial-large" => (5, 0),
                "radial" => (2, 0),
                "radial-large" => (2, 0),
                "to92" => (2, 0),
                "dip4" => (3, 1),
                "board" => (18, 10),
                var other2 => throw new InvalidOperationException(other2),
            };
            Assert.AreEqual(expected, (longest, other), $"{reference}: span in holes");
        }
    }

    [TestMethod]
    public void TheCameraSideKeepsItsDistance()
    {
        // 7.62 mm between the rows of a coupler; nothing else may come nearer (three holes).
        var camera = Repo.Circuit.Pins.Where(p => p.Net.StartsWith("CAM_", StringComparison.Ordinal)).ToList();
        var box = Repo.Circuit.Pins.Where(p => Board.Has(p) && !p.Net.StartsWith("CAM_", StringComparison.Ordinal)).ToList();
        foreach (var c in camera)
        {
            foreach (var b in box)
            {
                var (p, q) = (Board.Hole(c), Board.Hole(b));
                Assert.IsTrue(Math.Pow(p.Column - q.Column, 2) + Math.Pow(p.Row - q.Row, 2) >= 9, $"{c.Key} and {b.Key} are less than 7.62 mm apart");
            }
        }

        // And no wire of the box crosses into the camera's corner.
        foreach (var joint in Board.Joints.Where(j => !j.Net.StartsWith("CAM_", StringComparison.Ordinal)))
        {
            foreach (var pin in new[] { joint.From, joint.To })
            {
                var (column, row) = Board.Hole(pin);
                Assert.IsFalse(column >= 28 && row >= 18, $"{pin.Key} is in the camera's corner");
            }
        }
    }

    [TestMethod]
    public void TheWiresMakeExactlyTheNetsOfTheTable()
    {
        var joined = new Dictionary<string, string>();
        string Find(string key) => joined.TryGetValue(key, out var up) ? Find(up) : key;
        foreach (var joint in Board.Joints)
        {
            Assert.AreEqual(joint.From.Net, joint.To.Net);
            Assert.AreNotEqual(Find(joint.From.Key), Find(joint.To.Key), $"{joint.Net} is joined twice");
            joined[Find(joint.From.Key)] = Find(joint.To.Key);
        }

        foreach (var net in Repo.Circuit.Nets)
        {
            Assert.AreEqual(1, net.Select(p => Find(p.Key)).Distinct().Count(), $"{net.Key} is in pieces");
        }
    }

    [TestMethod]
    public void EveryReferenceIsInExactlyOneStep() =>
        CollectionAssert.AreEqual(Repo.Circuit.References.Order(StringComparer.Ordinal).ToList(), Board.Steps.SelectMany(s => s.References).Order(StringComparer.Ordinal).ToList());

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
        var power = new PowerBudget(Repo.Circuit, Repo.Facts);
        var (idle, armed, exposing, asleep) = (power.Modes[0], power.Modes[1], power.Modes[2], power.Modes[3]);
        Assert.IsGreaterThan(4.0, power.Usable(-20, Repo.Facts["cell_capacity"]) / exposing.High, "hours of open shutter at -20 C");
        Assert.IsGreaterThan(14.0, power.Usable(20, Repo.Facts["cell_capacity"]) / asleep.High / 24, "days asleep");
        Assert.IsTrue(asleep.High < idle.Low / 10 && idle.High < armed.High + 10 && armed.High < exposing.High + 10);
        Assert.IsLessThan(Repo.Facts["fuse_hold"] * Repo.Facts["fuse_hold_60"], Repo.Facts["inrush"] + exposing.High, "the fuse holds at 60 C");
    }
}

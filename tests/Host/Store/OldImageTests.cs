using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Store;

/// <summary>Images of a memory that the firmware wrote when place and tide were of version 1; they were made by that firmware's own verb "site".</summary>
[TestClass]
public class OldImageTests
{
    private static readonly UtcInstant Day = new CivilTime(2031, 3, 14, 0, 0, 0).AsUtc();

    private static CoastPlace Read(string name)
    {
        var box = new OfflineBox(File.ReadAllBytes(Repository.At("tests/Host/Store/Fixtures/" + name)));
        Assert.IsFalse(box.Health.Any);
        return box.Shore.Settings.Place;
    }

    [TestMethod]
    public void ConstantsOfAnOldImageAreRead()
    {
        CoastPlace old = Read("constants-of-version-1.bin"), demo = DemoSite.Load().Place;
        Assert.AreEqual(demo.Name, old.Name);
        Assert.AreEqual(demo.PathCount, old.PathCount);
        for (int hour = 0; hour < 600; hour++)
            Assert.AreEqual(demo.Tide.HeightMetres(Day.PlusHours(hour)), old.Tide.HeightMetres(Day.PlusHours(hour)), 1e-9);
        Assert.AreEqual(0, old.LeftOutCentimetres);
    }

    [TestMethod]
    public void TurnsOfAnOldImageAreReadWithTheLargerAllowance()
    {
        CoastPlace old = Read("turns-of-version-1.bin");
        Assert.AreEqual("Printed Cove", old.Name);
        Assert.IsTrue(old.Tide.TryNextTurn(Day.PlusHours(1), out TideTurn turn));
        Assert.AreEqual(Day.PlusHours(6).PlusMinutes(20).Seconds, turn.Time.Seconds, "07:20 at +01:00");
        Assert.AreEqual(TideShape.Any, old.Shape);
        Assert.AreEqual(TideAllowance.AnyTableMinutes, old.AllowanceMinutes);
    }
}

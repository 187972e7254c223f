using System.Text;
using Intervalometer.Core.Exposure;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.VirtualBoard;

[TestClass]
public class KitTests
{
    private static FilterKit Kit(string members) =>
        SceneReader.Parse("run.json", Encoding.UTF8.GetBytes("{\"endAt\": 5,\n" + members + "}")).Kit();

    [TestMethod]
    public void AKitIsReadAndSwitchedOn()
    {
        FilterKit kit = Kit("""
            "kit": [ { "printed": "ND 3.0", "name": "DARK", "trimStops": 0.3 }, { "printed": "GRAD 0.9R", "sharePercent": 50 }, { "printed": "POL 1.5" } ],
            "filters": ["dark", "POL"]
            """);
        Assert.AreEqual(3, kit.Count);
        Assert.AreEqual("DARK", kit[0].Name);
        Assert.AreEqual(9.966 + 0.3 + 1.5, kit.EffectiveStops.Value, 0.0005);
        Assert.AreEqual(50, kit[1].SharePercent);
    }

    [TestMethod]
    [DataRow("\"kit\": [ { \"printed\": \"ND 7.5\" } ]", "run.json: line 2: Filter \"ND 7.5\": ")]
    [DataRow("\"kit\": [ { \"printed\": \"fog\" } ]", "run.json: line 2: Unknown filter \"fog\"")]
    [DataRow("\"kit\": [ { \"printed\": \"ND 0.9\" }, { \"printed\": \"ND 0.9\" } ]", "run.json: line 2: ")]
    [DataRow("\"kit\": [ { \"printed\": \"ND 0.9\", \"trimStops\": 3 } ]", "run.json: line 2: \"trimStops\" is 3; use -2 to 2 stops")]
    [DataRow("\"kit\": [ { \"printed\": \"ND 0.9\", \"name\": \"a name too long\" } ]", "run.json: line 2: ")]
    [DataRow("\"kit\": [ { \"printed\": \"ND 0.9\", \"colour\": 1 } ]", "run.json: line 2: unknown property \"colour\"")]
    [DataRow("\"filters\": [\"POL\", \"pol\"]", "run.json: line 2: filter \"pol\" is on twice")]
    public void ABadKitIsRefusedInOneLine(string members, string expected)
    {
        SceneFileException fault = Assert.ThrowsExactly<SceneFileException>(() => Kit(members));
        StringAssert.StartsWith(fault.Message, expected);
        Assert.IsFalse(fault.Message.Contains('\n'), fault.Message);
    }

    [TestMethod]
    public void TwoKitsOfOneSceneShareNothing()
    {
        SceneFile scene = SceneReader.Parse("run.json", Encoding.UTF8.GetBytes("{\"endAt\": 5, \"kit\": [ { \"printed\": \"10 stops\" } ]}"));
        scene.Kit()[0].On = true;
        Assert.IsFalse(scene.Kit()[0].On);
    }
}

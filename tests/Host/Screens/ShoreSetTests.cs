using Intervalometer.Coast.Time;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>Settings of the shore side that are more than one figure: how the clocks change, and which curve typed turns follow.</summary>
[TestClass]
public class ShoreSetTests
{
    private const string Morning = "2031-03-14T05:30:00Z";

    /// <summary>The changes of the clocks by buttons: a law, which moves no clock now, and then two dates, which start from those of the law.</summary>
    [TestMethod]
    public void TheChangesOfTheClocksAreSetWithTheButtons()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T06:29:00Z").Press(Button.Back, Button.Up);
        for (int i = 0; i < 11; i++) rig.Press(Button.Select);
        // The first press asks.
        rig.Press(Button.Up, Button.Up).Pass(500_000);
        GoldenPictures.Check(rig, "place-clock-rule");
        Assert.AreEqual(SummerRule.Europe, rig.Shore.Settings.Offset.Rule);
        Assert.AreEqual(0, rig.Shore.Settings.Offset.MinutesAt(rig.Shore.Now));
        Assert.AreEqual("11:00", TimeText.HourMinute(new CivilTime(2031, 7, 1, 10, 0, 0).AsUtc(), rig.Shore.Place.Offset));
        for (int i = 0; i < 4; i++) rig.Press(Button.Up);
        Assert.AreEqual(SummerRule.None, rig.Shore.Settings.Offset.Rule);
        Assert.IsTrue(rig.Shore.Settings.Offset.Changes);
        Assert.AreEqual(0, rig.Shore.Settings.Offset.MinutesAt(rig.Shore.Now));
        rig.Press(Button.Select);
        long before = rig.Shore.Settings.Offset.ChangeAt(0).Seconds;
        rig.Press(Button.Up, Button.Up).Pass(500_000);
        GoldenPictures.Check(rig, "place-change-day");
        Assert.AreEqual(before + 86_400, rig.Shore.Settings.Offset.ChangeAt(0).Seconds);
        rig.Press(Button.Select, Button.Down, Button.Down);
        Assert.AreEqual(before + 86_400 - 3_600, rig.Shore.Settings.Offset.ChangeAt(0).Seconds);
        rig.Press(Button.Select, Button.Down, Button.Down);
        Assert.AreEqual(-75, rig.Shore.Settings.Offset.OffsetFrom(0).Minutes);
        // The second change cannot be brought before the first.
        rig.Press(Button.Select);
        for (int i = 0; i < 400; i++) rig.Press(Button.Down);
        LocalTime local = rig.Shore.Settings.Offset;
        Assert.IsTrue(local.ChangeAt(0) < local.ChangeAt(1));
        Assert.IsLessThanOrEqualTo(86_400L, local.ChangeAt(1).SecondsSince(local.ChangeAt(0)));
    }

    /// <summary>At a place with constituents a typed table follows them when its last field says so. The minutes taken off fall to 10 once every turn is found in them.</summary>
    [TestMethod]
    public void ATypedTableRunsAlongThePlacesOwnConstituents()
    {
        PanelRig rig = new PanelRig().At(Morning);
        TypedTurns(rig, 0);
        rig.Pass(2_000_000);
        Assert.AreEqual(65, rig.Shore.Place.AllowanceMinutes);
        rig.Press(Button.Back);
        for (int i = 0; i < 11; i++) rig.Press(Button.Select);
        rig.Press(Button.Up, Button.Up, Button.Up).Pass(2_000_000);
        GoldenPictures.Check(rig, "tide-shape-sum");
        Assert.AreEqual(10, rig.Shore.Place.AllowanceMinutes);
        Assert.IsTrue(rig.Shore.WayReady);

        // Turns that the sum does not have: what is taken off stays that of any table.
        TypedTurns(rig, 200);
        rig.Pass(2_000_000);
        Assert.AreEqual(65, rig.Shore.Place.AllowanceMinutes);
    }

    /// <summary>A table with a gap of 17 hours is refused from there on, in two whole lines that name the shape as its field shows it.</summary>
    [TestMethod]
    public void ATableWithALongGapNamesTheShapeThatAllowsIt()
    {
        PanelRig rig = new PanelRig().At(Morning);
        ShoreSettings shore = rig.Shore.Settings;
        shore.SetShape(Coast.Tide.TideShape.Daily, 0);
        var card = new TideCard(rig.Shore);
        var fields = new FieldList();
        fields.Ask(card, fields.CountOf(card) - 1);
        Assert.AreEqual("Shape of the tide", fields.Label);

        shore.SetShape(Coast.Tide.TideShape.Any, 0);
        shore.Table.Restart(2, true);
        shore.Table.Set(0, rig.Shore.Now, 500);
        shore.Table.Set(1, rig.Shore.Now.PlusHours(17), 100);
        shore.SetFromTable(true);
        Assert.Contains(fields.Value, shore.TableFault);
        rig.Pass(2_000_000);
        GoldenPictures.Check(rig.Press(Button.Back), "tide-table-gap");
    }

    private static void TypedTurns(PanelRig rig, int minutesOff)
    {
        Coast.Tide.TideSource sum = rig.Shore.Settings.GivenTide!;
        UtcInstant at = rig.Shore.Now.PlusHours(-7);
        for (int i = 0; i < 3; i++)
        {
            Assert.IsTrue(sum.TryNextTurn(at, out Coast.Tide.TideTurn turn));
            if (i == 0) rig.Shore.Settings.Table.Restart(3, turn.IsHigh);
            rig.Shore.Settings.Table.Set(i, turn.Time.PlusMinutes(minutesOff), (int)Math.Round(turn.HeightMetres * 10) * 10);
            at = turn.Time;
        }
        rig.Shore.Settings.SetFromTable(true);
    }
}

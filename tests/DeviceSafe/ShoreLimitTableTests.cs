using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A typed table turn by turn, and a place with more points than can be shown.</summary>
[TestClass]
public class ShoreLimitTableTests
{
    private static UtcInstant Noon() => new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc();

    [TestMethod]
    public void TurnsAreGuessedFromThoseBeforeUpToTheLast()
    {
        TypedTable table = new TypedTable();
        table.FirstIsHigh = false;
        table.Resize(-1, Noon());
        Assert.AreEqual(0, table.Count);
        for (int i = 0; i < 2; i++) table.Resize(1, Noon());
        Assert.AreEqual(100, table.Centimetres(0));
        Assert.AreEqual(500, table.Centimetres(1));
        table.SetHeight(0, 130);
        table.SetHeight(1, 470);
        for (int i = 2; i < TypedTable.Capacity + 2; i++) table.Resize(1, Noon());
        Assert.AreEqual(TypedTable.Capacity, table.Count);
        for (int i = 2; i < TypedTable.Capacity; i++)
        {
            Assert.AreEqual(i % 2 == 0 ? 130 : 470, table.Centimetres(i));
            Assert.IsFalse(table.HasTime(i) || table.HasHeight(i));
        }
        table.Resize(-1, Noon());
        Assert.AreEqual(TypedTable.Capacity - 1, table.Count);
    }

    /// <summary>Each time and each height is marked as typed separately, and stays marked when it is typed again.</summary>
    [TestMethod]
    public void WhatWasTypedIsKnownTurnByTurn()
    {
        TypedTable table = new TypedTable();
        for (int i = 0; i < 4; i++) table.Resize(1, Noon());
        long before = table.Printed(2).Seconds;
        for (int times = 1; times <= 2; times++)
        {
            table.MoveTime(2, 5);
            table.SetHeight(1, 300);
            table.Set(3, Noon().PlusDays(1), 400);
            Assert.AreEqual(before + 300 * times, table.Printed(2).Seconds);
            for (int i = 0; i < 4; i++)
            {
                Assert.AreEqual(i >= 2, table.HasTime(i));
                Assert.AreEqual(i == 1 || i == 3, table.HasHeight(i));
            }
            Assert.IsTrue(table.Guesses);
        }
    }

    /// <summary>A tide with two highs a day has no gap of more than 16 hours. The table counts up to such a gap, and says which turn to look at.</summary>
    [TestMethod]
    public void AGapThatIsTooLongEndsTheTable()
    {
        TypedTable table = new TypedTable();
        table.FirstIsHigh = false;
        for (int i = 0; i < 4; i++) table.Resize(1, Noon());
        int[] hours = new int[] { 0, 6, 23, 29 };
        for (int i = 0; i < 4; i++) table.Set(i, Noon().PlusHours(hours[i]), i % 2 == 0 ? 100 : 500);
        PrintedTide tide = table.Build(TideShape.Any, new LocalTime(new LocalOffset(0)), null, out string fault);
        Assert.AreEqual(2, tide.Count);
        Assert.IsTrue(fault.StartsWith("Turn 3: over 16 h after"));
        table.Set(2, Noon().PlusHours(13), 100);
        table.Set(3, Noon().PlusHours(19), 500);
        tide = table.Build(TideShape.Any, new LocalTime(new LocalOffset(0)), null, out fault);
        Assert.AreEqual(4, tide.Count);
        Assert.AreEqual("", fault);
    }

    /// <summary>Six of eight points are shown. The last of them has the lowest flood height, the longest walk and the largest margin of the rest.</summary>
    [TestMethod]
    public void PointsThatDoNotFitMakeTheLastOneStricter()
    {
        PathPoint[] path = new PathPoint[9];
        for (int i = 0; i < 6; i++) path[i] = new PathPoint("P", 4.0, 20, 0.3);
        path[6] = new PathPoint("P", 3.5, 10, 0.2);
        path[7] = new PathPoint("P", 3.7, 45, 0.1);
        path[8] = new PathPoint("P", 3.9, 30, 0.6);
        ShoreSettings settings = new ShoreSettings();
        settings.Use(new CoastPlace("Any", "datum", new GeoPosition(50, -5), new LocalOffset(0), new PrintedTide(), path, 10), settings.Wish);
        Assert.AreEqual(ShoreSettings.MostPoints, settings.PointCount);
        Assert.AreEqual(350, settings.FloodCentimetres(5));
        Assert.AreEqual(45, settings.WalkMinutes(5));
        Assert.AreEqual(60, settings.MarginCentimetres(5));
        Assert.AreEqual(400, settings.FloodCentimetres(4));
        Assert.AreEqual(20, settings.WalkMinutes(4));
        Assert.AreEqual(30, settings.MarginCentimetres(4));
        // The place itself has every point.
        Assert.AreEqual(9, settings.Place.PathCount);
    }

    /// <summary>Every change makes the place a different one, so that everything that depends on it is worked out again.</summary>
    [TestMethod]
    public void EveryChangeMakesThePlaceAnother()
    {
        ShoreSettings settings = new ShoreSettings();
        for (int i = 0; i < 10; i++)
        {
            int before = settings.Revision;
            switch (i)
            {
                case 0: settings.Give(null); break;
                case 1: settings.Describe("datum", 5); break;
                case 2: settings.SetWish(settings.Wish); break;
                case 3: settings.SetPointCount(2); break;
                case 4: settings.RestorePoint(0, "P", 300, 10, 0); break;
                case 5: settings.SetPoint(0, 310, 10, 0); break;
                case 6: settings.SetName("N"); break;
                case 7: settings.SetPosition(1, 1); break;
                case 8: settings.SetFromTable(true); break;
                default: settings.SetShape(TideShape.Plain, 3); break;
            }
            Assert.AreEqual(before + 1, settings.Revision);
        }
    }
}

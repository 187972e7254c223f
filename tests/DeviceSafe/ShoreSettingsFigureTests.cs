using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The clock of the shore side, its settings in a new box, and when a typed table follows a place's constituents.</summary>
[TestClass]
public class ShoreSettingsFigureTests
{
    private const long Second = 1_000_000;

    private static UtcInstant Dawn() => new CivilTime(2031, 3, 14, 6, 0, 0).AsUtc();

    private static GeoPosition Ledge() => new GeoPosition(50, -5);

    /// <summary>The first second that counts, a time that comes back after the clock was lost, and who may take a time away that was set by hand.</summary>
    [TestMethod]
    public void AClockThatComesBackIsAnotherOne()
    {
        ShoreClock clock = new ShoreClock();
        clock.Read(new UtcInstant(ShoreClock.EarliestSeconds), 0);
        Assert.IsTrue(clock.IsSet);
        int revision = clock.Revision;
        clock.Fail(ClockTrust.NoAnswer);
        Assert.AreEqual((int)ClockTrust.NoAnswer, (int)clock.Trust);
        Assert.AreEqual(revision + 1, clock.Revision);
        clock.Read(new UtcInstant(ShoreClock.EarliestSeconds + 1), Second);
        Assert.AreEqual(revision + 2, clock.Revision);
        clock.SetByHand(new UtcInstant(ShoreClock.EarliestSeconds), Second);
        Assert.IsTrue(clock.IsSet && clock.WasSetByHand);
        clock.Fail(ClockTrust.NoAnswer);
        Assert.AreEqual((int)ClockTrust.ByHand, (int)clock.Trust);
        clock.Fail(ClockTrust.Stopped);
        Assert.AreEqual((int)ClockTrust.Stopped, (int)clock.Trust);
    }

    /// <summary>A new box has a table that begins with a high water, no tide of a place, and low points with different names.</summary>
    [TestMethod]
    public void SettingsAsTheyLeaveTheBench()
    {
        ShoreSettings settings = new ShoreSettings();
        Assert.IsTrue(settings.Table.FirstIsHigh && settings.TableChosen && settings.FromTable && !settings.HasGivenTide);
        Assert.AreEqual(2, settings.SprayMinutes);
        Assert.IsTrue(settings.Wish.Mornings && !settings.Wish.Evenings);
        Assert.AreEqual("Low point 1", settings.PointName(0));
        Assert.AreEqual("Low point 6", settings.PointName(5));
        settings.SetPosition(5012, -534);
        Check.Near(50.12, settings.Place.Position.LatitudeDegrees, 1e-9, "latitude");
        Check.Near(-5.34, settings.Place.Position.LongitudeDegrees, 1e-9, "longitude");
        int revision = settings.Revision;
        HarmonicTide sum = new HarmonicTide(new HarmonicConstants(3.0, 1).Set(0, 2.0, 120), NodeSchedule.Yearly);
        settings.Use(new CoastPlace("Any", "datum", Ledge(), new LocalOffset(0), sum, new PathPoint[0], 0), settings.Wish);
        Assert.IsTrue(settings.Revision > revision);
        Assert.IsTrue(settings.HasGivenTide && !settings.FromTable && settings.GivenTide == sum);
        Assert.IsTrue(settings.Place.Tide == sum);
        settings.SetFromTable(true);
        Assert.IsTrue(settings.FromTable && settings.Place.Tide is PrintedTide);
        settings.SetFromTable(false);
        Assert.IsTrue(settings.Place.Tide == sum);
        settings.Give(null);
        Assert.IsTrue(settings.FromTable && !settings.TableChosen && settings.Place.Tide is PrintedTide);
    }

    /// <summary>A table of one turn takes no shape, nor one without a sum, nor one that nobody asked it of.</summary>
    [TestMethod]
    public void OnlyAnAskedTableTakesShape()
    {
        HarmonicTide sum = new HarmonicTide(new HarmonicConstants(3.0, 1).Set(0, 2.0, 120), NodeSchedule.Yearly);
        TypedTable table = new TypedTable();
        table.Resize(1, Dawn());
        table.Set(0, Dawn(), 500);
        Assert.IsTrue(table.Build(TideShape.AsSum, new LocalOffset(0), sum, out string fault).ShapeDone);
        table.Resize(1, Dawn());
        table.Set(1, Dawn().PlusHours(6), 100);
        Assert.IsFalse(table.Build(TideShape.AsSum, new LocalOffset(0), sum, out fault).ShapeDone);
        Assert.IsFalse(table.Build(TideShape.AsNeighbour, new LocalOffset(0), sum, out fault).ShapeDone);
        Assert.IsTrue(table.Build(TideShape.AsNeighbour, new LocalOffset(0), null, out fault).ShapeDone);
        Assert.IsTrue(table.Build(TideShape.Plain, new LocalOffset(0), sum, out fault).ShapeDone);
    }
}

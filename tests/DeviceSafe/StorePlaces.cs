using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Invented places at the limits of what is kept, and their records.</summary>
public static class StorePlaces
{
    /// <summary>2031-03-14 12:00 UTC.</summary>
    public static readonly long Noon = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc().Seconds;

    /// <summary>All 37 constituents, with more decimals than are kept.</summary>
    public static HarmonicTide Harmonic(double scale)
    {
        HarmonicConstants constants = new HarmonicConstants(3.1234567891);
        for (int i = 0; i < Constituents.Count; i++) constants.Set(i, scale * (1 - i * 0.0123456789), -359.98765432 + i * 18.7654321);
        return new HarmonicTide(constants, NodeSchedule.Monthly);
    }

    /// <summary>As many constituents as a place can have, with tides that are not of the NOAA set.</summary>
    public static HarmonicTide Open()
    {
        HarmonicConstants constants = new HarmonicConstants(-2.5, HarmonicConstants.Most);
        for (int i = 0; i < Constituents.Count; i++) constants.Set(i, 0.05 + i * 0.0123, i * 9.71);
        for (int i = 0; i < HarmonicConstants.Most - Constituents.Count; i++)
            Assert.IsTrue(constants.TrySet(ConstituentRecipe.Pack(i % 15, i - 14, 15 - i, i % 8 - 4, i % 4 - 2, i, i % 16 - 8, i % 4, i), 0.0001 * (i + 1), 359.99 - i));
        Assert.IsFalse(constants.TrySet(ConstituentRecipe.Pack(1, 2, 3, 0, 0, 0, 0, 0, 0), 1, 1));
        return new HarmonicTide(constants, NodeSchedule.Daily);
    }

    /// <summary>A table as long as one can be.</summary>
    public static PrintedTide Printed()
    {
        PrintedTide tide = new PrintedTide();
        for (int i = 0; i < PrintedTide.Capacity; i++)
        {
            Assert.IsNull(tide.Add(new UtcInstant(Noon + i * 22_320L), i % 2 == 0 ? 0.123456 + i * 0.01 : 5.4321, i % 2 == 1));
        }
        return tide;
    }

    /// <summary>A place with as many low points as there can be, and the longest names.</summary>
    public static void Fill(ShoreSettings settings, TideSource tide)
    {
        PathPoint[] path = new PathPoint[ShoreSettings.MostPoints];
        for (int i = 0; i < path.Length; i++) path[i] = new PathPoint("Low point No  " + (char)('A' + i) + "!", 3.5 + i * 0.25, 10 * i, 0.25 * i);
        CoastPlace place = new CoastPlace("Sixteen letters!", "invented datum of 32 letters, so", new GeoPosition(-50.21, 179.99), new LocalOffset(-210), tide, path, 599);
        settings.Use(place, new MorningWish(180, 5, 3.25, -1.5, 355, false, true));
    }

    /// <summary>Eight typed turns.</summary>
    public static void Type(TypedTable table)
    {
        table.Restart(TypedTable.Capacity, false);
        for (int i = 0; i < TypedTable.Capacity; i++) table.Set(i, new UtcInstant(Noon + i * 22_320L), i % 2 == 0 ? -120 : 523);
    }

    /// <summary>The record of a place.</summary>
    public static byte[] Site(ShoreSettings settings)
    {
        ShoreDesk desk = new ShoreDesk(settings, new BoxSettings());
        byte[] scratch = new byte[StoreMap.MostCopyPages * StoreMap.PageBytes];
        Bytes bytes = new Bytes(scratch, scratch.Length);
        long sum = TideRecord.SumOf(settings.GivenTide, scratch, bytes);
        bytes.Restart(scratch, StoreMap.Capacity(RecordId.Site));
        SiteRecord.Put(desk, sum, bytes);
        Assert.IsFalse(bytes.Bad, "the place fits");
        return Cut(scratch, bytes.At);
    }

    /// <summary>The record of its tide.</summary>
    public static byte[] Tide(ShoreSettings settings)
    {
        byte[] scratch = new byte[StoreMap.Capacity(RecordId.Tide)];
        Bytes bytes = new Bytes(scratch, scratch.Length);
        TideRecord.Put(settings, bytes);
        Assert.IsFalse(bytes.Bad, "the tide fits");
        return Cut(scratch, bytes.At);
    }

    /// <summary>The place as part of the firmware.</summary>
    public static BuiltInSite BuiltIn(ShoreSettings settings, long stamp)
    {
        settings.Stamp = stamp;
        byte[] site = Site(settings), tide = Tide(settings);
        return new BuiltInSite(site, tide, BuiltInSite.SumOf(site, tide));
    }

    /// <summary>A place of another name whose second low point is at another height.</summary>
    public static ShoreSettings Other(string name, double level)
    {
        ShoreSettings settings = new ShoreSettings();
        HarmonicConstants constants = new HarmonicConstants(level).Set(0, 1.7, 131);
        PathPoint[] path = new PathPoint[] { new PathPoint("Neck", 3.8, 12, 0.4) };
        settings.Use(new CoastPlace(name, "datum", new GeoPosition(50, -5), new LocalOffset(0), new HarmonicTide(constants, NodeSchedule.Yearly), path, 35), new MorningWish(60, 60, 3.4, 1.2, 40, true, false));
        return settings;
    }

    /// <summary>Checks two arrays byte by byte.</summary>
    public static void Same(byte[] expected, byte[] actual)
    {
        Assert.AreEqual(expected.Length, actual.Length);
        for (int i = 0; i < expected.Length; i++) Assert.IsTrue(expected[i] == actual[i]);
    }

    /// <summary>The first bytes of an array.</summary>
    public static byte[] Cut(byte[] data, int length)
    {
        byte[] cut = new byte[length];
        for (int i = 0; i < length; i++) cut[i] = data[i];
        return cut;
    }
}

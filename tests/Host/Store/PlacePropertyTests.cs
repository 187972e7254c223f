using FsCheck;
using FsCheck.Fluent;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.DeviceSafe;

namespace Intervalometer.Tests.Host.Store;

/// <summary>What must hold for any place that a site file can describe, and for any bytes.</summary>
[TestClass]
public class PlacePropertyTests
{
    private sealed record Case(CoastPlace Place, MorningWish Wish, UtcInstant At)
    {
        public override string ToString() =>
            $"{Place.Name} {Place.Position.LatitudeDegrees:R} {Place.Position.LongitudeDegrees:R} {Place.Tide} {Place.PathCount} points, at {At.Seconds}";
    }

    private static Gen<double> Real(double low, double high) => Gen.Choose(0, int.MaxValue).Select(n => low + (high - low) * n / int.MaxValue);

    private static Gen<string> Text(int longest) =>
        from length in Gen.Choose(1, longest)
        from letters in Gen.ArrayOf(Gen.Choose(' ', '~').Select(c => (char)c), length)
        select new string(letters);

    private static readonly Gen<TideSource> AnyHarmonic =
        from level in Real(-20, 20)
        from schedule in Gen.Choose(0, 2)
        from mask in Gen.ArrayOf(Gen.Choose(0, 2), Constituents.Count)
        from amplitude in Gen.ArrayOf(Real(0.000001, 10), Constituents.Count)
        from phase in Gen.ArrayOf(Real(-360, 360), Constituents.Count)
        select Harmonic(level, (NodeSchedule)schedule, mask, amplitude, phase);

    private static readonly Gen<TideSource> AnyPrinted =
        from count in Gen.Choose(2, PrintedTide.Capacity)
        from start in Gen.Choose(0, int.MaxValue)
        from gaps in Gen.ArrayOf(Gen.Choose(2 * 3600, 16 * 3600), count)
        from heights in Gen.ArrayOf(Real(0.001, 19), count)
        from high in Gen.Elements(true, false)
        select Printed(start, gaps, heights, high);

    private static readonly Gen<PathPoint> AnyPoint =
        from name in Text(ShoreSettings.LongestName)
        from flood in Real(-20, 20)
        from walk in Gen.Choose(0, 600)
        from margin in Real(0, 10)
        select new PathPoint(name, flood, walk, margin);

    private static readonly Gen<Case> AnyCase =
        from name in Text(ShoreSettings.LongestName)
        from datum in Text(ShoreSettings.LongestDatum)
        from latitude in Real(-90, 90)
        from longitude in Real(-180, 180)
        from offset in Gen.Choose(-720, 840)
        from walkIn in Gen.Choose(0, 600)
        from tide in Gen.OneOf(AnyHarmonic, AnyPrinted)
        from points in Gen.Choose(0, ShoreSettings.MostPoints)
        from path in Gen.ArrayOf(AnyPoint, points)
        from before in Gen.Choose(0, 180)
        from after in Gen.Choose(0, 180)
        from high in Real(-20, 20)
        from low in Real(-20, 20)
        from work in Gen.Choose(5, 360)
        from evenings in Gen.Elements(true, false)
        from at in Gen.Choose(0, int.MaxValue)
        select new Case(
            new CoastPlace(name, datum, new GeoPosition(latitude, longitude), new LocalOffset(offset), tide, path, walkIn),
            new MorningWish(before, after, high, low, work, true, evenings),
            new UtcInstant(at));

    private static TideSource Harmonic(double level, NodeSchedule schedule, int[] mask, double[] amplitude, double[] phase)
    {
        var constants = new HarmonicConstants(level).Set(0, amplitude[0], phase[0]);
        for (int i = 1; i < mask.Length; i++)
        {
            if (mask[i] > 0) constants.Set(i, amplitude[i], phase[i]);
        }
        return new HarmonicTide(constants, schedule);
    }

    private static TideSource Printed(long start, int[] gaps, double[] heights, bool high)
    {
        var tide = new PrintedTide();
        for (int i = 0; i < gaps.Length; i++)
        {
            Assert.IsNull(tide.Add(new UtcInstant(start), high ? heights[i] : -heights[i], high));
            start += gaps[i];
            high = !high;
        }
        return tide;
    }

    [TestMethod]
    public void AnyPlaceComesBackAsItWasOrAsksToLeaveEarlier() =>
        Prop.ForAll(AnyCase.ToArbitrary(), c =>
        {
            var told = new ShoreSettings();
            told.Use(c.Place, c.Wish);
            byte[] site = StorePlaces.Site(told), tide = StorePlaces.Tide(told);
            var back = new ShoreSettings();
            SiteRecord record = SiteRecord.Take(new Bytes(site, site.Length))!;
            TideRecord kept = TideRecord.Take(tide, new Bytes(tide, tide.Length))!;
            Assert.AreEqual(kept.Sum, record.TideSum);
            record.UsePlace(back);
            kept.Use(back, true);
            CoastPlace place = back.Place;
            Assert.AreEqual(c.Place.Name, place.Name);
            Assert.AreEqual(c.Place.DatumText, place.DatumText);
            Assert.AreEqual(c.Place.Position.LatitudeDegrees, place.Position.LatitudeDegrees, 0.0051);
            Assert.AreEqual(0, Math.IEEERemainder(c.Place.Position.LongitudeDegrees - place.Position.LongitudeDegrees, 360), 0.0051);
            Assert.AreEqual(c.Place.Offset.Before.Minutes, place.Offset.Before.Minutes);
            Assert.AreEqual(c.Place.WalkInMinutes, place.WalkInMinutes);
            Assert.AreEqual(c.Place.Tide.HeightMetres(c.At), place.Tide.HeightMetres(c.At), 0.001);
            Assert.AreEqual(c.Place.Tide.CertaintyAt(c.At), place.Tide.CertaintyAt(c.At));
            Assert.AreEqual(c.Place.PathCount, place.PathCount);
            for (int i = 0; i < place.PathCount; i++)
            {
                PathPoint before = c.Place.PathPoint(i), after = place.PathPoint(i);
                Assert.AreEqual(before.Name, after.Name);
                Assert.AreEqual(before.WalkMinutes, after.WalkMinutes);
                Assert.IsTrue(after.LimitMetres <= before.LimitMetres + 1e-7 && after.LimitMetres > before.LimitMetres - 0.0201, $"{before.LimitMetres:R} to {after.LimitMetres:R}");
            }
            Assert.AreEqual(c.Wish.HighMetres, back.Wish.HighMetres, 0.0051);
            Assert.AreEqual(c.Wish.LowMetres, back.Wish.LowMetres, 0.0051);
            Assert.AreEqual((c.Wish.BeforeMinutes, c.Wish.AfterMinutes, c.Wish.WorkMinutes, c.Wish.Evenings), (back.Wish.BeforeMinutes, back.Wish.AfterMinutes, back.Wish.WorkMinutes, back.Wish.Evenings));
            CollectionAssert.AreEqual(site, StorePlaces.Site(back));
            CollectionAssert.AreEqual(tide, StorePlaces.Tide(back));
        }).QuickCheckThrowOnFailure();

    /// <summary>Any bytes under a good check are refused, or are a place; the ranges are narrow, so begin from a sound record.</summary>
    [TestMethod]
    public void AnyBytesAreRefusedOrSound()
    {
        var told = new ShoreSettings();
        StorePlaces.Type(told.Table);
        StorePlaces.Fill(told, StorePlaces.Harmonic(1));
        byte[] site = StorePlaces.Site(told), tide = StorePlaces.Tide(told);
        int sites = 0, tides = 0, refused = 0;
        Gen<(int At, int Value)> change = from at in Gen.Choose(0, 400) from value in Gen.Choose(0, 255) select (at, value);
        Gen<(int At, int Value)[]> some = from count in Gen.Choose(1, 3) from changes in Gen.ArrayOf(change, count) select changes;
        Prop.ForAll(some.ToArbitrary(), changes =>
        {
            byte[] a = [.. site], b = [.. tide];
            foreach (var (at, value) in changes) (a[at % a.Length], b[at % b.Length]) = ((byte)value, (byte)value);
            var settings = new ShoreSettings();
            SiteRecord? record = SiteRecord.Take(new Bytes(a, a.Length));
            TideRecord? kept = TideRecord.Take(b, new Bytes(b, b.Length));
            if (record is null) refused++;
            else
            {
                sites++;
                record.UsePlace(settings);
            }
            if (kept is not null)
            {
                tides++;
                kept.Use(settings, true);
            }
            double height = settings.Place.Tide.HeightMetres(new UtcInstant(StorePlaces.Noon));
            Assert.IsTrue(height is > -500 and < 500);
            Assert.IsTrue(settings.Place.LongestWalkMinutes <= 600 && settings.Place.LowestCutMetres >= -30);
        }).Check(Config.QuickThrowOnFailure.WithMaxTest(1000));
        Assert.IsTrue(sites > 5 && tides > 5 && refused > 5, $"{sites} places, {tides} tides, {refused} refused");
    }
}

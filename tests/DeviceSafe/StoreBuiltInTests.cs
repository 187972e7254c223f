using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A place in the firmware replaces the one in the memory once, when it was made later.</summary>
[TestClass]
public class StoreBuiltInTests
{
    private const long Second = 1_000_000;

    [TestMethod]
    public void ItIsTakenByABlankMemoryAndStaysWithoutIt()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench bench = new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("A", 3), 100));
        Assert.AreEqual("A", bench.Shore.Settings.Place.Name);
        bench.Pass(10 * Second);
        StoreBench after = new StoreBench(memory);
        Assert.AreEqual("A", after.Shore.Settings.Place.Name);
        Assert.IsTrue(after.Shore.Settings.HasGivenTide);
        Assert.AreEqual(100L, after.Shore.Settings.Stamp);
    }

    [TestMethod]
    public void ALaterOneWinsOnceAndButtonsWinAfterwards()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench first = new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("A", 3), 100));
        first.Shore.SetAlarm(true);
        first.Shore.Settings.DawnOn = true;
        first.Pass(10 * Second);
        StoreBench second = new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("B", 2), 200));
        Assert.AreEqual("B", second.Shore.Settings.Place.Name);
        Assert.IsTrue(second.Shore.AlarmOn, "the switches stay");
        Assert.IsTrue(second.Shore.Settings.DawnOn);
        second.Shore.Settings.SetPoint(0, 333, 44, 55);
        second.Pass(10 * Second);
        StoreBench third = new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("B", 2), 200));
        Assert.AreEqual(333, third.Shore.Settings.FloodCentimetres(0));
        Check.Near(2, ((HarmonicTide)third.Shore.Settings.Place.Tide).Constants.MeanLevelMetres, 1e-12, "its own tide");
        StoreBench older = new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("C", 1), 150));
        Assert.AreEqual("B", older.Shore.Settings.Place.Name);
        Assert.AreEqual(333, older.Shore.Settings.FloodCentimetres(0));
        Check.Near(2, ((HarmonicTide)older.Shore.Settings.Place.Tide).Constants.MeanLevelMetres, 1e-12, "not the older tide");
        older.Pass(10 * Second);
        Assert.IsFalse(older.Health.Any);
    }

    [TestMethod]
    public void BytesThatAreNotWhatWasMadeAreNotTaken()
    {
        ShoreSettings settings = StorePlaces.Other("A", 3);
        byte[] site = StorePlaces.Site(settings), tide = StorePlaces.Tide(settings);
        long sum = BuiltInSite.SumOf(site, tide);
        tide[11] ^= 1;
        ShoreSettings box = new ShoreSettings();
        Assert.IsFalse(new BuiltInSite(site, tide, sum).Use(box));
        Assert.AreEqual("NO PLACE", box.Name);
        tide[11] ^= 1;
        // The first letter of the name: still a sound record, but not the one that was made.
        site[10] ^= 2;
        Assert.IsFalse(new BuiltInSite(site, tide, sum).Use(box));
        Assert.AreEqual("NO PLACE", box.Name);
        // A sound tide that belongs to another place.
        tide = StorePlaces.Tide(StorePlaces.Other("B", 2));
        Assert.IsFalse(new BuiltInSite(site, tide, BuiltInSite.SumOf(site, tide)).Use(box));
        Assert.IsFalse(box.HasGivenTide);
    }

    /// <summary>The box has a place then, and the memory stays as it is, the tide of the unreadable place too.</summary>
    [TestMethod]
    public void BesideADamagedPlaceItWritesNothing()
    {
        PlainMemory memory = new PlainMemory();
        new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("A", 3), 100)).Pass(10 * Second);
        // Both copies: a damaged one beside a blank one is no more than a first save that was cut off.
        for (int copy = 0; copy < StoreMap.Copies; copy++) memory.Cells[StoreMap.FirstPage(RecordId.Site, copy) * StoreMap.PageBytes + 20] ^= 4;
        StoreBench bench = new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("B", 2), 200));
        Assert.AreEqual("B", bench.Shore.Settings.Name);
        Assert.AreEqual((int)MemoryTrouble.Damaged, (int)bench.Health.Memory);
        int writes = memory.Writes;
        bench.Pass(10 * Second);
        Assert.AreEqual(writes, memory.Writes);
        Assert.AreEqual("B", bench.Shore.Settings.Name);
    }

    /// <summary>The power goes at every page while a place and its tide are replaced: afterwards the tide is the place's own.</summary>
    [TestMethod]
    public void ACutBetweenPlaceAndTideMixesNoTwoPlaces()
    {
        int mixed = 0;
        for (int page = 0; page < 16; page++)
        {
            PlainMemory memory = new PlainMemory();
            new StoreBench(memory, StorePlaces.BuiltIn(StorePlaces.Other("A", 3), 100)).Pass(10 * Second);
            bool cut = IsCutWhileItTakesB(memory, page);
            if (!HoldsAPlaceWithItsOwnTide(memory)) mixed++;
            TakesBWholeAtTheNextStart(memory);
            if (!cut) return;
        }
        Assert.IsTrue(mixed > 0, "some cut fell between the two");
    }

    // Each step has a method of its own, so that a device holds one box at a time.
    private static BuiltInSite B() => StorePlaces.BuiltIn(StorePlaces.Other("B", 2), 200);

    private static bool IsCutWhileItTakesB(PlainMemory memory, int page)
    {
        StoreBench bench = new StoreBench(memory, B());
        memory.WritesLeft = page;
        memory.CutAt = 17;
        bench.Pass(10 * Second);
        bool cut = memory.Silent;
        memory.Silent = false;
        memory.WritesLeft = int.MaxValue;
        return cut;
    }

    private static bool HoldsAPlaceWithItsOwnTide(PlainMemory memory)
    {
        ShoreSettings held = new StoreBench(memory).Shore.Settings;
        if (!(held.GivenTide is HarmonicTide tide)) return false;
        Check.Near(held.Name == "A" ? 3 : 2, tide.Constants.MeanLevelMetres, 1e-12, "its own tide");
        return true;
    }

    private static void TakesBWholeAtTheNextStart(PlainMemory memory)
    {
        StoreBench bench = new StoreBench(memory, B());
        ShoreSettings taken = bench.Shore.Settings;
        Assert.AreEqual("B", taken.Name);
        Check.Near(2, ((HarmonicTide)taken.GivenTide!).Constants.MeanLevelMetres, 1e-12, "its own tide");
        bench.Pass(10 * Second);
        HoldsBAfterwards(memory);
    }

    private static void HoldsBAfterwards(PlainMemory memory)
    {
        ShoreSettings held = new StoreBench(memory).Shore.Settings;
        Assert.AreEqual("B", held.Name);
        Assert.IsTrue(held.HasGivenTide);
    }
}

using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A place and its tide come back from the memory whole and together, or not at all.</summary>
[TestClass]
public class StorePlaceTests
{
    private const long Second = 1_000_000;

    private static void FillAll(StoreBench bench)
    {
        StorePlaces.Fill(bench.Shore.Settings, StorePlaces.Harmonic(1));
        StorePlaces.Type(bench.Shore.Settings.Table);
        bench.Shore.Settings.Touch();
        bench.Shore.Settings.DawnOn = true;
        bench.Shore.Settings.SprayMinutes = 7;
    }

    [TestMethod]
    public void EverythingOfAPlaceComesBackAfterAReset()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench before = new StoreBench(memory);
        FillAll(before);
        before.Shore.Settings.SetFromTable(true);
        before.Shore.Settings.SetShape(TideShape.Plain, 17);
        before.Shore.Settings.SetOffset(new LocalTime(new LocalOffset(-210), new UtcInstant(StorePlaces.Noon), new LocalOffset(-150), new UtcInstant(StorePlaces.Noon + 9_000_000), new LocalOffset(-210)));
        before.Pass(10 * Second);
        Assert.IsTrue(before.Keeper.Settled);
        StoreBench after = new StoreBench(memory);
        Assert.IsFalse(after.Health.Any);
        ShoreSettings settings = after.Shore.Settings;
        Assert.AreEqual("Sixteen letters!", settings.Place.Name);
        Assert.AreEqual("invented datum of 32 letters, so", settings.Place.DatumText);
        Assert.AreEqual(-5021, settings.LatitudeHundredths);
        Assert.AreEqual(17999, settings.LongitudeHundredths);
        Assert.AreEqual(-210, settings.Place.Offset.MinutesAt(new UtcInstant(StorePlaces.Noon - 1)));
        Assert.AreEqual(-150, settings.Place.Offset.MinutesAt(new UtcInstant(StorePlaces.Noon)));
        Assert.AreEqual(-210, settings.Place.Offset.MinutesAt(new UtcInstant(StorePlaces.Noon + 9_000_000)));
        Assert.AreEqual(599, settings.Place.WalkInMinutes);
        Assert.AreEqual(6, settings.Place.PathCount);
        for (int i = 0; i < 6; i++)
        {
            Assert.AreEqual("Low point No  " + (char)('A' + i) + "!", settings.Place.PathPoint(i).Name);
            Check.Near(3.5 + i * 0.25, settings.Place.PathPoint(i).FloodMetres, 1e-12, "floods");
            Assert.AreEqual(10 * i, settings.Place.PathPoint(i).WalkMinutes);
            Check.Near(0.25 * i, settings.Place.PathPoint(i).MarginMetres, 1e-12, "margin");
        }
        Assert.AreEqual(180, settings.Wish.BeforeMinutes);
        Assert.AreEqual(5, settings.Wish.AfterMinutes);
        Check.Near(3.25, settings.Wish.HighMetres, 1e-12, "band");
        Check.Near(-1.5, settings.Wish.LowMetres, 1e-12, "band");
        Assert.AreEqual(355, settings.Wish.WorkMinutes);
        Assert.IsFalse(settings.Wish.Mornings);
        Assert.IsTrue(settings.Wish.Evenings);
        Assert.IsTrue(settings.DawnOn);
        Assert.AreEqual(7, settings.SprayMinutes);
        Assert.IsTrue(settings.FromTable);
        Assert.AreEqual((int)TideShape.Plain, (int)settings.Shape);
        Assert.AreEqual(17, settings.LeftOutCentimetres);
        Assert.AreEqual(8, settings.Table.Count);
        for (int i = 0; i < 8; i++)
        {
            Assert.AreEqual(i % 2 == 1, settings.Table.IsHigh(i));
            Assert.AreEqual(StorePlaces.Noon + i * 22_320L, settings.Table.Printed(i).Seconds);
            Assert.AreEqual(i % 2 == 0 ? -120 : 523, settings.Table.Centimetres(i));
        }
        settings.SetFromTable(false);
        Assert.AreEqual((int)TideCertainty.Harmonic, (int)settings.Place.Tide.CertaintyAt(new UtcInstant(StorePlaces.Noon)));
        settings.SetFromTable(true);
        int writes = memory.Writes;
        after.Pass(10 * Second);
        Assert.AreEqual(writes, memory.Writes);
    }

    /// <summary>At the largest amplitudes that are kept, and with node factors.</summary>
    [TestMethod]
    public void KeptConstantsMoveTheHeightByLessThanAMillimetre()
    {
        ShoreSettings settings = new ShoreSettings();
        HarmonicTide told = StorePlaces.Harmonic(10);
        StorePlaces.Fill(settings, told);
        byte[] data = StorePlaces.Tide(settings);
        TideRecord? record = TideRecord.Take(data, new Bytes(data, data.Length));
        Assert.IsNotNull(record);
        ShoreSettings back = new ShoreSettings();
        record!.Use(back, true);
        double worst = 0;
        for (int i = 0; i < 40; i++)
        {
            UtcInstant at = new UtcInstant(StorePlaces.Noon + i * 7_777_777L);
            double off = back.GivenTide!.HeightMetres(at) - told.HeightMetres(at);
            if (off < 0) off = -off;
            if (off > worst) worst = off;
        }
        Assert.IsTrue(worst > 0, "the test has decimals that are not kept");
        Assert.IsTrue(worst < 0.001);
    }

    /// <summary>Constants with the decimals of a published list come back bit for bit.</summary>
    [TestMethod]
    public void PublishedConstantsComeBackExactly()
    {
        ShoreSettings settings = StorePlaces.Other("A", 3.15);
        byte[] data = StorePlaces.Tide(settings);
        ShoreSettings back = new ShoreSettings();
        TideRecord.Take(data, new Bytes(data, data.Length))!.Use(back, true);
        HarmonicTide tide = (HarmonicTide)back.GivenTide!;
        Assert.IsTrue(tide.Constants.MeanLevelMetres == 3.15);
        Assert.IsTrue(tide.Constants.AmplitudeMetres(0) == 1.7);
        Assert.IsTrue(tide.Constants.PhaseLagDegrees(0) == 131.0);
        Assert.AreEqual(1, tide.Constants.Used);
        Assert.AreEqual((int)NodeSchedule.Yearly, (int)tide.Schedule);
    }

    /// <summary>A record of version 1 kept instants: they stand as the clocks of the place showed them, and count as typed.</summary>
    [TestMethod]
    public void TypedTurnsOfAnOldRecordStandAsTheyWerePrinted()
    {
        byte[] scratch = new byte[64];
        Bytes bytes = new Bytes(scratch, scratch.Length);
        bytes.Put(0, 1);
        bytes.Put(2, 1);
        bytes.PutFlag(false);
        bytes.Put(StorePlaces.Noon, 4);
        bytes.Put(90, 2);
        bytes.Put(StorePlaces.Noon + 22_320, 4);
        bytes.Put(510, 2);
        byte[] data = StorePlaces.Cut(scratch, bytes.At);
        ShoreSettings settings = new ShoreSettings();
        settings.SetOffset(new LocalOffset(60));
        TideRecord.Take(data, new Bytes(data, data.Length))!.Use(settings, true);
        Assert.AreEqual(StorePlaces.Noon + 3600, settings.Table.Printed(0).Seconds);
        Assert.IsFalse(settings.Table.Guesses);
        PrintedTide tide = (PrintedTide)settings.Place.Tide;
        Assert.AreEqual(2, tide.Count);
        Assert.AreEqual(StorePlaces.Noon, tide[0].Time.Seconds);
    }

    /// <summary>What is a guess stays one over a reset.</summary>
    [TestMethod]
    public void GuessesStayGuesses()
    {
        ShoreSettings settings = new ShoreSettings();
        StorePlaces.Type(settings.Table);
        settings.Table.Confirm(0x0F07);
        byte[] data = StorePlaces.Tide(settings);
        ShoreSettings back = new ShoreSettings();
        TideRecord.Take(data, new Bytes(data, data.Length))!.Use(back, true);
        Assert.AreEqual(0x0F07, back.Table.Typed);
        Assert.IsTrue(back.Table.Guesses);
        Assert.AreEqual(3, ((PrintedTide)back.Place.Tide).Count);
    }

    /// <summary>Recipes come back bit for bit, amplitudes within 0.05 mm, phase lags within 0.005 degrees.</summary>
    [TestMethod]
    public void SixtyOpenConstituentsComeBack()
    {
        ShoreSettings settings = new ShoreSettings();
        StorePlaces.Fill(settings, StorePlaces.Open());
        byte[] data = StorePlaces.Tide(settings);
        ShoreSettings back = new ShoreSettings();
        TideRecord.Take(data, new Bytes(data, data.Length))!.Use(back, true);
        HarmonicTide before = (HarmonicTide)settings.GivenTide!, after = (HarmonicTide)back.GivenTide!;
        Assert.AreEqual(HarmonicConstants.Most, after.Constants.Count);
        for (int i = 0; i < HarmonicConstants.Most; i++)
        {
            Assert.IsTrue(before.Constants.RecipeAt(i) == after.Constants.RecipeAt(i));
            Check.Near(before.Constants.AmplitudeMetresAt(i), after.Constants.AmplitudeMetresAt(i), 0.00005001, "amplitude");
            Check.Near(before.Constants.PhaseLagDegreesAt(i), after.Constants.PhaseLagDegreesAt(i), 0.005001, "phase");
        }
        StorePlaces.Same(data, StorePlaces.Tide(back));
    }

    /// <summary>Each part of a recipe comes out as it went in.</summary>
    [TestMethod]
    public void ARecipeHoldsItsParts()
    {
        int recipe = ConstituentRecipe.Pack(14, -13, 12, -4, 1, 3, -8, 3, 26);
        Assert.AreEqual(14, ConstituentRecipe.T(recipe));
        Assert.AreEqual(-13, ConstituentRecipe.S(recipe));
        Assert.AreEqual(12, ConstituentRecipe.H(recipe));
        Assert.AreEqual(-4, ConstituentRecipe.P(recipe));
        Assert.AreEqual(1, ConstituentRecipe.P1(recipe));
        Assert.AreEqual(3, ConstituentRecipe.Quarters(recipe));
        Assert.AreEqual(-8, ConstituentRecipe.M2(recipe));
        Assert.AreEqual(14, ConstituentRecipe.M2Factors(recipe));
        Assert.AreEqual(26, ConstituentRecipe.TermsOf(recipe));
    }

    [TestMethod]
    public void APrintedTableOfAPlaceComesBack()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench before = new StoreBench(memory);
        StorePlaces.Fill(before.Shore.Settings, StorePlaces.Printed());
        StorePlaces.Type(before.Shore.Settings.Table);
        before.Shore.Settings.Touch();
        before.Pass(10 * Second);
        StoreBench after = new StoreBench(memory);
        PrintedTide tide = (PrintedTide)after.Shore.Settings.Place.Tide;
        Assert.AreEqual(PrintedTide.Capacity, tide.Count);
        for (int i = 0; i < tide.Count; i++)
        {
            Assert.AreEqual(StorePlaces.Noon + i * 22_320L, tide[i].Time.Seconds);
            Assert.AreEqual(i % 2 == 1, tide[i].IsHigh);
            Check.Near(i % 2 == 0 ? 0.123456 + i * 0.01 : 5.4321, tide[i].HeightMetres, 1e-6, "height");
        }
        Assert.AreEqual(8, after.Shore.Settings.Table.Count);
    }

    // The record after one change: refused, or one that says the same when it is written again.
    private static void Judge(byte[] data, int length, bool site, ref int taken)
    {
        Bytes bytes = new Bytes(data, length);
        ShoreSettings settings = new ShoreSettings();
        if (site)
        {
            SiteRecord? record = SiteRecord.Take(bytes);
            if (record == null) return;
            record.UsePlace(settings);
            ShoreDesk desk = new ShoreDesk(settings, new BoxSettings());
            record.UseSwitches(desk);
            byte[] again = new byte[StoreMap.Capacity(RecordId.Site)];
            Bytes written = new Bytes(again, again.Length);
            SiteRecord.Put(desk, record.TideSum, written);
            StorePlaces.Same(StorePlaces.Cut(data, length), StorePlaces.Cut(again, written.At));
        }
        else
        {
            TideRecord? record = TideRecord.Take(data, bytes);
            if (record == null) return;
            record.Use(settings, true);
            StorePlaces.Same(StorePlaces.Cut(data, length), StorePlaces.Tide(settings));
            double height = settings.Place.Tide.HeightMetres(new UtcInstant(StorePlaces.Noon));
            Assert.IsTrue(height > -500 && height < 500);
        }
        taken++;
        Assert.IsTrue(settings.Place.PathCount <= ShoreSettings.MostPoints);
    }

    // Every shortening must be refused; of the flips of one bit some are another sound record.
    private static void Torture(byte[] data, bool site)
    {
        int taken = 0;
        for (int length = 0; length < data.Length; length++) Judge(data, length, site, ref taken);
        Assert.AreEqual(0, taken);
        for (int bit = 0; bit < data.Length * 8; bit++)
        {
            data[bit / 8] ^= (byte)(1 << (bit % 8));
            Judge(data, data.Length, site, ref taken);
            data[bit / 8] ^= (byte)(1 << (bit % 8));
        }
        Assert.IsTrue(taken > data.Length && taken < data.Length * 8);
    }

    [TestMethod]
    public void AShortenedOrFlippedPlaceIsRefusedOrSound()
    {
        ShoreSettings settings = new ShoreSettings();
        StorePlaces.Fill(settings, StorePlaces.Harmonic(1));
        byte[] data = StorePlaces.Site(settings);
        Assert.AreEqual(78 + 6 * 22, data.Length);
        Torture(data, true);
    }

    [TestMethod]
    public void AShortenedOrFlippedTideIsRefusedOrSound()
    {
        ShoreSettings settings = new ShoreSettings();
        StorePlaces.Type(settings.Table);
        StorePlaces.Fill(settings, StorePlaces.Harmonic(0.7));
        byte[] data = StorePlaces.Tide(settings);
        Assert.AreEqual(11 + 37 * 6 + 4 + 8 * 6, data.Length);
        Torture(data, false);
        settings.Give(StorePlaces.Open());
        data = StorePlaces.Tide(settings);
        Assert.AreEqual(7 + 60 * 8 + 4 + 8 * 6, data.Length);
        Torture(data, false);
        settings.Give(StorePlaces.Printed());
        data = StorePlaces.Tide(settings);
        Assert.AreEqual(3 + 29 * 8 + 4 + 8 * 6, data.Length);
        Torture(data, false);
    }

    // Stores bytes under a good CRC, as a firmware with a fault could.
    private static void Plant(PlainMemory memory, RecordId id, int version, byte[] data)
    {
        PageWriter writer = new PageWriter(memory);
        RecordStore store = new RecordStore(memory, writer);
        store.Find(id, version);
        Assert.IsTrue(store.TrySave(id, version, data, data.Length));
        while (writer.Busy) writer.Step(0);
    }

    [TestMethod]
    public void AnImpossiblePlaceIsReportedAndLeftAlone()
    {
        PlainMemory memory = new PlainMemory();
        byte[] site = StorePlaces.Site(StorePlaces.Other("A", 3));
        // Past the stamp, sum, switches, spray, name, datum and position: local time, here 32767 minutes.
        site[62] = 0xFF;
        site[63] = 0x7F;
        Plant(memory, RecordId.Site, SiteRecord.Version, site);
        Plant(memory, RecordId.Tide, TideRecord.Version, StorePlaces.Tide(StorePlaces.Other("A", 3)));
        StoreBench bench = new StoreBench(memory);
        Assert.AreEqual((int)MemoryTrouble.Damaged, (int)bench.Health.Memory);
        Assert.AreEqual("NO PLACE", bench.Shore.Settings.Name);
        Assert.IsFalse(bench.Shore.Settings.HasGivenTide, "a tide without its place says nothing");
        int writes = memory.Writes;
        bench.Shore.Settings.SetName("B");
        bench.Shore.SetAlarm(true);
        bench.Pass(10 * Second);
        Assert.AreEqual(writes, memory.Writes);
        bench.Health.StartAfresh = true;
        bench.Pass(10 * Second);
        Assert.AreEqual("B", new StoreBench(memory).Shore.Settings.Name);
    }

    [TestMethod]
    public void APlaceOfALaterFirmwareIsKept()
    {
        PlainMemory memory = new PlainMemory();
        Plant(memory, RecordId.Site, SiteRecord.Version + 1, StorePlaces.Site(StorePlaces.Other("A", 3)));
        Plant(memory, RecordId.Tide, TideRecord.Version + 1, StorePlaces.Tide(StorePlaces.Other("A", 3)));
        StoreBench bench = new StoreBench(memory);
        Assert.AreEqual((int)MemoryTrouble.Newer, (int)bench.Health.Memory);
        int writes = memory.Writes;
        FillAll(bench);
        bench.Pass(10 * Second);
        Assert.AreEqual(writes, memory.Writes);
    }

    /// <summary>Heights of one place above the datum of another would be worse than none.</summary>
    [TestMethod]
    public void ATideOfAnotherPlaceIsNotUsed()
    {
        PlainMemory memory = new PlainMemory();
        Plant(memory, RecordId.Site, SiteRecord.Version, StorePlaces.Site(StorePlaces.Other("A", 3)));
        Plant(memory, RecordId.Tide, TideRecord.Version, StorePlaces.Tide(StorePlaces.Other("B", 2)));
        StoreBench bench = new StoreBench(memory);
        Assert.AreEqual("A", bench.Shore.Settings.Name);
        Assert.IsFalse(bench.Shore.Settings.HasGivenTide);
        Assert.AreEqual((int)MemoryTrouble.Damaged, (int)bench.Health.Memory);
        bench.Shore.Settings.SetName("C");
        bench.Pass(10 * Second);
        // The right tide, put beside it, is known by the sum that was kept.
        Plant(memory, RecordId.Tide, TideRecord.Version, StorePlaces.Tide(StorePlaces.Other("A", 3)));
        StoreBench after = new StoreBench(memory);
        Assert.AreEqual("C", after.Shore.Settings.Name);
        Assert.IsTrue(after.Shore.Settings.HasGivenTide);
        Assert.IsFalse(after.Health.Any);
    }

    /// <summary>What was changed while the memory did not answer wins; the rest comes from the memory.</summary>
    [TestMethod]
    public void ALateMemoryGivesWhatWasNotTouched()
    {
        PlainMemory memory = new PlainMemory();
        StoreBench first = new StoreBench(memory);
        FillAll(first);
        first.Pass(10 * Second);
        memory.Silent = true;
        StoreBench late = new StoreBench(memory);
        late.Shore.Settings.SprayMinutes = 3;
        memory.Silent = false;
        late.Pass(10 * Second);
        Assert.AreEqual("Sixteen letters!", late.Shore.Settings.Name);
        Assert.IsTrue(late.Shore.Settings.HasGivenTide);
        Assert.AreEqual(3, late.Shore.Settings.SprayMinutes);
        memory.Silent = true;
        StoreBench changed = new StoreBench(memory);
        changed.Shore.Settings.SetName("MINE");
        memory.Silent = false;
        changed.Pass(10 * Second);
        StoreBench after = new StoreBench(memory);
        Assert.AreEqual("MINE", after.Shore.Settings.Name);
        Assert.AreEqual(3, after.Shore.Settings.SprayMinutes);
        Assert.IsFalse(after.Shore.Settings.HasGivenTide, "the tide belonged to the place that was written over");
    }
}

using Intervalometer.Coast.Tide;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard.Cli;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Plan;

/// <summary>The command that brings a place to a box and reads a box out.</summary>
[TestClass]
public sealed class SiteVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("site").FullName;

    public SiteVerbTests() => File.WriteAllText(At("ledge.txt"), DemoSite.Text);

    public void Dispose() => Directory.Delete(_folder, true);

    private string At(string name) => Path.Combine(_folder, name);

    private static (int Code, string Output, string Error) Run(params string[] args)
    {
        var output = new StringWriter();
        var error = new StringWriter();
        return (CommandLine.Run(args, output, error), output.ToString(), error.ToString());
    }

    private static string Good(params string[] args)
    {
        var (code, output, error) = Run(args);
        Assert.AreEqual(0, code, error);
        Assert.AreEqual("", error);
        StringAssert.Contains(output, TideCaution.Full);
        Assert.IsFalse(output.Contains(" safe", StringComparison.OrdinalIgnoreCase));
        return output;
    }

    private static void Bad(string said, params string[] args)
    {
        var (code, output, error) = Run(args);
        Assert.AreEqual(2, code);
        Assert.AreEqual("", output);
        Assert.AreEqual(1, error.TrimEnd().Split('\n').Length, error);
        StringAssert.Contains(error, said);
    }

    [TestMethod]
    public void EveryMistakeOfTheFileHasALineOfItsOwn()
    {
        File.WriteAllText(At("wrong.txt"), DemoSite.Text.Replace("latitude: 50.20", "latitude: north").Replace("evenings: no", "evenings: perhaps"));
        var (code, output, error) = Run("site", At("wrong.txt"));
        Assert.AreEqual(2, code);
        Assert.AreEqual("", output);
        string[] told = error.TrimEnd().Split('\n');
        Assert.AreEqual(2, told.Length, error);
        StringAssert.Contains(told[0], "line 4: latitude: 'north' is not a number");
        StringAssert.Contains(told[1], "line 33: evenings is yes or no");
    }

    [TestMethod]
    public void ACheckSaysWhatTheBoxWouldHoldAndWritesNothing()
    {
        string output = Good("site", At("ledge.txt"), "--check");
        StringAssert.Contains(output, "Gannet Ledge, 50.20");
        StringAssert.Contains(output, "12 harmonic constituents, mean level 3.15 m, node factors yearly");
        StringAssert.Contains(output, "above invented chart datum");
        StringAssert.Contains(output, "Boulder gap: floods 4.40 m, walk 25 min, margin 0.50 m");
        StringAssert.Contains(output, "next high water");
        StringAssert.Contains(output, "next low water");
        Assert.AreEqual(output, Good("site", At("ledge.txt")));
        Assert.AreEqual(1, Directory.GetFiles(_folder).Length);
    }

    /// <summary>The image is that of a new chip, except for the first copies of the two records.</summary>
    [TestMethod]
    public void AnImageHoldsThePlaceAndNothingElse()
    {
        StringAssert.Contains(Good("site", At("ledge.txt"), "--image", At("new/site.bin")), "0057/eeprom");
        byte[] cells = File.ReadAllBytes(At("new/site.bin"));
        Assert.AreEqual(4096, cells.Length);
        Assert.AreEqual(1, Directory.GetFiles(At("new")).Length, "no part is left");
        for (int page = 0; page < StoreMap.Pages; page++)
        {
            bool ours = new[] { RecordId.Site, RecordId.Tide }.Any(id => page >= StoreMap.FirstPage(id, 0) && page < StoreMap.FirstPage(id, 1));
            if (!ours) Assert.IsTrue(cells.Skip(page * 32).Take(32).All(b => b == 0xFF), $"page {page}");
        }
        ShoreSettings settings = new OfflineBox(cells).Shore.Settings;
        Assert.AreEqual("Gannet Ledge", settings.Name);
        Assert.AreEqual(12, ((HarmonicTide)settings.Place.Tide).Constants.Used);
    }

    /// <summary>A file that exists may be the only dump of a logbook.</summary>
    [TestMethod]
    public void AnImageThatIsThereIsNotOverwritten()
    {
        File.WriteAllText(At("site.bin"), "frames");
        Bad("site.bin: is there already; say --into", "site", At("ledge.txt"), "--image", At("site.bin"));
        Assert.AreEqual("frames", File.ReadAllText(At("site.bin")));
    }

    [TestMethod]
    public void AnImageIntoADumpKeepsSettingsLogbookAndAlarm()
    {
        var old = new OfflineBox();
        old.Settings.StepShutter(5);
        old.Shore.SetAlarm(true);
        old.Shore.Settings.Table.Restart(2, true);
        old.Shore.Settings.Touch();
        byte[] dump = old.Settle();
        WithFrame(dump);
        File.WriteAllBytes(At("dump.bin"), dump);
        StringAssert.Contains(Good("site", At("ledge.txt"), "--image", At("site.bin"), "--into", At("dump.bin")), "way-back alarm on");
        var box = new OfflineBox(File.ReadAllBytes(At("site.bin")));
        Assert.AreEqual(-13, box.Settings.Base.Shutter.Index);
        Assert.IsTrue(box.Shore.AlarmOn);
        Assert.AreEqual("Gannet Ledge", box.Shore.Settings.Name);
        Assert.AreEqual(0, box.Shore.Settings.Table.Count, "turns typed for another place");
        Assert.AreEqual(1, box.Keeper.Logbook.Count);
        string output = Good("site", "--from", At("site.bin"));
        StringAssert.Contains(output, "frame,session,start_s,start_utc,exposure_s");
        StringAssert.Contains(output, "1,,,2031-03-14T12:00:00Z,64,no,");
        StringAssert.Contains(Good("site", "--from", At("site.bin"), "--logbook", At("log.csv")), "1 frames");
        Assert.AreEqual(2, File.ReadAllLines(At("log.csv")).Length);
    }

    private static void WithFrame(byte[] cells)
    {
        var clock = new Tests.Host.Store.HandClock();
        var chip = new At24c32Model(clock);
        chip.Fill(cells);
        var memory = new Intervalometer.Drivers.At24c32.At24c32(new Tests.Host.Store.ModelWire(chip));
        var writer = new PageWriter(memory);
        var log = new Logbook(memory, writer);
        log.Scan();
        Assert.IsTrue(log.TryAppend(new LogEntry { HasUtc = true, StartUtcSeconds = DeviceSafe.StorePlaces.Noon, ExposureUs = 64_000_000 }, null));
        while (writer.Busy)
        {
            writer.Step(clock.NowUs);
            clock.NowUs += 11_000;
        }
        chip.Snapshot().CopyTo(cells, 0);
    }

    [TestMethod]
    public void BadRequestsGiveOneLineOfError()
    {
        File.WriteAllBytes(At("short.bin"), new byte[4095]);
        File.WriteAllText(At("wrong.txt"), DemoSite.Text.Replace("invented chart datum", "a datum that takes far too long to say"));
        Bad("Name a site file", "site");
        Bad("cannot be read", "site", At("none.txt"));
        Bad("datum is at most 32 plain letters", "site", At("wrong.txt"));
        Bad("short.bin: holds 4095 bytes, and the memory 4096", "site", At("ledge.txt"), "--image", At("x.bin"), "--into", At("short.bin"));
        Bad("short.bin: holds 4095 bytes", "site", "--from", At("short.bin"));
        Bad("none.bin: cannot be read", "site", "--from", At("none.bin"));
        Bad("--into belongs to --image", "site", At("ledge.txt"), "--into", At("short.bin"));
        Bad("--from only reads out", "site", At("ledge.txt"), "--from", At("short.bin"));
        Bad("--check writes nothing", "site", At("ledge.txt"), "--check", "--image", At("x.bin"));
        Bad("--logbook belongs to --from", "site", At("ledge.txt"), "--logbook", At("x.csv"));
        Bad("ledge.txt/x.bin: cannot be written (", "site", At("ledge.txt"), "--image", At("ledge.txt/x.bin"));
        Directory.CreateDirectory(At("folder"));
        Bad("folder: cannot be written (that is a folder); choose another name", "site", At("ledge.txt"), "--image", At("folder"));
        Assert.IsFalse(File.Exists(At("x.bin")));
    }

    /// <summary>A dump whose place cannot be understood is not written over.</summary>
    [TestMethod]
    public void AnImageIntoADamagedPlaceIsRefused()
    {
        byte[] dump = SiteImage.Make(DemoSite.Load(), new(900_000_000));
        dump = SiteImage.Make(DemoSite.Load(), new(900_000_001), dump);
        for (int copy = 0; copy < 2; copy++) dump[StoreMap.FirstPage(RecordId.Site, copy) * 32 + 20] ^= 1;
        File.WriteAllBytes(At("dump.bin"), dump);
        Bad("What the memory holds as place cannot be read", "site", At("ledge.txt"), "--image", At("x.bin"), "--into", At("dump.bin"));
        StringAssert.Contains(Good("site", "--from", At("dump.bin")), "memory is unreadable");
    }

    [TestMethod]
    public void ADumpThatIsNoStoreIsRead()
    {
        byte[] noise = new byte[4096];
        new Random(3).NextBytes(noise);
        File.WriteAllBytes(At("noise.bin"), noise);
        string output = Good("site", "--from", At("noise.bin"));
        StringAssert.Contains(output, "NO PLACE");
        StringAssert.Contains(output, "no high or low water known");
    }

    [TestMethod]
    public void MoreLowPointsThanTheBoxHoldsAreReported()
    {
        string more = string.Join("\n", Enumerable.Range(1, 6).Select(i => $"Rock {i}: floods 4.{i} m, walk {i * 5} min, margin 0.{i} m"));
        File.WriteAllText(At("many.txt"), DemoSite.Text.Replace("[morning]", more + "\n\n[morning]"));
        string output = Good("site", At("many.txt"));
        StringAssert.Contains(output, "The file has 8 low points, and the box holds 6");
        // Rocks 4 to 6 in one: the lowest flood, the longest walk, the largest margin.
        StringAssert.Contains(output, "Rock 4: floods 4.40 m, walk 30 min, margin 0.60 m");
    }
}

using Intervalometer.Drivers.At24c32;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.DeviceSafe;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.Tests.Host.Store;

/// <summary>How much of the memory's life a season takes: every write is counted, page by page.</summary>
[TestClass]
public class SeasonTests
{
    // Atmel, AT24C32/64 data sheet, "Endurance: 1 Million Write Cycles", of each page.
    private const double Endurance = 1e6;
    private const int Mornings = 150;
    private const int FramesAMorning = 60;
    private const int ChangesAMorning = 40;

    public TestContext TestContext { get; set; } = null!;

    /// <summary>150 mornings: 60 frames one by one, 40 changes each saved by itself (settings, filters and camera in turn), the alarm on and off twice.</summary>
    [TestMethod]
    public void ASeasonTakesLittleOfTheChipsLife()
    {
        var clock = new HandClock { NowUs = 10_000_000 };
        var chip = new At24c32Model(clock);
        for (int morning = 0; morning < Mornings; morning++) Morning(chip, clock, morning);
        int ring = chip.Wear.Skip(StoreMap.LogFirstPage).Max();
        int[] records = [.. chip.Wear.Take(StoreMap.LogFirstPage)];
        int worst = records.Max();
        int pages = chip.Wear.Skip(StoreMap.LogFirstPage).Sum();
        double seasons = Endurance / Math.Max(ring, worst);
        TestContext.WriteLine($"a season: {chip.Wear.Sum()} writes, {pages} of them pages of the logbook, {ring} of one page; {worst} of one page of a record (page {Array.IndexOf(records, worst)}): worn after {seasons:0} seasons. Numbers for {Logbook.Numbers / (double)pages:0} seasons");
        Assert.IsTrue(seasons > 100, $"{seasons:0} seasons");
        Assert.AreEqual(ring, chip.Wear.Skip(StoreMap.LogFirstPage).Min(), 1, "the ring wears evenly");
        Assert.IsTrue(Logbook.Numbers / (double)pages > 1000);
    }

    private static void Morning(At24c32Model chip, HandClock clock, int morning)
    {
        var settings = new BoxSettings();
        var shore = new ShoreDesk(new ShoreSettings(), settings);
        var bench = new Bench();
        var keeper = new StoreKeeper(new At24c32(new ModelWire(chip)), settings, shore, bench.Link, new BoxHealth());
        keeper.Load(clock.NowUs);
        if (morning == 0) StorePlaces.Fill(shore.Settings, StorePlaces.Harmonic(1));
        for (int i = 0; i < FramesAMorning; i++)
        {
            bench.Link.Frames.Add(clock.NowUs, 100_000, 0, 0, false, false);
            clock.NowUs += 200_000;
            if (i < ChangesAMorning) Change(settings, i + morning);
            if (i % 15 == 0) shore.SetAlarm(!shore.AlarmOn);
            for (int steps = 0; !keeper.Settled; steps++)
            {
                Assert.IsTrue(steps < 5000);
                keeper.Step(clock.NowUs, true, long.MaxValue);
                clock.NowUs += 11_000;
            }
            clock.NowUs += 1_000_000;
        }
    }

    // Half of what is changed is the metered base, the brightness and the like; the rest the filters and the camera.
    private static void Change(BoxSettings settings, int number)
    {
        if (number % 4 < 2) settings.Brightness = (settings.Brightness + 1) % 10;
        else if (number % 4 == 2) settings.Camera.ShutterLagMs = 20 + (settings.Camera.ShutterLagMs + 1) % 50;
        else
        {
            if (settings.Kit.Count == 0) settings.Kit.Add(new Core.Exposure.Filter("GREY", Core.Exposure.FilterKind.Nd));
            settings.Kit[0].On = !settings.Kit[0].On;
            settings.Solve();
        }
    }
}

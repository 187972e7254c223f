using Intervalometer.Coast.Tide;
using Intervalometer.Drivers.At24c32;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.DeviceSafe;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.Tests.Host.Store;

/// <summary>
/// The power is cut at every byte that is written while the box takes one place over another, with the alarm on. Afterwards
/// no tide is ever beside another place than its own, and the alarm is on.
/// </summary>
[TestClass]
public class PlacePowerCutTests
{
    private const int MessageBytes = 34;

    public TestContext TestContext { get; set; } = null!;

    /// <summary>Store and shore side as the box has them after power-on.</summary>
    private sealed class Side
    {
        private readonly HandClock _clock;

        public Side(At24c32Model chip, HandClock clock, BuiltInSite? builtIn)
        {
            _clock = clock;
            Wire = new ModelWire(chip);
            var settings = new BoxSettings();
            Shore = new ShoreDesk(new ShoreSettings(), settings);
            Keeper = new StoreKeeper(new At24c32(Wire), settings, Shore, new Bench().Link, new BoxHealth());
            if (builtIn is not null) Assert.IsTrue(builtIn.Use(Shore.Settings));
            Keeper.Load(clock.NowUs);
        }

        public ModelWire Wire { get; }
        public ShoreDesk Shore { get; }
        public StoreKeeper Keeper { get; }

        public double Level => Shore.Settings.GivenTide is HarmonicTide tide ? tide.Constants.MeanLevelMetres : double.NaN;

        public void Settle()
        {
            for (int i = 0; !Keeper.Settled; i++)
            {
                Assert.IsTrue(i < 5000, "the store never comes to rest");
                Keeper.Step(_clock.NowUs, true, long.MaxValue);
                _clock.NowUs += 11_000;
            }
        }
    }

    private static ShoreSettings Large(double level)
    {
        var settings = new ShoreSettings();
        HarmonicTide full = StorePlaces.Harmonic(1);
        var constants = new HarmonicConstants(level);
        for (int i = 0; i < Constituents.Count; i++) constants.Set(i, full.Constants.AmplitudeMetres(i), full.Constants.PhaseLagDegrees(i));
        StorePlaces.Fill(settings, new HarmonicTide(constants, NodeSchedule.Daily));
        settings.SetName($"Level {level:0}");
        return settings;
    }

    [TestMethod]
    public void ACutAtAnyByteMixesNoTwoPlacesAndLosesNoAlarm()
    {
        var clock = new HandClock();
        var chip = new At24c32Model(clock);
        var trial = new At24c32Model(clock, 9);
        int cuts = 0, without = 0;
        string[] names = ["Level 1", "Level 2", "Level 3"];
        var first = new Side(chip, clock, StorePlaces.BuiltIn(Large(1), 100));
        first.Settle();
        first.Shore.SetAlarm(true);
        first.Settle();
        for (int round = 2; round <= 3; round++)
        {
            BuiltInSite made = StorePlaces.BuiltIn(Large(round), round * 100);
            var side = new Side(chip, clock, made);
            side.Wire.BeforeWrite = message =>
            {
                if (message.Length != MessageBytes) return;
                foreach (string cut in PowerCuts.Each(message, chip.Snapshot(), trial))
                {
                    cuts++;
                    var bare = new Side(trial, clock, null);
                    Assert.IsTrue(bare.Shore.AlarmOn, cut);
                    Assert.IsTrue(bare.Shore.Settings.Name == names[round - 1] || bare.Shore.Settings.Name == names[round - 2], bare.Shore.Settings.Name);
                    if (double.IsNaN(bare.Level)) without++;
                    else Assert.AreEqual(bare.Shore.Settings.Name, $"Level {bare.Level:0}", $"{cut}: a tide of another place");
                    // With the place in the firmware it is whole at once.
                    var again = new Side(trial, clock, made);
                    Assert.AreEqual(names[round - 1], again.Shore.Settings.Name);
                    Assert.AreEqual(round, again.Level);
                }
            };
            side.Settle();
        }
        TestContext.WriteLine($"{cuts} cuts while a place and its tide were replaced twice, {without} of them between the two: no tide without the firmware's own");
        Assert.IsTrue(cuts > 4000, $"{cuts}");
        Assert.IsTrue(without > 0 && without < cuts);
    }
}

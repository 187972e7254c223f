using Intervalometer.Coast.Time;
using Intervalometer.Drivers.Ds3231;
using Intervalometer.VirtualBoard.Rtc;

namespace Intervalometer.Tests.Host.Rtc;

/// <summary>The clock driver against the register model, with the values of the DS3231 datasheet (19-5170).</summary>
[TestClass]
public class Ds3231Tests
{
    private long _nowUs = 7_000_000;

    [TestMethod]
    public void AFreshChipIsRefusedUntilSet()
    {
        var (model, clock) = Make();
        Assert.AreEqual(ClockState.Stopped, clock.Read(out _));
        UtcInstant time = new CivilTime(2026, 3, 7, 5, 59, 58).AsUtc();
        Assert.IsTrue(clock.Set(time));
        _nowUs += 4_000_000;
        Assert.AreEqual(ClockState.Running, clock.Read(out UtcInstant read));
        Assert.AreEqual("06:00", TimeText.HourMinute(CivilTime.FromUtc(read)));
        Assert.AreEqual(4L, read.SecondsSince(time));
        // 2026-03-07 is a Saturday.
        Assert.AreEqual((byte)6, model[Ds3231Registers.Day]);
        model.LosePower();
        Assert.AreEqual(ClockState.Stopped, clock.Read(out _));
    }

    [TestMethod]
    public void RegistersHoldBcdAsInTheDatasheet()
    {
        var (model, clock) = Make();
        Assert.IsTrue(clock.Set(new CivilTime(2059, 12, 31, 23, 48, 37).AsUtc()));
        byte[] expected = [0x37, 0x48, 0x23, 0x03, 0x31, 0x12, 0x59];
        for (int i = 0; i < 7; i++) Assert.AreEqual(expected[i], model[i], $"register {i}");
        Assert.AreEqual((byte)0x1C, model[Ds3231Registers.Control]);
        Assert.AreEqual((byte)0x08, model[Ds3231Registers.Status]);
    }

    /// <summary>Bit 6 of Hours high is 12-hour mode with bit 5 high for PM; 12 AM is midnight.</summary>
    [TestMethod]
    [DataRow(0x52, 0)]
    [DataRow(0x41, 1)]
    [DataRow(0x51, 11)]
    [DataRow(0x72, 12)]
    [DataRow(0x71, 23)]
    [DataRow(0x23, 23)]
    public void BothHourModesAreRead(int register, int hour)
    {
        var (model, clock) = Make();
        Assert.IsTrue(clock.Set(new CivilTime(2026, 3, 7, 0, 59, 59).AsUtc()));
        Assert.IsTrue(model.Write([Ds3231Registers.Hours, (byte)register]));
        Assert.AreEqual(ClockState.Running, clock.Read(out UtcInstant time));
        Assert.AreEqual(hour, CivilTime.FromUtc(time).Hour);
        // The chip rolls on in its own mode.
        _nowUs += 1_000_000;
        Assert.AreEqual(ClockState.Running, clock.Read(out time));
        Assert.AreEqual((hour + 1) % 24, CivilTime.FromUtc(time).Hour);
        Assert.AreEqual(register & 0x40, model[Ds3231Registers.Hours] & 0x40);
    }

    [TestMethod]
    [DataRow(Ds3231Registers.Hours, 0x53)]
    [DataRow(Ds3231Registers.Hours, 0x24)]
    [DataRow(Ds3231Registers.Hours, 0x40)]
    [DataRow(Ds3231Registers.Minutes, 0x60)]
    [DataRow(Ds3231Registers.Minutes, 0x1A)]
    [DataRow(Ds3231Registers.Date, 0x00)]
    [DataRow(Ds3231Registers.Date, 0x32)]
    [DataRow(Ds3231Registers.MonthCentury, 0x13)]
    [DataRow(Ds3231Registers.MonthCentury, 0x83)]
    public void NonsenseIsRefused(byte register, int value)
    {
        var (model, clock) = Make();
        Assert.IsTrue(clock.Set(new CivilTime(2026, 3, 7, 0, 0, 0).AsUtc()));
        Assert.IsTrue(model.Write([register, (byte)value]));
        Assert.AreEqual(ClockState.Nonsense, clock.Read(out _));
    }

    /// <summary>The calendar adjusts for leap years up to 2100; the century bit toggles when the years overflow from 99 to 00.</summary>
    [TestMethod]
    public void LeapDaysAndTheCenturyRollOver()
    {
        var (model, clock) = Make();
        Assert.IsTrue(clock.Set(new CivilTime(2028, 2, 28, 23, 59, 59).AsUtc()));
        _nowUs += 1_000_000;
        Assert.AreEqual((byte)0x29, model[Ds3231Registers.Date]);
        _nowUs += 86_400_000_000;
        Assert.AreEqual((byte)0x01, model[Ds3231Registers.Date]);
        Assert.AreEqual((byte)0x03, model[Ds3231Registers.MonthCentury]);
        Assert.IsTrue(clock.Set(new CivilTime(2099, 12, 31, 23, 59, 59).AsUtc()));
        _nowUs += 1_000_000;
        Assert.AreEqual((byte)0x81, model[Ds3231Registers.MonthCentury]);
        Assert.AreEqual((byte)0x00, model[Ds3231Registers.Year]);
        Assert.AreEqual(ClockState.Nonsense, clock.Read(out _));
    }

    [TestMethod]
    public void YearsOfCountingMatchTheCalendar()
    {
        var (_, clock) = Make();
        UtcInstant start = new CivilTime(2026, 1, 31, 17, 20, 3).AsUtc();
        Assert.IsTrue(clock.Set(start));
        foreach (long days in new[] { 1L, 29, 400, 2000, 8000 })
        {
            _nowUs += days * 86_400_000_000 + 61_000_000;
            Assert.AreEqual(ClockState.Running, clock.Read(out UtcInstant read));
            Assert.AreEqual((_nowUs - 7_000_000) / 1_000_000, read.SecondsSince(start));
        }
    }

    /// <summary>Datasheet, temperature registers: 00011001 01 is +25.25 degrees C.</summary>
    [TestMethod]
    [DataRow(0b00011001, 0b01000000, 101)]
    [DataRow(0b11111111, 0b11000000, -1)]
    [DataRow(0b11011000, 0b00000000, -160)]
    public void TemperatureIsInQuarters(int high, int low, int quarters)
    {
        var (model, clock) = Make();
        model.SetTemperature(quarters);
        Assert.AreEqual((byte)high, model[Ds3231Registers.TemperatureHigh]);
        Assert.AreEqual((byte)low, model[Ds3231Registers.TemperatureLow]);
        Assert.IsTrue(clock.ReadTemperature(out int read));
        Assert.AreEqual(quarters, read);
    }

    [TestMethod]
    public void AnUnpluggedChipIsReported()
    {
        var (model, clock) = Make();
        model.SetRunning(new CivilTime(2026, 3, 7, 0, 0, 0).AsUtc());
        model.Connected = false;
        Assert.AreEqual(ClockState.NoAnswer, clock.Read(out _));
        Assert.IsFalse(clock.Set(new UtcInstant(1)));
        Assert.IsFalse(clock.ReadTemperature(out _));
        model.Connected = true;
        Assert.IsFalse(clock.Set(new UtcInstant(-1)));
        Assert.AreEqual(ClockState.Running, clock.Read(out _));
    }

    /// <summary>The aging offset takes about 0.1 ppm a step off at 25 degrees C: 100 steps undo 10 ppm, 26 s in 30 days.</summary>
    [TestMethod]
    public void AgingTakesAFastCrystalBack()
    {
        var (model, clock) = Make();
        model.ErrorPpm = 10;
        UtcInstant start = new CivilTime(2026, 3, 7, 0, 0, 0).AsUtc();
        Assert.IsTrue(clock.Set(start));
        _nowUs += 30 * 86_400_000_000L;
        clock.Read(out UtcInstant fast);
        Assert.AreEqual(30 * 86400 + 25L, fast.SecondsSince(start), 1L);
        Assert.IsTrue(clock.SetAging(100));
        Assert.IsTrue(clock.Set(start));
        _nowUs += 30 * 86_400_000_000L;
        clock.Read(out UtcInstant mended);
        Assert.AreEqual(30 * 86400L, mended.SecondsSince(start), 1L);
    }

    private (Ds3231Model Model, Ds3231Clock Clock) Make()
    {
        var model = new Ds3231Model(() => _nowUs);
        return (model, new Ds3231Clock(model));
    }
}

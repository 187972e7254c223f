using System.Reflection;
using Intervalometer.Coast.Time;
using Intervalometer.Drivers;
using Intervalometer.Drivers.Ds3231;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Fuzz.Targets;

/// <summary>A clock chip that holds anything. It is read, believed or not, set, and read back.</summary>
internal static class ClockTarget
{
    /// <summary>Registers, and a byte that says at which transfer the chip goes silent.</summary>
    public const int Longest = Ds3231Registers.Count + 1;

    private sealed class Chip(byte[] registers, int silentAfter) : ITwoWireDevice
    {
        private int _transfers;

        public bool Write(byte[] data)
        {
            if (_transfers++ >= silentAfter) return false;
            for (int i = 1; i < data.Length; i++) registers[(data[0] + i - 1) % registers.Length] = data[i];
            return true;
        }

        public bool Read(byte[] data) => throw new BrokenRuleException("the clock chip was read without an address");

        public bool WriteRead(byte[] output, byte[] input)
        {
            if (_transfers++ >= silentAfter) return false;
            for (int i = 0; i < input.Length; i++) input[i] = registers[(output[0] + i) % registers.Length];
            return true;
        }
    }

    // The keeper belongs to the drivers alone; the search comes in as the box does.
    private static readonly Type Keeper = typeof(Ds3231Clock).Assembly.GetType("Intervalometer.Drivers.Composition.ClockKeeper", throwOnError: true)!;
    private static readonly ConstructorInfo NewKeeper = Keeper.GetConstructors(BindingFlags.Instance | BindingFlags.Public)[0];
    private static readonly MethodInfo ReadKeeper = Keeper.GetMethod("Read")!;

    public static byte[][] Seeds() =>
    [
        [0x56, 0x34, 0x12, 0x03, 0x28, 0x02, 0x32, 0, 0, 0, 0, 0, 0, 0, 0x1C, 0x00, 0, 0x19, 0x40, 0xFF],
        [0x59, 0x59, 0x71, 0x07, 0x31, 0x12, 0x99, 0, 0, 0, 0, 0, 0, 0, 0x1C, 0x80, 0, 0xE7, 0xC0, 0xFF],
    ];

    public static void Take(byte[] input)
    {
        byte[] registers = new byte[Ds3231Registers.Count];
        Array.Copy(input, registers, Math.Min(input.Length, registers.Length));
        int silentAfter = input.Length > registers.Length ? input[registers.Length] : 255;

        var chip = new Ds3231Clock(new Chip((byte[])registers.Clone(), silentAfter));
        ClockState state = chip.Read(out UtcInstant time);
        if (state == ClockState.Running) Agree(registers, time);
        if (state == ClockState.NoAnswer && silentAfter > 1) throw new BrokenRuleException("a chip that answers was called silent");
        if (chip.ReadTemperature(out int quarters) && quarters is < -512 or > 511) throw new BrokenRuleException("a temperature that the chip cannot tell");

        var clock = new ShoreClock();
        object keeper = NewKeeper.Invoke([new Chip((byte[])registers.Clone(), silentAfter), clock]);
        ReadKeeper.Invoke(keeper, [1_000_000L]);
        if (clock.IsSet != (state == ClockState.Running && time.Seconds >= ShoreClock.EarliestSeconds)) throw new BrokenRuleException("the box believes another time than the chip told");
        if (clock.IsSet && clock.Now(1_000_000).Seconds != time.Seconds) throw new BrokenRuleException("the box took the time over wrong");
        if (state != ClockState.Running) return;

        // Whatever flags and modes the registers held, a time that was set is read back.
        var again = new Ds3231Clock(new Chip(registers, 255));
        if (!again.Set(time) || again.Read(out UtcInstant back) != ClockState.Running || back.Seconds != time.Seconds) throw new BrokenRuleException("a time that was set is not read back");
    }

    // The runtime's own calendar says whether the registers are that time.
    private static void Agree(byte[] r, UtcInstant time)
    {
        if (!time.IsValid) throw new BrokenRuleException("a time outside 2000 to 2099 was called running");
        DateTime at = Planner.ToDateTime(time);
        int hour = (r[2] & 0x40) == 0 ? Bcd(r[2] & 0x3F) : Bcd(r[2] & 0x1F) % 12 + ((r[2] & 0x20) != 0 ? 12 : 0);
        if (at.Second != Bcd(r[0]) || at.Minute != Bcd(r[1]) || at.Hour != hour || at.Day != Bcd(r[4]) || at.Month != Bcd(r[5]) || at.Year != 2000 + Bcd(r[6]))
            throw new BrokenRuleException("registers were read as another time");
    }

    private static int Bcd(int value) => (value >> 4) * 10 + (value & 15);
}

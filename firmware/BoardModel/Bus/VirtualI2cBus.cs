using System.Device.I2c;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Faults;

namespace Intervalometer.VirtualBoard.Bus;

/// <summary>
/// The two-wire bus behind the library's own extension point. A transfer blocks the whole firmware for its time on the
/// wire, 9 clocks a byte and the address byte included; only then may the other loop run.
/// </summary>
public sealed class VirtualI2cBus(VirtualClock clock, int hertz) : I2cBus
{
    /// <summary>No transfer may run when a planned edge is nearer than this, µs.</summary>
    public const int QuietUs = 5_000;

    private readonly Dictionary<int, IBusChip> _chips = [];
    private readonly List<BusViolation> _violations = [];

    /// <summary>Transfers that came too near an edge.</summary>
    public IReadOnlyList<BusViolation> Violations => _violations;

    /// <summary>Transfers so far, refused ones included.</summary>
    public long Transfers { get; private set; }

    /// <summary>Bytes that went over the wires so far, addresses included.</summary>
    public long Bytes { get; private set; }

    /// <summary>Gives the next planned edge, µs; long.MaxValue for none.</summary>
    public Func<long> NextEdgeUs { get; set; } = () => long.MaxValue;

    /// <summary>Called when a transfer has ended and the runtime may switch to the other loop.</summary>
    public Action AfterTransfer { get; set; } = () => { };

    /// <summary>What is wrong with the wires; nothing by default.</summary>
    public BusTrouble Trouble { get; } = new();

    /// <summary>Connects a chip to the bus.</summary>
    public void Fit(int address, IBusChip chip) => _chips.Add(address, chip);

    /// <inheritdoc />
    public override I2cDevice CreateDevice(int deviceAddress) => new VirtualI2cDevice(this, deviceAddress);

    /// <inheritdoc />
    public override void RemoveDevice(int deviceAddress)
    {
        if (deviceAddress is < 0 or > 127) throw new ArgumentOutOfRangeException(nameof(deviceAddress));
    }

    internal void Transfer(int address, ReadOnlySpan<byte> output, Span<byte> input)
    {
        bool stuck = Trouble.Hangs();
        IBusChip? chip = null;
        bool there = !stuck && !Trouble.Refuses(address) && _chips.TryGetValue(address, out chip);
        int bytes = there ? 1 + output.Length + (input.Length > 0 ? input.Length + (output.Length > 0 ? 1 : 0) : 0) : 1;
        long start = clock.NowUs;
        long end = start + (stuck ? Trouble.HangUs : (bytes * 9L * 1_000_000 * Trouble.Slower + hertz - 1) / hertz);
        Transfers++;
        Bytes += bytes;
        long edge = NextEdgeUs();
        if (edge != long.MaxValue && edge < end + QuietUs) _violations.Add(new BusViolation(start, end, edge));
        bool acknowledged = chip is not null;
        if (chip is not null && output.Length > 0)
        {
            byte[] arrives = output.ToArray();
            Trouble.Garble(arrives);
            acknowledged = chip.Write(arrives);
        }
        if (acknowledged && chip is not null && input.Length > 0)
        {
            acknowledged = chip.Read(input);
            Trouble.Garble(input);
        }
        clock.AdvanceTo(end);
        AfterTransfer();
        if (!acknowledged) throw new IOException($"Error 121 performing I2C data transfer: no acknowledge from 0x{address:X2}.");
    }
}

using System.Device.Gpio;
using Intervalometer.Core.Release;
using Intervalometer.Drivers;
using Intervalometer.Drivers.Composition;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard.Battery;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard;

/// <summary>What the board hands to the firmware.</summary>
/// <param name="Gpio">The library's controller over the virtual pins.</param>
/// <param name="Pins">The pin map.</param>
/// <param name="Display">The display's address on the bus.</param>
/// <param name="Clock">The virtual clock.</param>
/// <param name="Memory">The memory's address on the bus; null when none is fitted.</param>
public sealed record BoardParts(GpioController Gpio, BoxPins Pins, ITwoWireDevice Display, Core.IMicrosClock Clock, ITwoWireDevice? Memory);

/// <summary>
/// Everything that may differ between two runs. The times of the chip are estimates for the interpreted runtime on an
/// ESP32, not measurements.
/// </summary>
public sealed record BoardOptions
{
    /// <summary>Seeds bounce and write jitter (sea and sky have their own seeds).</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>The sea in front of the camera.</summary>
    public ISea Sea { get; init; } = new SimpleSea(1);

    /// <summary>The sky above it, once a place and a time are known.</summary>
    public SkyChoice Sky { get; init; } = new();

    /// <summary>The camera on the cable.</summary>
    public CameraOptions Camera { get; init; } = new();

    /// <summary>Which pin does what.</summary>
    public BoxPins Pins { get; init; } = new(18, 19, [25, 26, 27, 33, 32, 35], 23, 4, 13, 39, 14, 36);

    /// <summary>Contact bounce of the buttons, µs; 0 for none.</summary>
    public int BounceUs { get; init; } = 3_000;

    /// <summary>From reading the clock to the change of the pin, µs: 200 for the counted instructions (tests/Budgets) and 300 for the write itself (estimates).</summary>
    public int WriteLatencyUs { get; init; } = 500;

    /// <summary>Half width of the even spread of a pin write, µs (estimate).</summary>
    public int WriteJitterUs { get; init; } = 20;

    /// <summary>One pass of the polling release loop in the last moment before an edge, µs: counted instructions (tests/Budgets) at 2 µs (estimate).</summary>
    public int SpinUs { get; init; } = 250;

    /// <summary>How long one panel pass blocks the interpreter without the time on the bus, µs (estimate).</summary>
    public int PanelPassUs { get; init; } = 200;

    /// <summary>The runtime's scheduler tick, on which every sleep ends, µs.</summary>
    public int TickUs { get; init; } = 10_000;

    /// <summary>Two-wire clock, Hz.</summary>
    public int BusHertz { get; init; } = 400_000;

    /// <summary>Optocoupler: pin high to contact closed, µs (simulated, hardware/release-limits.csv).</summary>
    public int OptoOnUs { get; init; } = ReleaseLimits.CloseDelayNominalUs;

    /// <summary>Optocoupler: pin low to contact open, µs (simulated, hardware/release-limits.csv).</summary>
    public int OptoOffUs { get; init; } = ReleaseLimits.OpenDelayNominalUs;

    /// <summary>What is wrong with the hardware limiter.</summary>
    public LimiterFault LimiterFault { get; init; }

    /// <summary>What is wrong with the half-press line.</summary>
    public LineFault HalfPressFault { get; init; }

    /// <summary>What is wrong with the shutter line.</summary>
    public LineFault ShutterFault { get; init; }

    /// <summary>The hardware limiter opens the contacts this long after the last heartbeat, µs (inside the simulated spread of 0.5 to 5 s).</summary>
    public long LimiterHoldUs { get; init; } = 1_500_000;

    /// <summary>The hardware limiter needs heartbeats for this long before a contact can close, µs (simulated, hardware/release-limits.csv).</summary>
    public long LimiterChargeUs { get; init; } = ReleaseLimits.HeartbeatLeadUs;

    /// <summary>False leaves the display off the bus, so that every transfer to it goes unacknowledged.</summary>
    public bool DisplayFitted { get; init; } = true;

    /// <summary>False leaves the memory off the bus; the firmware is then told that none is fitted.</summary>
    public bool MemoryFitted { get; init; } = true;

    /// <summary>The cell and its gauge.</summary>
    public BatteryOptions Battery { get; init; } = new();

    /// <summary>True puts a light sensor on the box, which sees the sky.</summary>
    public bool SensorFitted { get; init; }

    /// <summary>The light on the sensor at a time of the board in µs, lx, in place of the sky's; null for the sky's. A light of one's own fits a sensor as well.</summary>
    public Func<long, double>? LightAt { get; init; }

    /// <summary>True when a light sensor is on the box.</summary>
    public bool HasSensor => SensorFitted || LightAt is not null;

    /// <summary>What the memory holds when the power comes on, up to 4096 bytes; null for a blank one.</summary>
    public byte[]? MemoryHolds { get; init; }

    /// <summary>What the clock chip holds at time 0; null leaves it as new from the shop, stopped.</summary>
    public DateTime? StartUtc { get; init; } = DefaultStartUtc;

    /// <summary>A morning in March, three quarters of an hour before an invented sunrise.</summary>
    public static readonly DateTime DefaultStartUtc = new(2031, 3, 14, 5, 30, 0, DateTimeKind.Utc);

    /// <summary>The place the box is set to; null leaves it without one. The default is invented.</summary>
    public Site? Place { get; init; } = DemoSite.Load();

    /// <summary>A place that is part of the firmware; null for none.</summary>
    public BuiltInSite? BuiltIn { get; init; }

    /// <summary>
    /// True to treat a fatal error of the firmware as a real board does: record it, restart, and at last enter the safe state. False throws the error,
    /// so that a test cannot overlook it.
    /// </summary>
    public bool RestartsOnFault { get; init; }

    /// <summary>What tells the box its free memory; null for none, because memory is not short on a PC.</summary>
    public IHeapGauge? HeapGauge { get; init; }

    /// <summary>Makes the firmware to run; null runs the real one.</summary>
    public Func<BoardParts, IFirmware>? Firmware { get; init; }
}

using System.Device.Gpio;
using Intervalometer.Drivers;
using Intervalometer.Drivers.At24c32;
using Intervalometer.Drivers.Composition;
using Intervalometer.Drivers.Veml7700;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.VirtualBoard.Battery;
using Intervalometer.VirtualBoard.Bus;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Light;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Rtc;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard;

/// <summary>
/// The whole box on a PC: the firmware below its program for the ESP32, on virtual pins, bus, camera and sea, all on one virtual clock.
/// The same options and the same presses give the same run, bit for bit. The board is not thread-safe.
/// </summary>
/// <remarks>
/// The firmware's two loops share one interpreter. A sleep ends on a tick of the scheduler. When both loops wake on the same tick, the release loop runs first.
/// A bus transfer or a pin write holds up both loops. In the middle of a panel pass the release loop may run only
/// after a transfer has ended.
/// </remarks>
public sealed class Board : IDisposable
{
    /// <summary>The display's address.</summary>
    public const int DisplayAddress = 0x3C;

    /// <summary>The clock chip's address.</summary>
    public const int ClockAddress = 0x68;

    /// <summary>Within this time of an edge, every pass of the polling loop is run, µs.</summary>
    private const int FineSpinUs = 2_000;

    /// <summary>Further from an edge, the polling loop is run this often, for its other work, µs.</summary>
    private const int CoarseSpinUs = 1_000;

    /// <summary>A change of a line that is further than this from the planned time was not the planned edge, µs.</summary>
    private const int PlanWindowUs = 60_000;

    private GpioController _controller;
    private readonly ButtonContacts _buttons;
    private readonly Optocoupler _halfOpto, _shutterOpto;
    private readonly Limiter _limiter;
    private LineFault _halfPressFault, _shutterFault;
    private IFirmware _firmware;
    private readonly List<LineEdge> _edges = [];
    private readonly AimNotes _aims = new();
    private long _releaseAtUs, _panelAtUs;
    private bool _spinning, _inRelease;
    private long _planUs = long.MaxValue;
    private FaultWatch _watch;

    /// <summary>Builds the board and powers it on at time 0.</summary>
    public Board(BoardOptions options)
    {
        Options = options;
        var dice = new Dice(options.Seed);
        Time = new VirtualClock();
        Lines = new LineLog(Time);
        Camera = new CameraModel(Time, Lines, options.Camera);
        _halfOpto = new Optocoupler(Time, options.OptoOnUs, options.OptoOffUs, Camera.HalfPress);
        _shutterOpto = new Optocoupler(Time, options.OptoOnUs, options.OptoOffUs, Camera.Shutter);
        _limiter = new Limiter(Time, options.LimiterChargeUs, options.LimiterHoldUs, options.LimiterFault);
        _limiter.Changed += up =>
        {
            if (!up && (Lines[Line.HalfPress] || Lines[Line.Shutter])) LimiterTrips++;
            ReadBack();
            DriveContacts();
        };
        Gpio = new VirtualGpioDriver(Time, new Dice(dice.Next())) { WriteLatencyUs = options.WriteLatencyUs, WriteJitterUs = options.WriteJitterUs };
        Gpio.FitResistor(options.Pins.HalfPress, up: false);
        Gpio.FitResistor(options.Pins.Shutter, up: false);
        foreach (int pin in options.Pins.Buttons) Gpio.FitResistor(pin, up: true); // the board has its own
        ReadBack();
        (_halfPressFault, _shutterFault) = (options.HalfPressFault, options.ShutterFault);
        DriveContacts();
        Gpio.OutputChanged += OnOutput;
        _buttons = new ButtonContacts(Time, Gpio, Lines, options.Pins.Buttons, options.BounceUs, new Dice(dice.Next()));
        Bus = new VirtualI2cBus(Time, options.BusHertz) { AfterTransfer = SwitchLoops };
        Display = new DisplayChip(options.Pins.Display);
        if (options.DisplayFitted) Bus.Fit(DisplayAddress, Display);
        Memory = new At24c32Model(Time, dice.Next());
        if (options.MemoryHolds is byte[] holds) Memory.Fill(holds);
        if (options.MemoryFitted) Bus.Fit(At24c32.Address, Memory);
        ClockChip = new Ds3231Model(() => Time.NowUs);
        if (options.StartUtc is DateTime start)
        {
            ClockChip.SetRunning(Planner.FromDateTime(start));
            if (options.Place is Site site) Sky = options.Sky.Make(site.Place.Position, start);
        }
        Bus.Fit(ClockAddress, new ClockOnBus(ClockChip));
        LightSensor = new Veml7700Model(() => Time.NowUs, options.LightAt ?? (us => Sky?.Lux(us) ?? 0));
        if (options.HasSensor) Bus.Fit(Veml7700Registers.Address, LightSensor);
        Battery = new BatteryModel(Time, options.Battery);
        Bus.NextEdgeUs = () => PlannedEdgeUs;
        _watch = Watch();
        (_controller, _firmware) = Compose();
        StartFirmware();
    }

    /// <summary>What the board was built from.</summary>
    public BoardOptions Options { get; }

    /// <summary>The firmware's own box, to set up and to inspect; null when a test runs another firmware.</summary>
    public Box? Box { get; private set; }

    /// <summary>True when the board has entered the safe state.</summary>
    public bool IsDown => _firmware is DownFirmware;

    /// <summary>Times that a fatal error has restarted the board.</summary>
    public int Restarts { get; private set; }

    /// <summary>The virtual clock.</summary>
    public VirtualClock Time { get; }

    /// <summary>Every line change so far.</summary>
    public LineLog Lines { get; }

    /// <summary>The camera on the cable.</summary>
    public CameraModel Camera { get; }

    /// <summary>The two-wire bus.</summary>
    public VirtualI2cBus Bus { get; }

    /// <summary>The display on the bus.</summary>
    public DisplayChip Display { get; }

    /// <summary>The memory on the bus.</summary>
    public At24c32Model Memory { get; }

    /// <summary>The clock chip on the bus.</summary>
    public Ds3231Model ClockChip { get; }

    /// <summary>The light sensor; on the bus when the options fit one.</summary>
    public Veml7700Model LightSensor { get; }

    /// <summary>The cell and its gauge.</summary>
    public BatteryModel Battery { get; }

    /// <summary>The sea.</summary>
    public ISea Sea => Options.Sea;

    /// <summary>The sky; null where neither a place nor a time is known.</summary>
    public ISky? Sky { get; }

    /// <summary>Every change of the release lines with its plan.</summary>
    public IReadOnlyList<LineEdge> Edges => _edges;

    /// <summary>When a pin is planned to change next, µs; long.MaxValue for never.</summary>
    public long PlannedEdgeUs => _firmware.NextEdgeUs is var write and not long.MaxValue ? write + _firmware.WriteAheadUs : long.MaxValue;

    /// <summary>The pins of the chip.</summary>
    public VirtualGpioDriver Gpio { get; }

    /// <summary>Uses of the pins that the chip does not allow, and errors of the firmware's screens.</summary>
    public IReadOnlyList<string> PinFaults => Box?.Panel is { Health.ScreenFaults: > 0 } panel ? [.. Gpio.Faults, "screen: " + panel.Health.LastScreenFault] : Gpio.Faults;

    /// <summary>How often the hardware limiter cut the supply of the contacts while a pin held a contact closed.</summary>
    public int LimiterTrips { get; private set; }

    /// <summary>True while the limiter supplies the optocouplers.</summary>
    public bool LimiterUp => _limiter.Up;

    /// <summary>Something in the limiter breaks now.</summary>
    public void LimiterBreaks(LimiterFault fault) => _limiter.Break(fault);

    /// <summary>Something in a release line breaks now.</summary>
    public void LineBreaks(Line line, LineFault fault)
    {
        if (line == Line.Shutter) _shutterFault = fault;
        else _halfPressFault = fault;
        DriveContacts();
    }

    /// <summary>Passes of both loops run so far.</summary>
    public long Passes { get; private set; }

    /// <summary>Presses a button at a time that has not passed, for a time, both µs.</summary>
    public void Press(Button button, long atUs, long forUs)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(forUs);
        Time.At(atUs, () => _buttons.Down(button));
        Time.At(atUs + forUs, () => _buttons.Up(button));
    }

    /// <summary>A finger goes down on a button now.</summary>
    public void Down(Button button) => _buttons.Down(button);

    /// <summary>The finger lets go now.</summary>
    public void Up(Button button) => _buttons.Up(button);

    /// <summary>Runs up to a time, µs. A panel pass under way at that time is finished, so the clock may stand a little later.</summary>
    public void RunUntil(long us)
    {
        while (true)
        {
            long firmware = Math.Min(_releaseAtUs, _panelAtUs);
            long world = Time.NextUs;
            if (world <= firmware && world <= us)
            {
                Time.RunNext();
                if (_spinning) _releaseAtUs = Math.Min(_releaseAtUs, Time.NowUs + Options.SpinUs);
                continue;
            }
            if (firmware > us)
            {
                Time.AdvanceTo(us);
                return;
            }
            Time.AdvanceTo(firmware);
            if (_releaseAtUs <= _panelAtUs) RunRelease(); else RunPanel();
        }
    }

    /// <summary>
    /// The power fails now. Every pin floats, and a write that is under way leaves what the given kind says. Nothing runs until
    /// <see cref="PowerOn"/>.
    /// </summary>
    public void PowerOff(CutKind kind = CutKind.Torn)
    {
        _releaseAtUs = _panelAtUs = long.MaxValue;
        _spinning = false;
        _planUs = long.MaxValue;
        Gpio.Reset();
        _controller = new GpioController(Gpio);
        Memory.PowerOff(kind);
        Display.Model.PowerCycle();
    }

    /// <summary>The power comes back: the firmware starts again with the contents of the memory.</summary>
    /// <param name="woken">True when the start is a waking from deep sleep.</param>
    public void PowerOn(bool woken = false)
    {
        Memory.PowerOn();
        _watch = Watch();
        (_controller, _firmware) = Compose();
        if (Box is not null) Box.Woken = woken;
        StartFirmware();
    }

    /// <summary>Opens the contacts, as an exit path of the firmware does.</summary>
    public void OpenLines() => _firmware.OpenLines();

    /// <inheritdoc />
    public void Dispose()
    {
        _controller.Dispose();
        Bus.Dispose();
    }

    private (GpioController, IFirmware) Compose()
    {
        var controller = new GpioController(Gpio);
        ITwoWireDevice? memory = Options.MemoryFitted ? new I2cWire(Bus.CreateDevice(At24c32.Address)) : null;
        var parts = new BoardParts(controller, Options.Pins, new I2cWire(Bus.CreateDevice(DisplayAddress)), Time, memory);
        if (Options.Firmware is not null) return (controller, Options.Firmware(parts));
        Box = new Box(parts.Gpio, parts.Pins, parts.Display, parts.Clock, parts.Memory) { ClockChip = new I2cWire(Bus.CreateDevice(ClockAddress)), BuiltIn = Options.BuiltIn };
        if (Options.HasSensor) Box.LightSensor = new I2cWire(Bus.CreateDevice(Veml7700Registers.Address));
        Box.BatteryGauge = Battery;
        Box.HeapGauge = Options.HeapGauge;
        Box.Faults = _watch;
        if (Options.Place is Site site) Box.Shore.Settings.Use(site.Place, site.Wish);
        return (controller, new BoxFirmware(Box));
    }

    private FaultWatch Watch()
    {
        var watch = new FaultWatch(new I2cWire(Bus.CreateDevice(ClockAddress)));
        watch.Read();
        return watch;
    }

    private void StartFirmware()
    {
        _releaseAtUs = _panelAtUs = long.MaxValue;
        if (Box is not null && _watch.Note.MustStayDown) StayDown();
        else Guarded(FaultPlace.Start, _firmware.Start);
        _releaseAtUs = _panelAtUs = NextTick();
    }

    // What the program on a board does: it records a fatal error and restarts. When it cannot record the error, it enters the safe state.
    private void Guarded(FaultPlace place, Action work)
    {
        try
        {
            work();
        }
        catch (Exception fault) when (Options.RestartsOnFault && Box is not null)
        {
            Box.OpenLines();
            if (_watch.Keep(FaultNote.KindOf(fault), place)) Restart();
            else StayDown();
        }
    }

    // The chip starts from its first state; what is around it keeps its power.
    private void Restart()
    {
        Restarts++;
        _spinning = false;
        Gpio.Reset();
        _watch = Watch();
        (_controller, _firmware) = Compose();
        StartFirmware();
    }

    private void StayDown()
    {
        _spinning = false;
        _firmware = new DownFirmware(new SafeState(_controller, Options.Pins, new I2cWire(Bus.CreateDevice(DisplayAddress)), _watch), Time);
        _firmware.Start();
    }

    private long NextTick() => (Time.NowUs / Options.TickUs + 1) * Options.TickUs;

    private void RunRelease()
    {
        Passes++;
        _planUs = PlannedEdgeUs;
        _inRelease = true;
        Guarded(FaultPlace.Release, _firmware.ReleasePass);
        _inRelease = false;
        _planUs = long.MaxValue;
        if (Box is not null) _aims.NoteFrame(Box, _edges);
        _spinning = _firmware.EdgeNear;
        _releaseAtUs = _spinning ? NextSpin() : NextTick();
    }

    /// <summary>What the firmware wanted of the frame whose contact closed at a time, µs; null when that is not known.</summary>
    public FrameAim? AimOf(long closedAtUs) => _aims.Of(closedAtUs);

    /// <summary>The next pass of the polling loop to run. Far from the edge most passes are left out, on the same 50 µs grid.</summary>
    private long NextSpin()
    {
        long next = Time.NowUs + Options.SpinUs;
        long fine = Math.Min(_firmware.NextEdgeUs - FineSpinUs, Time.NowUs + CoarseSpinUs);
        return fine <= next ? next : Time.NowUs + (fine - Time.NowUs) / Options.SpinUs * Options.SpinUs;
    }

    private void RunPanel()
    {
        Passes++;
        _panelAtUs = long.MaxValue;
        Gpio.DeliverEvents(_controller);
        _firmware.PanelPass();
        if (Box is not null) _aims.NoteMetering(Box, Time.NowUs);
        Time.AdvanceTo(Time.NowUs + Options.PanelPassUs);
        _panelAtUs = NextTick();
        if (_spinning) _releaseAtUs = Math.Min(_releaseAtUs, Time.NowUs + Options.SpinUs);
    }

    private void SwitchLoops()
    {
        if (!_inRelease && _releaseAtUs <= Time.NowUs) RunRelease();
    }

    private void OnOutput(int pin, bool high)
    {
        if (pin == Options.Pins.HalfPress) Release(Line.HalfPress, high);
        else if (pin == Options.Pins.Shutter) Release(Line.Shutter, high);
        else if (pin == Options.Pins.Led) Lines.Set(Line.Led, high);
        else if (pin == Options.Pins.Buzzer) Lines.Set(Line.Buzzer, high);
        else if (pin == Options.Pins.Heartbeat) _limiter.Beat();
    }

    /// <summary>A driver conducts while its pin is high; its optocoupler is lit while the limiter's supply is up as well. The pins that read the drivers back are low then.</summary>
    private void DriveContacts()
    {
        bool half = Conducts(Line.HalfPress, _halfPressFault);
        bool shutter = Conducts(Line.Shutter, _shutterFault);
        _halfOpto.Drive(half && _limiter.Up);
        _shutterOpto.Drive(shutter && _limiter.Up);
        if (Options.Pins.HalfSense >= 0) Gpio.FitResistor(Options.Pins.HalfSense, up: !half);
        if (Options.Pins.ShutterSense >= 0) Gpio.FitResistor(Options.Pins.ShutterSense, up: !shutter);
    }

    private bool Conducts(Line line, LineFault fault) => fault == LineFault.Stuck || (Lines[line] && fault != LineFault.Dead);

    /// <summary>Puts the supply of the optocouplers on the pin that reads it back.</summary>
    private void ReadBack()
    {
        if (Options.Pins.Limiter >= 0) Gpio.FitResistor(Options.Pins.Limiter, up: _limiter.Up);
    }

    private void Release(Line line, bool high)
    {
        Lines.Set(line, high);
        bool planned = _planUs != long.MaxValue && Math.Abs(_planUs - Time.NowUs) <= PlanWindowUs;
        _edges.Add(new LineEdge(line, high, Time.NowUs, planned ? _planUs : null));
        DriveContacts();
    }
}

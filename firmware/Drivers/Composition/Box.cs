using System;
using System.Device.Gpio;
using Intervalometer.Core;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Drivers.Battery;
using Intervalometer.Drivers.Buttons;
using Intervalometer.Drivers.Lines;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;

namespace Intervalometer.Drivers.Composition;

/// <summary>
/// The whole instrument on any board: panel, buttons, display and release lines. The board only supplies the pins, the bus,
/// the clock, and two threads that keep calling <see cref="PanelPass"/> and <see cref="ReleasePass"/>.
/// </summary>
/// <remarks>
/// The release thread owns the lines, samples the buttons and decides; it never draws, never uses the bus and allocates
/// nothing. The panel thread reads events, draws and sends, and keeps away from edges: nothing is drawn within
/// <see cref="QuietDrawUs"/> and nothing sent within <see cref="QuietBusUs"/> of the next edge. They share the <see cref="RunLink"/>
/// and nothing else.
/// </remarks>
public sealed partial class Box
{
    /// <summary>When an edge is nearer than this, µs, the release thread must not sleep, because a sleep may end up to two ticks late.</summary>
    public const long SpinUs = 40_000;

    /// <summary>
    /// When an edge is nearer than this, µs, the release thread looks at nothing but the clock, because a full pass is counted at four
    /// fifths of this time on the device (tests/Budgets). A stop waits for this long at most. A contact stays closed, and open, for far longer (<see cref="Core.Release.ReleaseLimits"/>).
    /// </summary>
    public const long LastMomentUs = 8_000;

    /// <summary>No drawing starts when an edge is nearer than this, µs. The most costly picture takes nearly as long on the device by estimate (tests/Budgets).</summary>
    public const long QuietDrawUs = 150_000;

    /// <summary>No page is sent when an edge is nearer than this, µs. Four pages take about 15 ms at 400 kHz.</summary>
    public const long QuietBusUs = 60_000;

    /// <summary>
    /// When an edge is nearer than this, µs, no chip that may be dead is addressed and nothing is stored, because a hung bus blocks
    /// the runtime for up to 1 s (the platform's public sources).
    /// </summary>
    public const long HungBusUs = 1_200_000;

    private const long HeartbeatUs = 10_000;

    // A pause between two passes that is longer than this is a pause in the heartbeat as well.
    private const long StoodStillUs = ReleaseLimits.HeartbeatToggleLongestUs;

    private const long StuckLookUs = 100_000;

    // A pin write takes about 0.3 ms, so no other pin is written this close to an edge.
    private const long ClearOfEdgeUs = 2_000;

    private readonly IMicrosClock _clock;
    private readonly GpioController _gpio;
    private readonly BoxPins _pins;
    private readonly DisplaySender _display;
    private readonly At24c32.At24c32? _memory;
    private readonly BusGuard _guard;
    private readonly BoxSettings _settings = new BoxSettings();
    private readonly Frame _frame = new Frame();
    private OptoLines? _lines;
    private ButtonBank? _buttons;
    private RunLink? _link;
    private ReleasePlayer? _player;
    private FrontPanel? _panel;
    private readonly ShoreDesk _shore;
    private ClockKeeper? _clockKeeper;
    private GpioPin? _buzzer;
    private bool _buzzing;
    private GpioPin? _led;
    private GpioPin? _heartbeat;
    private bool _ledOn;
    private bool _heartbeatHigh;
    private long _heartbeatUs;
    private long _lastPassUs;
    private long _stuckLookUs;
    private long _touchedUs;
    private long _ranUs;
    private BatteryKeeper? _battery;
    private StoreKeeper? _keeper;

    /// <summary>Creates the instrument. It opens no pin yet; see <see cref="Start"/>.</summary>
    /// <param name="gpio">The pin controller.</param>
    /// <param name="pins">The numbers of the pins.</param>
    /// <param name="display">The display on its bus.</param>
    /// <param name="clock">The board's clock.</param>
    /// <param name="memory">The memory for settings and frames, on its bus; null when none is fitted.</param>
    public Box(GpioController gpio, BoxPins pins, ITwoWireDevice display, IMicrosClock clock, ITwoWireDevice? memory = null)
    {
        _gpio = gpio;
        _pins = pins;
        _clock = clock;
        _guard = new BusGuard(clock);
        _display = new DisplaySender(new GuardedWire(display, _guard), pins.Display, clock);
        if (memory != null) _memory = new At24c32.At24c32(new GuardedWire(memory, _guard));
        _shore = new ShoreDesk(new ShoreSettings(), _settings);
    }

    /// <summary>The clock chip (DS3231); set it before <see cref="Start"/>. Without one, the time is set by hand after every start.</summary>
    public ITwoWireDevice? ClockChip { get; set; }

    /// <summary>The light sensor (VEML7700); set it before <see cref="Start"/>. One that does not answer there is not asked again.</summary>
    public ITwoWireDevice? LightSensor { get; set; }

    /// <summary>The battery gauge; set it before <see cref="Start"/>. Without one, nothing is ever refused because of the battery.</summary>
    public IBatteryGauge? BatteryGauge { get; set; }

    /// <summary>True when this start is a waking from deep sleep; set it before <see cref="Start"/>.</summary>
    public bool Woken { get; set; }

    /// <summary>A place that is part of the firmware, or null. Set it before <see cref="Start"/>, which lets go of it.</summary>
    public BuiltInSite? BuiltIn { get; set; }

    /// <summary>The shore side: tide, sun, way back and their clock.</summary>
    public ShoreDesk Shore => _shore;

    /// <summary>The settings of the camera side.</summary>
    public BoxSettings Settings => _settings;

    /// <summary>The screens; null before <see cref="Start"/>.</summary>
    public FrontPanel? Panel => _panel;

    /// <summary>What the two threads share; null before <see cref="Start"/>.</summary>
    public RunLink? Link => _link;

    /// <summary>What plays now, for tests; null before <see cref="Start"/>.</summary>
    public RunDesk? Desk => _link == null ? null : _link.Desk;

    /// <summary>The keeper of the settings and the logbook; null before <see cref="Start"/>, and when no memory is fitted.</summary>
    public StoreKeeper? Keeper => _keeper;

    /// <summary>True when the display answered its last command.</summary>
    public bool DisplayReady => _display.Ready;

    /// <summary>Opens the release lines first, both open, then the inputs, then the memory and the display.</summary>
    public void Start()
    {
        OptoLines lines = new OptoLines(_gpio, _pins.HalfPress, _pins.Shutter);
        _lines = lines;
        _heartbeat = _gpio.OpenPin(_pins.Heartbeat, PinMode.Output);
        _heartbeat.Write(PinValue.Low);
        _led = _gpio.OpenPin(_pins.Led, PinMode.Output);
        _led.Write(PinValue.Low);
        _buttons = new ButtonBank(_gpio, _pins.Buttons, _clock);
        RunLink link = new RunLink(lines);
        if (_pins.Buzzer >= 0)
        {
            _buzzer = _gpio.OpenPin(_pins.Buzzer, PinMode.Output);
            _buzzer.Write(PinValue.Low);
        }
        OpenReadBack();
        ITwoWireDevice? chip = ClockChip;
        _clockKeeper = new ClockKeeper(chip == null ? null : new GuardedWire(chip, _guard), _shore.Clock);
        _clockKeeper.Read(_clock.NowUs);
        FrontPanel panel = new FrontPanel(_settings, link, _shore);
        _panel = panel;
        if (Faults != null) panel.Health.Fault = Faults.Note;
        if (_memory != null) _keeper = new StoreKeeper(_memory, _settings, _shore, link, panel.Health) { Earlier = panel.Earlier };
        if (BuiltIn != null) BuiltIn.Use(_shore.Settings);
        // The settings have taken over what was in its bytes.
        BuiltIn = null;
        if (_keeper != null) _keeper.Load(_clock.NowUs);
        CountFaults();
        panel.Health.MemoryFitted = _memory != null;
        _battery = new BatteryKeeper(BatteryGauge, panel.Health.Battery, _settings);
        _battery.Begin(_clock.NowUs);
        BeginLight();
        _display.Try(_frame, panel.Health, _clock.NowUs);
        panel.Health.StuckButton = _buttons.StuckButton(_clock.NowUs);
        link.NoteStuck(panel.Health.StuckButton);
        _startedUs = _clock.NowUs;
        panel.Begin(_startedUs, Woken);
        _lastPassUs = _startedUs;
        _player = link.Desk.Player;
        _link = link;
    }

    /// <summary>Does one pass of the panel thread; call it about every 10 ms. It does nothing that could disturb an edge that is near.</summary>
    public void PanelPass()
    {
        if (_panel == null || _link == null) return;
        RunReport run = _link.Report;
        long now = _clock.NowUs;
        Attend(_panel, now);
        _panel.Health.StuckButton = _link.StuckButton;
        _panel.Health.Limiter = _link.Limiter;
        _guard.RunIsOn = run.Running;
        if (run.Running) _ranUs = now;
        EndByLight(now);
        StorePass(now, NextEdge(run) - now);
        now = _clock.NowUs;
        BatteryPass(now);
        long room = NextEdge(run) - now;
        if (room < QuietBusUs) return;
        bool alarm = _shore.AlarmUp && AlarmBlink(now);
        LightLed((run.ShutterClosed && !_panel.IsDark) != alarm);
        Buzz(alarm);
        if (room >= QuietDrawUs) Draw(_panel, now);
        DisplayPass(now, room, run);
        LightPass(_clock.NowUs, run);
        ShorePass(_clock.NowUs, run);
    }

    // The alarm blinks with two short flashes a second, as nothing else on the box does.
    private static bool AlarmBlink(long now) => now / 125_000 % 8 == 0 || now / 125_000 % 8 == 2;

    private void Buzz(bool on)
    {
        if (_buzzer == null || on == _buzzing) return;
        _buzzing = on;
        _buzzer.Write(on ? PinValue.High : PinValue.Low);
    }

    /// <summary>Does one pass of the release thread; call it at least every 10 ms, and without any sleep while <see cref="EdgeNear"/>. Allocates nothing.</summary>
    public void ReleasePass()
    {
        if (_buttons == null || _link == null) return;
        try
        {
            long now = _clock.NowUs;
            long stood = now - _lastPassUs;
            _lastPassUs = now;
            if (stood > StoodStillUs)
            {
                _link.StoodStill(now, stood);
                _limiter.StoodStill(now);
            }
            if (_player!.NextEdgeUs - now < LastMomentUs)
            {
                _link.PlayDue(now);
                return;
            }
            Sample(Button.Fire, now);
            Sample(Button.Back, now);
            Sample(Button.Mark, now);
            if (!EdgeNear)
            {
                Sample(Button.Up, now);
                Sample(Button.Down, now);
                Sample(Button.Select, now);
                LookForStuck(now);
            }
            _link.Pass(now);
            Beat(now);
        }
        catch
        {
            OpenLines();
            _link.Fail();
            throw;
        }
    }

    /// <summary>True when a line edge is due within <see cref="SpinUs"/>, so that the release thread must not sleep.</summary>
    public bool EdgeNear => NextEdgeUs - _clock.NowUs < SpinUs;

    /// <summary>The time of the next planned edge on the board's clock, for the release thread; long.MaxValue when none is planned.</summary>
    public long NextEdgeUs => _player == null ? long.MaxValue : _player.NextEdgeUs;

    /// <summary>The board goes to deep sleep after this long without a press, µs: 10 minutes, which follows from the power budget (hardware/power.md).</summary>
    public const long SleepAfterUs = 600_000_000;

    /// <summary>
    /// For this long after a run, a memory that does not store everything keeps the board awake, µs. A sound one needs 8 s for all that can
    /// wait (64 frames and every record, two passes of 10 ms a page). The rest of the time is for a bus that hangs now and then.
    /// </summary>
    public const long StoreWaitUs = 120_000_000;

    /// <summary>
    /// True when the board may go to deep sleep: there was no press for <see cref="SleepAfterUs"/>, there is no run and no way-back alarm, and
    /// everything has been stored, or as much as was possible in <see cref="StoreWaitUs"/>. It is never true while armed or exposing, because
    /// waking is a restart, which opens the contacts.
    /// </summary>
    public bool MaySleep
    {
        get
        {
            if (_link == null || _link.Busy || _shore.AlarmOn) return false;
            if (_clock.NowUs - _touchedUs < SleepAfterUs) return false;
            return _keeper == null || _keeper.Settled || _clock.NowUs - _ranUs >= StoreWaitUs;
        }
    }

    /// <summary>Makes the box dark before a deep sleep: lines open, lamp off, display off, light sensor shut down.</summary>
    public void Darken()
    {
        OpenLines();
        LightLed(false);
        _display.Off();
        ShutLightDown();
    }

    /// <summary>Opens both lines at once, on every way out. Never throws.</summary>
    public void OpenLines()
    {
        try
        {
            _lines?.OpenAll();
        }
        catch
        {
            // Nothing is left to try here. The heartbeat stops with the thread, and then the board's limiter opens the contacts.
        }
    }

    // An error in a screen must not cost the run that is on, so it is reported and everything else goes on.
    private void Attend(FrontPanel panel, long now)
    {
        try
        {
            while (_link!.Presses.TryTake(out int code, out long atUs))
            {
                _touchedUs = now;
                // A garbage collection during a run could fall on an edge. Before the first edge of the run it does no harm.
                if ((code & PressRing.Started) != 0 && _link.Report.NextEdgeUs - now >= QuietDrawUs) Garbage.Collect();
                panel.OnEvent(code, atUs);
            }
            panel.Tick(now);
            panel.Prepare(now);
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Screen, fault);
        }
    }

    private void Draw(FrontPanel panel, long now)
    {
        try
        {
            if (panel.NeedsDraw(now)) panel.Draw(_frame, now);
        }
        catch (Exception fault)
        {
            if (Failed(FaultPlace.Screen, fault)) return;
            _frame.Clear();
            _frame.Text(0, 0, "THIS SCREEN FAILED", Font.Small);
            _frame.HLine(0, 9, Frame.Width);
            _frame.Text(0, 16, "Runs and buttons go on.", Font.Small);
            _frame.Text(0, 30, "Fire stops a run.", Font.Small);
            _frame.Text(0, 44, "Back held: stop, or home.", Font.Small);
        }
    }

    private void Sample(Button button, long now)
    {
        if (_buttons!.Sample(button, now, out long atUs)) PressWork.Down(_link!, button, atUs, now);
        else if (_buttons.HeldUs > 0) PressWork.Up(_link!, button, _buttons.HeldUs, now);
    }

    private void LookForStuck(long now)
    {
        if (now - _stuckLookUs < StuckLookUs) return;
        _stuckLookUs = now;
        _link!.NoteStuck(_buttons!.StuckButton(now));
        LookAtReleases(now);
    }

    private void LightLed(bool on)
    {
        if (_led == null || on == _ledOn) return;
        _ledOn = on;
        _led.Write(on ? PinValue.High : PinValue.Low);
    }
}

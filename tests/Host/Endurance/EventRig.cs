using System.Globalization;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>
/// Panel, run desk and shore desk with random presses, on contacts that check every change. Time goes from edge
/// to edge and not tick by tick, so that hours cost little. The same seed gives the same presses and pictures.
/// </summary>
internal sealed class EventRig
{
    private const long HandOverUs = 200_000;
    private const long TickUs = 10_000;
    private const int MostWrong = 12;
    private const long Hour = 3_600_000_000;

    private readonly Dice _dice;
    private readonly int _drawEvery;
    private readonly CheckedLines _lines = new();
    private readonly Frame _frame = new();
    private readonly bool[] _down = new bool[6];
    private readonly long[] _downUs = new long[6];
    private Mood _mood;
    private int _moodLeft;
    private RunState _state;
    private int _clipped, _covered, _missing;

    public EventRig(ulong seed, int drawEvery)
    {
        _dice = new Dice(seed);
        _drawEvery = drawEvery;
        _mood = Mood.Any(_dice);
        Link = new RunLink(_lines);
        Desk.Player.WriteAheadUs = 0;
        Desk.Player.CloseDelayUs = 0;
        Desk.Player.OpenDelayUs = 0;
        _lines.Watch(Desk, Settings.Camera);
        Shore = new ShoreDesk(new ShoreSettings(), Settings);
        Site site = DemoSite.Load();
        Shore.Settings.Use(site.Place, site.Wish);
        Panel = new FrontPanel(Settings, Link, Shore);
        Cards = new CardTally(Panel);
        ReadClock();
    }

    public BoxSettings Settings { get; } = new();

    public RunLink Link { get; }

    public RunDesk Desk => Link.Desk;

    public ShoreDesk Shore { get; }

    public FrontPanel Panel { get; }

    public CardTally Cards { get; }

    public long NowUs { get; private set; }

    /// <summary>Buttons that went down or came up.</summary>
    public long Events { get; private set; }

    /// <summary>How many of the presses stopped a run.</summary>
    public long Spent { get; private set; }

    public long Pictures { get; private set; }

    /// <summary>Pictures that did not fit the frame or the font.</summary>
    public List<string> WrongPictures { get; } = [];

    public long Notices { get; private set; }

    public long Alarms { get; private set; }

    public long AlarmsInRuns { get; private set; }

    public long Hangs { get; private set; }

    public long Closures => _lines.Closures;

    /// <summary>How often each <see cref="RunState"/> was reached.</summary>
    public long[] States { get; } = new long[9];

    /// <summary>How many plans of each kind began. The index is the shape times two, plus one when the box times the plan.</summary>
    public long[] Plans { get; } = new long[2 * ((int)PlanShape.ByHand + 1)];

    /// <summary>How many runs on the waves began, for each <see cref="Core.Swash.FiringWay"/>.</summary>
    public long[] Waves { get; } = new long[4];

    /// <summary>A checksum of everything that was shown and done.</summary>
    public ulong Digest { get; private set; } = 14695981039346656037;

    /// <summary>Makes this many more random presses and releases.</summary>
    public void Run(long events)
    {
        long until = Events + events;
        while (Events < until)
        {
            if (--_moodLeft < 0)
            {
                _mood = Mood.Any(_dice);
                _moodLeft = (int)_dice.Whole(5, 80);
            }
            Happen();
            Pass(Wait());
            if (Panel.Locked && _dice.Whole(0, 9) == 0) Unlock();
            else Press(_mood.Pick(_dice));
            if (Events % _drawEvery == 0) Draw();
        }
    }

    // A button that is down comes up; one that is up goes down and mostly comes up again a moment later.
    private void Press(Button button)
    {
        if (_down[(int)button])
        {
            Up(button);
            return;
        }
        Down(button);
        long kind = _dice.Whole(0, 99);
        if (kind < 4) return;
        long held = kind < 4 + _mood.HeldPercent ? _dice.Whole(300_000, 2_500_000) : _dice.Whole(30_000, 200_000);
        while (held > 0)
        {
            long step = Math.Min(held, KeyTimer.RepeatUs);
            Pass(step);
            held -= step;
        }
        Up(button);
    }

    // A locked box is soon unlocked.
    private void Unlock()
    {
        foreach (Button button in new[] { Button.Select, Button.Back })
        {
            if (_down[(int)button]) Up(button);
        }
        Down(Button.Select);
        for (int i = 0; i < KeyLock.Presses; i++)
        {
            Down(Button.Back);
            Up(Button.Back);
        }
        Up(Button.Select);
    }

    private void Down(Button button)
    {
        _down[(int)button] = true;
        _downUs[(int)button] = NowUs;
        bool stops = Desk.Running && button == Button.Fire;
        bool card = Panel.ScreenName is not ("ALARM" or "NOTICE" or "RUN" or "AGAIN") && !Panel.Locked;
        if (card && !Link.Busy) Cards.Note(button, Panel.Field);
        _lines.Stopping = stops;
        PressWork.Down(Link, button, NowUs, NowUs);
        _lines.Stopping = false;
        if (stops && !_lines.AllOpen) throw new AssertFailedException("a stop left a contact closed");
        if (stops) Spent++;
        Attend();
        Told(button, true);
    }

    private void Up(Button button)
    {
        _down[(int)button] = false;
        PressWork.Up(Link, button, NowUs - _downUs[(int)button], NowUs);
        Attend();
        Told(button, false);
    }

    private void Attend()
    {
        while (Link.Presses.TryTake(out int code, out long atUs)) Panel.OnEvent(code, atUs);
        Panel.Prepare(NowUs);
    }

    private void Told(Button button, bool down)
    {
        Events++;
        if (Panel.ScreenName == "NOTICE") Notices++;
        Pass();
        Mix((ulong)button * 2 + (down ? 1UL : 0) + ((ulong)Desk.State << 8) + ((ulong)(Panel.Field + 1) << 16) + ((ulong)NowUs << 24));
    }

    private long Wait()
    {
        long kind = _dice.Whole(0, 9999);
        if (kind < 2) return _dice.Whole(Hour / 10, 5 * Hour);
        if (kind < 12) return _dice.Whole(60_000_000, 900_000_000);
        if (kind < 12 + _mood.PatientPercent * 100) return _dice.Whole(300_000, 30_000_000);
        return _dice.Whole(1_000, 250_000);
    }

    /// <summary>Lets time go by, with a pass of the loop at every edge and at every moment for which a run waits.</summary>
    private void Pass(long us)
    {
        long until = NowUs + us;
        while (NowUs < until) GoTo(Math.Min(until, NextMoment()));
        Panel.Tick(NowUs);
        Panel.Prepare(NowUs);
        ShorePass();
    }

    private long NextMoment()
    {
        long next = Due(Desk.NextEdgeUs);
        if (!Desk.Running) return next;
        next = Sooner(next, Desk.Player.FrameEndUs);
        if (Desk.State != RunState.AwaitWave || next != long.MaxValue) return next;
        long contact = Desk.Waves.TargetUs - Settings.Camera.ShutterLagMs * 1000L;
        return Due(contact - PlanCompiler.LeadInUs(Settings.Camera, _lines.HalfPress) - HandOverUs);
    }

    // Work that is overdue is done in the next pass of the loop.
    private long Due(long us) => us > NowUs ? us : NowUs + TickUs;

    private long Sooner(long a, long b) => b > NowUs && b < a ? b : a;

    private void GoTo(long us)
    {
        NowUs = us;
        _lines.NowUs = us;
        Pass();
    }

    private void Pass()
    {
        // Back stops a run when it has been held since a moment within that run.
        _lines.Stopping = _down[(int)Button.Back] && NowUs - _downUs[(int)Button.Back] >= RunLink.BackHoldUs;
        Link.Pass(NowUs);
        _lines.Stopping = false;
        RunState state = Desk.State;
        if (state != _state) Came(state);
        _lines.Look();
    }

    private void Came(RunState state)
    {
        RunState was = _state;
        bool ran = was is >= RunState.Plan and <= RunState.AskMark;
        _state = state;
        States[(int)state]++;
        if (state == RunState.Failed && !_lines.Hanging) throw new AssertFailedException($"the box stopped a run by itself: {Desk.Player.Failure}, from {was}, {Words(_lines.Plan, Settings.Camera)}");
        if (ran || !Desk.Running) return;
        if (state == RunState.Plan) Plans[(int)_lines.Plan.Shape * 2 + (_lines.Plan.BoxTimed ? 1 : 0)]++;
        else Waves[(int)Settings.Waves.Way]++;
    }

    // Some steps of the shore's work, as many passes of the panel thread would do them.
    private void ShorePass()
    {
        if (_dice.Whole(0, 3) != 0) return;
        bool running = Link.Busy;
        bool open = running && NowUs < Desk.Player.FrameEndUs && Desk.Player.FramesStarted > 0;
        int passes = _dice.Whole(0, 99) == 0 ? 60 : 1;
        for (int i = 0; i < passes; i++) Shore.Pass(NowUs, Desk.NextEdgeUs - NowUs, running, open);
        if (!Shore.AlarmUp) return;
        Alarms++;
        if (Desk.Running) AlarmsInRuns++;
    }

    // What happens to the box without a press: the clock chip is read or fails, the memory has a fault, a button sticks, the loop hangs.
    private void Happen()
    {
        long kind = _dice.Whole(0, 199_999);
        if (kind < 6) ReadClock();
        else if (kind < 8) Shore.Clock.Fail((ClockTrust)_dice.Whole((int)ClockTrust.Stopped, (int)ClockTrust.Nonsense));
        else if (kind < 100) Panel.Health.Memory = (MemoryTrouble)_dice.Whole(0, (int)MemoryTrouble.CutOff);
        else if (kind < 120) Panel.Health.StuckButton = (int)_dice.Whole(-1, 5);
        else if (kind < 122) Panel.Health.DisplayReturns++;
        else if (kind < 300) Hang();
    }

    private void ReadClock()
    {
        long second = _dice.Whole(ShoreClock.EarliestSeconds, 98 * 365L * UtcInstant.SecondsPerDay);
        Shore.Clock.Read(new UtcInstant(second), NowUs);
    }

    // The release loop stands still beyond the next edge, and now and then so long that the frame is given up.
    private void Hang()
    {
        long edge = Desk.NextEdgeUs;
        if (edge == long.MaxValue || !_lines.AllOpen) return;
        Hangs++;
        _lines.Hanging = true;
        long from = NowUs;
        NowUs = Math.Max(NowUs, edge) + _dice.Whole(10_000, ReleasePlayer.LatestUs + 100_000);
        Link.StoodStill(NowUs, NowUs - from);
        GoTo(NowUs);
        for (int i = 0; i < 8 && Desk.Running && !_lines.AllOpen; i++) GoTo(Math.Max(NowUs + 1, NextMoment()));
        _lines.Hanging = false;
    }

    private void Draw()
    {
        if (Panel.NeedsDraw(NowUs)) Panel.Draw(_frame, NowUs);
        Pictures++;
        if (_frame.ClippedPixels != _clipped) Failed("pixels drawn outside the frame");
        if (_frame.CoveredPixels != _covered) Failed("text drawn over something");
        if (_frame.MissingGlyphs != _missing) Failed("characters that the font lacks");
        _clipped = _frame.ClippedPixels;
        _missing = _frame.MissingGlyphs;
        _covered = _frame.CoveredPixels;
        if (Pictures % 64 != 0) return;
        for (int y = 0; y < Frame.Height; y += 3)
        {
            for (int x = 0; x < Frame.Width; x += 5) Mix(_frame.Pixel(x, y) ? 1UL : 2UL);
        }
    }

    // One of each kind is kept, with its picture.
    private void Failed(string what)
    {
        string where = $"{Cards.Shown}, {Panel.ScreenName} field {Panel.Field}: {what}";
        if (WrongPictures.Count < MostWrong && !WrongPictures.Exists(p => p.StartsWith(where, StringComparison.Ordinal)))
            WrongPictures.Add(where + "\n" + AsciiPicture.Full(_frame.Pixel, Frame.Width, Frame.Height));
    }

    private void Mix(ulong value)
    {
        Digest = (Digest ^ value) * 1099511628211;
    }

    private static string Words(ShotPlan plan, CameraProfile camera) =>
        $"{plan.Shape} of {plan.FrameCount}, settle {plan.SettleUs} µs, exposure {plan.ExposureUs} µs, lead {camera.HalfPressLeadMs} ms, lag {camera.ShutterLagMs} ms, gap {camera.MinimumGapMs} ms, pulse {camera.PulseMs} ms, mirror {camera.MirrorLockUp} {camera.MirrorSettleMs} ms";

    /// <summary>What happened, in words.</summary>
    public string Words() => string.Create(CultureInfo.InvariantCulture,
        $"{Events} events in {NowUs / 3.6e9:F0} h of the box's time, {Spent} stops by a press, {Closures} closures, {Pictures} pictures, {Notices} notices, {Alarms} passes with the alarm up ({AlarmsInRuns} in runs), {Hangs} hangs; states {string.Join(' ', States)}; plans {string.Join(' ', Plans)}; waves {string.Join(' ', Waves)}");
}

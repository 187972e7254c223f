using Intervalometer.Core;
using Intervalometer.Core.Release;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <summary>
/// What was found at power-on, in words. When all is well, the check closes by itself after <see cref="ShowUs"/>. Troubles stay, and are
/// shown in turn, until a button is pressed or they are over. The box is judged again all the while, so a button that was only leant on
/// is no trouble any more when it comes up.
/// </summary>
/// <remarks>
/// A press closes the check and does its own work as well. So the check never costs a press, and a wave that is marked or fired on in the first
/// seconds is not lost to a message.
/// </remarks>
public sealed class StartCheck
{
    /// <summary>How long the check is shown when all is well, µs.</summary>
    public const long ShowUs = 2_500_000;

    private const long WordsUs = 4_000_000;
    private const int Kinds = 7;

    // The screen on which all is well.
    private const int BesideTickX = 18;
    private const int BatteryY = 25;
    private const int ContactsY = 40;
    private const int ButtonsY = 48;

    private readonly BoxHealth _health;
    private readonly ShoreClock _clock;
    private long _wellSinceUs;
    private int _shownKind = -1;
    private int _shownTroubles = -1;

    /// <summary>Creates the check, which is not shown yet.</summary>
    public StartCheck(BoxHealth health, ShoreClock clock)
    {
        _health = health;
        _clock = clock;
    }

    /// <summary>True while the check is shown.</summary>
    public bool Shown { get; private set; }

    /// <summary>Shows the check.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="woken">
    /// True after a deep sleep. Then the check is left out when all is well, and the button that woke the box is not judged.
    /// </param>
    public void Begin(long nowUs, bool woken)
    {
        _wellSinceUs = nowUs;
        Shown = !woken;
        for (int kind = 1; kind < Kinds; kind++) Shown |= HasTrouble(kind);
    }

    /// <summary>Closes the check, because a button was pressed and so it has been read.</summary>
    public void End() => Shown = false;

    /// <summary>Closes the check when its time has come. Returns true when what it shows has changed.</summary>
    public bool Pass(long nowUs)
    {
        if (!Shown) return false;
        int troubles = Troubles;
        int kind = Pick(nowUs);
        if (troubles > 0) _wellSinceUs = nowUs;
        else if (nowUs - _wellSinceUs >= ShowUs) Shown = false;
        bool changed = !Shown || kind != _shownKind || troubles != _shownTroubles;
        _shownKind = kind;
        _shownTroubles = troubles;
        return changed;
    }

    /// <summary>Draws the check over the whole frame.</summary>
    public void Draw(Frame frame, long nowUs)
    {
        int troubles = Troubles;
        CardPainter.Title(frame, "START CHECK");
        if (troubles == 0) DrawWell(frame);
        else DrawTrouble(frame, Pick(nowUs), troubles, nowUs);
    }

    private void DrawWell(Frame frame)
    {
        frame.TextRight(RightX, HeadingY, "firmware " + FirmwareVersion.Text, Font.Small);
        frame.Icon(LeftX, HeadlineY + 2, Icon.Tick);
        bool unread = _health.Battery.State == BatteryState.Unread;
        frame.Text(BesideTickX, HeadlineY, unread ? "Box is ready" : "All in order", Font.Medium);
        if (unread) frame.Text(BesideTickX, BelowHeadlineY, "NO BATTERY READING", Font.Small);
        else frame.Text(BesideTickX, BatteryY, "Battery " + _health.Battery.Volts, Font.Medium);
        // The words say "set", because an output pin of the chip cannot be trusted to read back what it drives.
        frame.Text(LeftX, ContactsY, "Contacts set open", Font.Small);
        frame.Text(LeftX, ButtonsY, "No button is down", Font.Small);
        frame.Text(LeftX, HintY, _health.MemoryFitted ? "Display, clock, memory: yes" : "Display, clock: yes", Font.Small);
    }

    private void DrawTrouble(Frame frame, int kind, int troubles, long nowUs)
    {
        if (troubles > 1) frame.TextRight(RightX, HeadingY, (nowUs / WordsUs % troubles + 1).ToString() + "/" + troubles.ToString(), Font.Small);
        else frame.TextRight(RightX, HeadingY, "firmware " + FirmwareVersion.Text, Font.Small);
        CardPainter.Caution(frame, HeadlineY + 1, Headline(kind));
        frame.Text(LeftX, Line3Y, Found(kind), Font.Small);
        frame.Text(LeftX, Line4Y, Works(kind), Font.Small);
        frame.Text(LeftX, Line5Y, Remedy(kind), Font.Small);
        frame.Text(LeftX, HintY, "Any button: go on", Font.Small);
    }

    private bool HasTrouble(int kind) => kind switch
    {
        0 => _health.StuckButton >= 0,
        1 => _health.Battery.Troubles,
        2 => !_clock.IsSet,
        3 => _health.Memory != MemoryTrouble.None,
        4 => _health.Fault.Times > 0,
        6 => _health.Limiter != LimiterTrouble.None,
        _ => _health.Spare.GivenUp > 0,
    };

    private int Troubles
    {
        get
        {
            int count = 0;
            for (int kind = 0; kind < Kinds; kind++)
            {
                if (HasTrouble(kind)) count++;
            }
            return count;
        }
    }

    // The trouble that is shown at this moment; -1 when there is none.
    private int Pick(long nowUs)
    {
        int troubles = Troubles;
        if (troubles == 0) return -1;
        long place = nowUs / WordsUs % troubles;
        for (int kind = 0; kind < Kinds; kind++)
        {
            if (HasTrouble(kind) && place-- == 0) return kind;
        }
        return -1;
    }

    private string Headline(int kind) => kind switch
    {
        0 => BoxHealth.ButtonName(_health.StuckButton) + " is down",
        1 => _health.Battery.Refuses ? "CHARGE IT" : "Battery low",
        2 => "SET THE TIME",
        3 => _health.MemoryKeepsNothing ? "Nothing kept" : _health.Memory == MemoryTrouble.Worn ? "Memory worn" : "Save cut off",
        4 => "Restarted",
        6 => "DO NOT FIRE",
        _ => "Memory short",
    };

    private string Found(int kind) => kind switch
    {
        0 => "Held, stuck or wet",
        1 => "Battery " + _health.Battery.Volts,
        2 => ShorePainter.Why(_clock.Trust),
        3 => _health.MemoryFailed,
        6 => _health.LimiterFailed,
        4 => "by a fault: " + FaultNote.KindWords(_health.Fault.Kind),
        _ => _health.Spare.Words,
    };

    private string Works(int kind) => kind switch
    {
        0 => _health.StuckButton == (int)Button.Fire ? "No run starts until it is up" : "Fire starts and stops runs",
        1 => _health.Battery.Refuses ? "No run starts, cards work" : "Runs start and are finished",
        2 => "No tide, sun or way back",
        3 => _health.MemoryWorks,
        6 => BoxHealth.LimiterWorks,
        4 => "in " + FaultNote.PlaceWords(_health.Fault.Place) + ", " + (_health.Fault.Times == 1 ? "once" : _health.Fault.Times.ToString() + " times"),
        _ => SpareParts.Works,
    };

    private string Remedy(int kind) => kind switch
    {
        0 => "Let go, dry it, work it free",
        1 => _health.Battery.Refuses ? "USB power or a full cell" : "Charge soon, keep it warm",
        2 => "Back, Up: PLACE. Runs work",
        4 => "Three in a row stop the box",
        5 => "Off and on tries them again",
        6 => "Off, camera off, dry it",
        _ => _health.Memory switch
        {
            MemoryTrouble.Damaged => "BOX: leave it or overwrite",
            MemoryTrouble.Newer => "BOX: leave it or overwrite",
            MemoryTrouble.CutOff => "Check the settings once",
            MemoryTrouble.Worn => "A new clock module cures it",
            _ => "Check its plug at home",
        },
    };
}

using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>
/// The bench check of a newly built box: limiter, release lines, buttons, display, clock, memory, and the battery, whose reading is adjusted with
/// a meter. While the card is shown, Fire starts nothing and each button is only counted.
/// </summary>
public sealed class BenchCard : Card
{
    /// <summary>When the card opens, every dot of the display is lit for this long, µs.</summary>
    public const long DotsUs = 2_000_000;

    // The light sensor and the way to the field alternate in the last line at this interval, µs.
    private const long LightUs = 3_000_000;

    private const int Buttons = 6;

    private readonly BoxSettings _settings;
    private readonly BoxHealth _health;
    private readonly RunLink _link;
    private readonly ShoreClock _clock;
    private readonly SensedLight _light;
    private int _pressed;
    private long _openedUs;

    /// <summary>Creates the card.</summary>
    public BenchCard(BoxSettings settings, BoxHealth health, RunLink link, ShoreDesk shore)
    {
        _settings = settings;
        _health = health;
        _link = link;
        _clock = shore.Clock;
        _light = shore.Dawn.Sensor;
    }

    /// <inheritdoc/>
    public override string Name => "BENCH";

    /// <inheritdoc/>
    public override long RedrawUs => 500_000;

    /// <summary>Opens the card: no button counts as pressed yet, and all dots light up.</summary>
    public void Open(long nowUs)
    {
        _pressed = 0;
        _openedUs = nowUs;
    }

    /// <summary>Counts a button that went down. Returns true the first time since the card opened.</summary>
    public bool Saw(Button button)
    {
        int bit = 1 << (int)button;
        bool first = (_pressed & bit) == 0;
        _pressed |= bit;
        return first;
    }

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        if (!fields.Is("Battery, as a meter reads it")) return;
        _settings.GaugeReference = fields.Moved(_settings.GaugeReference, 1, BoxSettings.LeastGaugeReference, BoxSettings.MostGaugeReference);
        if (fields.Changes) return;
        fields.Value = _health.Battery.Volts;
        if (fields.Value.Length == 0) fields.Value = "no reading";
        fields.Note = "converter's scale " + _settings.GaugeReference.ToString();
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        if (nowUs - _openedUs < DotsUs)
        {
            frame.FillRect(0, 0, Frame.Width, Frame.Height);
            return;
        }
        CardPainter.Row(frame, Line1Y, "limiter", LimiterWords());
        CardPainter.Row(frame, Line2Y, "half-press, shutter", _health.Limiter > LimiterTrouble.StaysOff ? "FAILED" : "at rest");
        CardPainter.Row(frame, Line3Y, "buttons", ToPress());
        CardPainter.Row(frame, Line4Y, "clock, memory", YesNo(_clock.IsSet) + ", " + YesNo(_health.MemoryFitted && !_health.MemoryKeepsNothing));
        string volts = _health.Battery.Volts;
        CardPainter.Row(frame, Line5Y, "battery", volts.Length == 0 ? "no reading" : volts);
        if (_light.Fitted && nowUs / LightUs % 2 == 0) CardPainter.Row(frame, HintY, "light sensor", _light.LuxWords);
        else frame.Text(LeftX, HintY, "Select: set it by a meter", Font.Small);
    }

    private static string YesNo(bool yes) => yes ? "yes" : "NO";

    private string LimiterWords()
    {
        if (_health.Limiter == LimiterTrouble.StaysOn) return "NEVER LETS GO";
        if (_health.Limiter == LimiterTrouble.StaysOff) return "DOES NOT COME UP";
        return _link.LetGoUs == 0 ? "is being tried" : "lets go in " + (_link.LetGoUs / 1_000_000.0).ToString("F1") + " s";
    }

    // The first letters of the buttons that are still to be pressed.
    private string ToPress()
    {
        string text = "";
        for (int i = 0; i < Buttons; i++)
        {
            if ((_pressed & (1 << i)) == 0) text += " " + BoxHealth.ButtonName(i).Substring(0, 1);
        }
        return text.Length == 0 ? "all six" : "press" + text;
    }
}

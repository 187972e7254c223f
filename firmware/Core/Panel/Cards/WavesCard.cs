using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Panel.Cards;

/// <summary>Firing on the backwash: the way, its numbers, and what the marks have taught about this sea.</summary>
public sealed class WavesCard : Card
{
    private readonly BoxSettings _settings;
    private readonly WaveRun _run;
    private readonly FrameText _line = new FrameText();

    /// <summary>Creates the card.</summary>
    public WavesCard(BoxSettings settings, WaveRun run)
    {
        _settings = settings;
        _run = run;
    }

    /// <inheritdoc/>
    public override string Name => "WAVES";

    /// <inheritdoc/>
    public override int FieldCount => 6;

    /// <inheritdoc/>
    public override long RedrawUs => 250_000;

    private WaveOrder Order => _settings.Waves;

    /// <inheritdoc/>
    public override string Label(int field) => field switch
    {
        0 => "Fire",
        1 => Order.Way == FiringWay.OnMark || Order.Way == FiringWay.AfterMark ? "Delay after the mark" : "Open, from the turn",
        2 => "Frames on each wave",
        3 => "Gap between them",
        4 => "Every wave number",
        _ => "Stop after waves",
    };

    /// <inheritdoc/>
    public override string Value(int field) => field switch
    {
        0 => WayText(Order.Way),
        1 => Order.Way switch
        {
            FiringWay.OnMark => "none",
            FiringWay.AfterMark => SecondsText(Order.DelayMs),
            _ => (Order.FromTurnMs > 0 ? "+" : "") + SecondsText(Order.FromTurnMs),
        },
        2 => Order.FramesPerWave.ToString(),
        3 => SecondsText(Order.GapMs),
        4 => Order.EveryWave.ToString(),
        _ => Order.Waves == 0 ? "never" : Order.Waves.ToString(),
    };

    /// <inheritdoc/>
    public override string Note(int field) => field switch
    {
        0 => WayNote(Order.Way),
        1 => Order.Way == FiringWay.OnMark ? "fires at once" : "lag is made up for",
        4 => Order.EveryWave == 1 ? "fires on every one" : "lets " + (Order.EveryWave - 1).ToString() + " go by",
        _ => "",
    };

    /// <inheritdoc/>
    public override void Change(int field, int direction, int repeats)
    {
        WaveOrder order = Order;
        switch (field)
        {
            case 0:
                order.Way = (FiringWay)Moved((int)order.Way, direction, 1, 0, (int)FiringWay.OnArrival);
                break;
            case 1:
                if (order.Way == FiringWay.AfterMark) order.DelayMs = Moved(order.DelayMs, direction, 100 * Stride(repeats), 0, 20_000);
                else if (order.Way != FiringWay.OnMark) order.FromTurnMs = Moved(order.FromTurnMs + 3000, direction, 100, 0, 8000) - 3000;
                break;
            case 2:
                order.FramesPerWave = Moved(order.FramesPerWave, direction, 1, 1, 9);
                break;
            case 3:
                order.GapMs = Moved(order.GapMs, direction, 100, 0, 5000);
                break;
            case 4:
                order.EveryWave = Moved(order.EveryWave, direction, 1, 1, 9);
                break;
            default:
                order.Waves = Moved(order.Waves, direction, 1, 0, 99);
                break;
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        WaveRhythm rhythm = _run.Rhythm;
        frame.Text(0, 11, WayText(Order.Way), Font.Medium);
        if (rhythm.Ready)
        {
            frame.NumberRight(120, 11, (long)(rhythm.PeriodSeconds * 10 + 0.5), 1, Font.Medium);
            frame.TextRight(128, 14, "s", Font.Small);
        }
        else
        {
            int missing = WaveRhythm.MarksNeeded - rhythm.MarkCount;
            frame.TextRight(128, 14, missing > 0 ? missing.ToString() + " more" : "", Font.Small);
        }
        WaveBand.Draw(frame, 26, rhythm, 0, nowUs);
        DrawSteadiness(frame, 47, rhythm, nowUs);
        frame.Text(0, 56, rhythm.Ready ? "Fire starts" : "Mark as each wave turns", Font.Small);
    }

    /// <summary>How steady the waves come, in words, and how old the last mark is.</summary>
    private void DrawSteadiness(Frame frame, int y, WaveRhythm rhythm, long nowUs)
    {
        if (rhythm.MarkCount == 0) return;
        frame.Text(0, y, Steadiness.Words(rhythm.SteadinessIndex), Font.Small);
        _line.Clear().Add("mark ").AddSeconds((nowUs - rhythm.LastMarkUs) / 1_000_000).Add(" s ago");
        frame.TextRight(128, y, _line, Font.Small);
    }

    private static string WayText(FiringWay way) => way switch
    {
        FiringWay.OnMark => "on mark",
        FiringWay.AfterMark => "after mark",
        FiringWay.OnRhythm => "on rhythm",
        _ => "on arrival",
    };

    private static string WayNote(FiringWay way) => way switch
    {
        FiringWay.OnMark => "your press is the release",
        FiringWay.AfterMark => "a delay after your press",
        FiringWay.OnRhythm => "at the turns it expects",
        _ => "mark arrival, fires at turn",
    };
}

using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The drill that measures how a person presses: a block runs up and back, and the person presses Mark when it turns.</summary>
public sealed class HandCard : Card
{
    // On average a picture is seen this long after the moment that it shows, µs: drawing, sending, and half the time for which it stands (estimated).
    private const long SeenLaterUs = 100_000;

    private const int Rows = 14;
    private const int WayY = 24;
    private const int BlockColumns = 8;
    private const int WaterRows = 3;

    // How far off the last press was; and the result: beside the large figure, and below it.
    private const int LastPressY = 45;
    private const int BesideSpreadX = 70;
    private const int OrTakeY = 25;
    private const int LagY = 40;
    private const int KeptY = 48;

    private readonly BoxSettings _settings;

    /// <summary>Creates the card.</summary>
    public HandCard(BoxSettings settings)
    {
        _settings = settings;
    }

    /// <summary>The drill.</summary>
    public HandDrill Drill { get; } = new HandDrill();

    /// <inheritdoc/>
    public override string Name => "YOUR HAND";

    /// <inheritdoc/>
    public override long RedrawUs => Drill.Done ? 0 : 100_000;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
    }

    /// <summary>Handles a press of Mark. The last press of the drill stores the lag and the spread of the hand.</summary>
    public void Press(long atUs)
    {
        if (!Drill.Press(atUs) || !Drill.Done) return;
        _settings.Waves.HandLagMs = Drill.LagMs;
        _settings.Waves.HandSpreadMs = Drill.SpreadMs;
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        if (Drill.Done)
        {
            DrawResult(frame);
            return;
        }
        frame.Text(LeftX, HeadlineY, "Press Mark as it turns back", Font.Small);
        frame.HLine(LeftX, WayY + Rows, Frame.Width);
        int place = Drill.Place(nowUs + SeenLaterUs, Frame.Width - BlockColumns);
        // The block is the edge of the water, which is drawn behind it.
        if (place > 0) frame.FillRect(LeftX, WayY + Rows - WaterRows, place, WaterRows);
        frame.FillRect(place, WayY, BlockColumns, Rows);
        frame.Line.Clear();
        if (Drill.Count == 0) frame.Line.Add("Let it go up and back once");
        else AddOff(frame.Line, Drill.LastMs);
        frame.Text(LeftX, LastPressY, frame.Line, Font.Small);
        frame.Line.Clear().AddNumber(Drill.Count).Add(" of ").AddNumber(HandDrill.PressesNeeded).Add("     Back: leave it");
        frame.Text(LeftX, HintY, frame.Line, Font.Small);
    }

    private void DrawResult(Frame frame)
    {
        int spread = _settings.Waves.HandSpreadMs;
        frame.Number(LeftX, HeadlineY, (spread + 5) / 10, 2, Font.Large);
        frame.Text(BesideSpreadX, HeadlineY, "s give", Font.Medium);
        frame.Text(BesideSpreadX, OrTakeY, "or take", Font.Medium);
        frame.Line.Clear().Add("about ");
        AddOff(frame.Line, _settings.Waves.HandLagMs);
        frame.Text(LeftX, LagY, frame.Line, Font.Small);
        frame.Text(LeftX, KeptY, "Kept: every chance uses it.", Font.Small);
        frame.Text(LeftX, HintY, "Select: again   Back: done", Font.Small);
    }

    private static void AddOff(FrameText line, int ms)
    {
        int size = ms < 0 ? -ms : ms;
        line.AddNumber((size + 5) / 10, 2).Add(ms < 0 ? " s early" : " s late");
    }
}

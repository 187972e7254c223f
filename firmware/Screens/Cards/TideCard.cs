using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The present tide, its next turns and the curve of the day. Its fields are the table that is typed in from print.</summary>
public sealed class TideCard : Card
{
    private const string LocalTime = "local time, as printed";
    private const int PlotX = 62;
    private const int PlotY = 11;
    private const int PlotRows = 25;

    private readonly ShoreDesk _desk;

    /// <summary>Creates the card.</summary>
    public TideCard(ShoreDesk desk) => _desk = desk;

    /// <inheritdoc/>
    public override string Name => "TIDE";

    /// <inheritdoc/>
    public override long RedrawUs => 1_000_000;

    private ShoreSettings Settings => _desk.Settings;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        TypedTable table = Settings.Table;
        if (fields.Is("Tide from"))
        {
            if (fields.Changes)
            {
                Settings.SetFromTable(fields.Direction < 0);
                return;
            }
            fields.Value = Settings.FromTable ? "typed table" : "the place";
            fields.Note = Settings.HasGivenTide ? "official tables come first" : "the place has no tide";
        }
        if (fields.Is("Turns typed from a table"))
        {
            if (fields.Changes)
            {
                UtcInstant now = _desk.Now;
                table.Resize(fields.Direction, now.PlusMinutes(Settings.Offset.MinutesAt(now)));
                Settings.Touch();
                return;
            }
            fields.Value = table.Count.ToString();
            Typed(fields, "up to 8, in order");
        }
        if (fields.Is("First turn typed is"))
        {
            if (fields.Changes)
            {
                table.FirstIsHigh = !table.FirstIsHigh;
                Settings.Touch();
                return;
            }
            fields.Value = table.FirstIsHigh ? "high water" : "low water";
            Typed(fields, LocalTime);
        }
        if (fields.IsAmong(2 * table.Count)) OneTurn(fields, table, fields.Part / 2);
        if (table.Count > 0 && fields.Is("All turns as printed"))
        {
            if (fields.Changes && fields.Direction > 0)
            {
                table.Confirm();
                Settings.Touch();
            }
            if (fields.Changes) return;
            fields.Value = table.Guesses ? "up for yes" : "yes";
            Typed(fields, "");
        }
        if (fields.Is("Shape of the tide")) Shape(fields);
    }

    private void Shape(FieldList fields)
    {
        TideShape shape = Settings.Shape;
        if (fields.Changes)
        {
            bool hasSum = Settings.GivenTide is HarmonicTide;
            Settings.SetShape((TideShape)fields.Moved((int)shape, 1, 0, (int)(hasSum ? TideShape.AsNeighbour : TideShape.Daily)), Settings.LeftOutCentimetres);
            return;
        }
        bool asSum = shape == TideShape.AsSum;
        int minutes = asSum ? TideAllowance.ShapedTableMinutes : shape == TideShape.Plain ? TideAllowance.PlainTableMinutes : TideAllowance.AnyTableMinutes;
        fields.Value = asSum ? "as constants" : shape == TideShape.AsNeighbour ? "as near port" : shape == TideShape.Plain ? "plain" : shape == TideShape.Daily ? "once a day" : "any";
        fields.Note = (asSum ? "where they fit: " : shape == TideShape.Plain ? "no stand; table " : "table: ") + minutes.ToString() + " min off";
    }

    // Each turn has two fields, its time and its height.
    private void OneTurn(FieldList fields, TypedTable table, int turn)
    {
        bool isTime = fields.Part % 2 == 0;
        if (fields.Changes)
        {
            if (isTime) table.MoveTime(turn, fields.Direction * fields.Stride);
            else table.SetHeight(turn, fields.Moved(table.Centimetres(turn) + 500, 10, 0, 2500) - 500);
            Settings.Touch();
            return;
        }
        fields.Label = "Turn " + (turn + 1).ToString() + (table.IsHigh(turn) ? ", high water" : ", low water") + (isTime ? ": time" : ": height");
        fields.Value = isTime ? ShorePainter.Printed(table.Printed(turn)) : ShorePainter.Centimetres(table.Centimetres(turn));
        Typed(fields, (isTime ? table.HasTime(turn) : table.HasHeight(turn)) ? LocalTime : "a guess");
    }

    // Handles a field of the typed table. What is wrong with the table takes the place of the note.
    private void Typed(FieldList fields, string note)
    {
        string fault = Settings.TableFault;
        fields.Note = fault.Length > 0 ? fault : note;
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        if (ShorePainter.AsksForTime(frame, _desk)) return;
        CoastPlace place = _desk.Place;
        UtcInstant now = _desk.Now;
        if (place.Tide.CertaintyAt(now) == TideCertainty.None)
        {
            CardPainter.Caution(frame, HeadlineY, "No tide known");
            string fault = Settings.TableFault;
            frame.Text(LeftX, Line3Y, "for " + ShorePainter.DayTime(now, place.Offset) + ".", Font.Small);
            CardPainter.Paragraph(frame, Line4Y, Line5Y, fault.Length > 0 ? fault : "Select: type in a table.");
            ShorePainter.Caution(frame, nowUs);
            return;
        }
        TideCurve? curve = _desk.Curve;
        if (!_desk.Spare.Has(SparePart.DayCurve)) CardPainter.GivenUp(frame, "the tide curve");
        else if (curve == null) frame.Text(LeftX, AloneY, "working it out", Font.Medium);
        else
        {
            Read(curve, now, out double height, out double rate);
            int end = frame.Text(LeftX, FigureY, height.ToString("F1"), Font.Large);
            frame.Text(end + 2, UnitY, "m", Font.Small);
            Plot(frame, place, curve, now);
            if (nowUs / GlanceLine.LineUs % 2 == 1) frame.Text(LeftX, Line4Y, GlanceLine.Next(_desk, nowUs, out bool _), Font.Small);
            else
            {
                string going = rate > 0.05 ? "rising " : rate < -0.05 ? "falling " : "slack ";
                frame.Text(LeftX, Line4Y, going + (rate < 0 ? -rate : rate).ToString("F1") + " m/h", Font.Small);
                frame.TextRight(RightX, Line4Y, TimeText.HourMinuteBefore(now, place.Offset), Font.Small);
            }
            Turns(frame, place, curve, now);
        }
        ShorePainter.Caution(frame, nowUs);
    }

    // Interpolates the curve linearly. Between two points 10 minutes apart that is within a centimetre or two of the tide.
    private static void Read(TideCurve curve, UtcInstant now, out double height, out double rate)
    {
        long step = ShoreDesk.CurveStepSeconds;
        long since = now.SecondsSince(curve.TimeAt(0));
        int at = (int)(since / step);
        if (at < 0) at = 0;
        if (at > curve.Count - 2) at = curve.Count - 2;
        // divisor: step is the constant step of the curve, above zero.
        double from = curve.HeightMetres(at), to = curve.HeightMetres(at + 1);
        height = from + (to - from) * (since - at * step) / step;
        rate = (to - from) * 3600 / step;
    }

    private static void Turns(Frame frame, CoastPlace place, TideCurve curve, UtcInstant now)
    {
        int shown = 0;
        if (place.Tide is PrintedTide table)
        {
            // The turns are taken from the table itself, because the curve does not see the last one.
            for (int i = 0; i < table.Count && shown < 2; i++)
            {
                if (table[i].Time > now) Turn(frame, place, table[i], shown++);
            }
            return;
        }
        for (int i = 0; i < curve.TurnCount && shown < 2; i++)
        {
            if (curve.Turn(i).Time > now) Turn(frame, place, curve.Turn(i), shown++);
        }
    }

    private static void Turn(Frame frame, CoastPlace place, TideTurn turn, int shown)
    {
        string text = (turn.IsHigh ? "H " : "L ") + TimeText.HourMinute(turn.Time, place.Offset) + " " + turn.HeightMetres.ToString("F1") + "m";
        if (shown == 0) frame.Text(LeftX, Line5Y, text, Font.Small);
        else frame.TextRight(RightX, Line5Y, text, Font.Small);
    }

    // Plots the day from left to right. Where the tide is not known nothing is drawn. The dotted vertical line is the present.
    private static void Plot(Frame frame, CoastPlace place, TideCurve curve, UtcInstant now)
    {
        int columns = Frame.Width - PlotX;
        double low = curve.LowestMetres, span = curve.HighestMetres - curve.LowestMetres;
        frame.HLine(PlotX, PlotY + PlotRows, columns);
        // The loop uses plain seconds, because a UtcInstant would be an object for each column on the device.
        long first = curve.TimeAt(0).Seconds, knownFrom = place.Tide.ValidFrom.Seconds, knownUntil = place.Tide.ValidUntil.Seconds;
        int last = -1;
        for (int x = 0; x < columns; x++)
        {
            // divisor: the plot is 66 columns wide.
            int at = x * (ShoreDesk.DayPoints - 1) / (columns - 1);
            long seconds = first + (long)at * ShoreDesk.CurveStepSeconds;
            if (at >= curve.Count || seconds < knownFrom || seconds > knownUntil)
            {
                last = -1;
                continue;
            }
            double part = span <= 0 ? 0.5 : (curve.HeightMetres(at) - low) / span;
            int y = PlotY + PlotRows - 1 - (int)(part * (PlotRows - 2) + 0.5);
            int from = last < 0 || last == y ? y : last < y ? last + 1 : last - 1;
            frame.VLine(PlotX + x, from < y ? from : y, (from < y ? y - from : from - y) + 1);
            last = y;
        }
        PlotNow(frame, curve, now, columns);
    }

    private static void PlotNow(Frame frame, TideCurve curve, UtcInstant now, int columns)
    {
        double low = curve.LowestMetres, span = curve.HighestMetres - curve.LowestMetres;
        long since = now.SecondsSince(curve.TimeAt(0));
        int nowX = PlotX + (int)(since * (columns - 1) / UtcInstant.SecondsPerDay);
        if (nowX >= PlotX && nowX < Frame.Width)
        {
            for (int y = PlotY; y < PlotY + PlotRows; y += 2) frame.SetPixel(nowX, y);
            double height;
            Read(curve, now, out height, out double rate);
            double part = span <= 0 ? 0.5 : (height - low) / span;
            int dot = PlotY + PlotRows - 1 - (int)(part * (PlotRows - 2) + 0.5);
            int left = nowX - 2 < PlotX ? PlotX : nowX + 3 > Frame.Width ? Frame.Width - 5 : nowX - 2;
            int above = dot - 2 < PlotY ? PlotY : dot - 2;
            frame.FillRect(left, above, 5, 5);
        }
    }
}

using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>Today's sun: the next of sunrise and sunset in large figures, with its bearing, and the stages of the morning's light.</summary>
public sealed class SunCard : Card
{
    private readonly ShoreDesk _desk;

    /// <summary>Creates the card.</summary>
    public SunCard(ShoreDesk desk) => _desk = desk;

    /// <inheritdoc/>
    public override string Name => "SUN";

    /// <inheritdoc/>
    public override long RedrawUs => 10_000_000;

    private ShoreSettings Settings => _desk.Settings;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        if (fields.Is("Correct bulb for dawn"))
        {
            Settings.DawnOn = fields.Switch(Settings.DawnOn);
            fields.Note = "from when it was metered";
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        if (ShorePainter.AsksForTime(frame, _desk)) return;
        SunSheet sun = _desk.Sun;
        LocalTime offset = _desk.Place.Offset;
        if (!sun.Done)
        {
            frame.Text(LeftX, AloneY, "working it out", Font.Medium);
            return;
        }
        if (sun.Words.Length > 0)
        {
            CardPainter.Paragraph(frame, NothingY, ReasonY, sun.Words);
        }
        else
        {
            bool rising = _desk.Now < sun.Rise.Time || !sun.Set.Happens;
            SunEvent next = rising ? sun.Rise : sun.Set;
            SunEvent other = rising ? sun.Set : sun.Rise;
            frame.Text(LeftX, FigureY, TimeText.HourMinute(next.Time, offset), Font.Large);
            frame.TextRight(RightX, Line1Y, rising ? "sunrise" : "sunset", Font.Small);
            frame.TextRight(RightX, UnderWordY, Bearing(next), Font.Medium);
            string line = rising ? "sunset " : "sunrise ";
            frame.Text(LeftX, Line4Y, line + (other.Happens ? TimeText.HourMinute(other.Time, offset) + " at " + Bearing(other) : "none"), Font.Small);
        }
        frame.Text(LeftX, Line5Y, "civil " + At(sun.Civil, offset) + "  nautical " + At(sun.Nautical, offset), Font.Small);
        bool golden = sun.GoldenFrom.Happens || sun.GoldenTo.Happens;
        frame.Text(LeftX, HintY, "golden light " + (golden ? At(sun.GoldenFrom, offset) + "-" + At(sun.GoldenTo, offset) : "--"), Font.Small);
    }

    private static string Bearing(SunEvent e)
    {
        long degrees = Elementary.Round(e.AzimuthDegrees);
        if (degrees >= 360) degrees -= 360;
        string text = degrees.ToString();
        return (degrees < 10 ? "00" : degrees < 100 ? "0" : "") + text + "°";
    }

    private static string At(SunEvent e, LocalTime offset) => e.Happens ? TimeText.HourMinute(e.Time, offset) : "--";
}

using Intervalometer.Core.Exposure;
using Intervalometer.Core.Optics;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>What is sharp with a manual lens: from where to where, and how blurred the far end is when one leaves it unsharp.</summary>
public sealed class DepthCard : Card
{
    private const long WordsUs = 3_000_000;

    // f/5.6 and f/11 on the scale of apertures.
    private const int Wide = 15;
    private const int Narrow = 21;

    // The near end in medium letters, and at the right of it how far it is sharp.
    private const int MediumFigureY = 16;
    private const int SharpY = 10;
    private const int FarY = 23;

    private readonly BoxSettings _settings;

    /// <summary>Creates the card.</summary>
    public DepthCard(BoxSettings settings)
    {
        _settings = settings;
    }

    /// <inheritdoc/>
    public override string Name => "DEPTH";

    /// <inheritdoc/>
    public override long RedrawUs => WordsUs;

    private LensSettings Lens => _settings.Lens;

    private DepthOfField Depth => Lens.Depth(_settings.Base.Aperture);

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        LensSettings lens = Lens;
        if (fields.Is("Focused at"))
        {
            // On the way down from the end of a range of steps, the finer step of the range below it applies.
            int from = lens.FocusCentimetres + (fields.Direction < 0 ? -1 : 0);
            int step = from < 100 ? 5 : from < 300 ? 10 : from < 1000 ? 50 : 500;
            lens.FocusCentimetres = fields.Moved(lens.FocusCentimetres, step, LensSettings.LeastFocus, LensSettings.MostFocus);
            if (fields.Changes) return;
            fields.Value = Metres(new Distance(lens.FocusCentimetres / 100.0));
            fields.Note = Range();
        }
        if (fields.Is("Aperture"))
        {
            if (fields.Changes)
            {
                _settings.StepAperture(fields.Direction);
                return;
            }
            fields.Value = "f/" + _settings.Base.Aperture.Label;
            fields.Note = Soft("far ", _settings.Base.Aperture);
        }
        if (fields.Is("Focal length"))
        {
            lens.FocalMillimetres = fields.Moved(lens.FocalMillimetres, fields.Stride, FocalLength.Least, FocalLength.Most);
            if (fields.Changes) return;
            fields.Value = lens.FocalMillimetres.ToString() + " mm";
            fields.Note = Range();
        }
        if (fields.Is("Film or sensor"))
        {
            lens.FormatIndex = fields.Moved(lens.FormatIndex, 1, 0, FilmFormat.Count - 1);
            if (fields.Changes) return;
            fields.Value = lens.Format.Label;
            fields.Note = "sharp to " + ((int)lens.Format.Circle.Micrometres).ToString() + " um: 1 circle";
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        ApertureSetting aperture = _settings.Base.Aperture;
        DepthOfField depth = Depth;
        string near = Figure(depth.Near);
        string far = "to " + Metres(depth.Far);
        int sharpWidth = Font.Medium.WidthOf("m sharp");
        int farWidth = Font.Medium.WidthOf(far);
        Font font = CardPainter.FontBeside(near, farWidth > sharpWidth ? farWidth : sharpWidth);
        frame.Text(LeftX, font == Font.Large ? FigureY : MediumFigureY, near, font);
        frame.TextRight(RightX, SharpY, "m sharp", Font.Medium);
        frame.TextRight(RightX, FarY, far, Font.Medium);
        frame.Text(LeftX, Line4Y, Soft("Far end: ", aperture), Font.Small);
        frame.Text(LeftX, Line5Y, "circles f/5.6 " + Circles(Wide) + ", f/11 " + Circles(Narrow), Font.Small);
        bool hyperfocal = nowUs / WordsUs % 2 == 1;
        string set = Lens.FocalMillimetres.ToString() + " mm f/" + aperture.Label + " at " + Metres(new Distance(Lens.FocusCentimetres / 100.0));
        frame.Text(LeftX, HintY, hyperfocal ? "Focus " + Metres(depth.Hyperfocal) + ": far is sharp" : set, Font.Small);
    }

    private string Range() => Metres(Depth.Near) + " to " + Metres(Depth.Far);

    // How blurred the far end is. A blur of up to one circle of confusion counts as sharp.
    private string Soft(string words, ApertureSetting aperture)
    {
        BlurCircle blur = Lens.Depth(aperture).AtInfinity;
        double micrometres = blur.Micrometres;
        string size = micrometres < 999.5 ? micrometres.ToString("F0") + " um, " : (micrometres / 1000).ToString("F0") + " mm, ";
        return words + size + Circles(aperture.Index) + (blur.Times(Lens.Format.Circle) <= 1 ? ": sharp" : " circles");
    }

    private string Circles(int aperture)
    {
        double circles = Lens.Depth(new ApertureSetting(aperture)).AtInfinity.Times(Lens.Format.Circle);
        return circles >= 99.5 ? ">99" : circles.ToString(circles < 9.95 ? "F1" : "F0");
    }

    private static string Metres(Distance distance) => distance.IsInfinite ? "infinity" : Figure(distance) + " m";

    private static string Figure(Distance distance)
    {
        double metres = distance.Metres;
        return metres.ToString(metres < 0.995 ? "F2" : metres < 99.95 ? "F1" : "F0");
    }
}

using Intervalometer.Core.Exposure;
using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The exposure time that a picture calls for, and the ways to reach it with the kit: which filters, which aperture, and by how much each way misses.</summary>
public sealed class WantedCard : Card
{
    // From 1/8 s to 17 minutes, in third stops from 1 s.
    private const int Shortest = -9;
    private const int Longest = 30;
    // The first row of the list of ways, and the row of the words that stand there while the list is empty.
    private const int FirstWayY = 26;
    private const int WordsY = 34;
    private const int RowHeight = 9;

    private readonly BoxSettings _settings;
    private readonly SeaReport _sea;
    // Created when the card is first shown.
    private WaysToTime? _ways;
    private int _wanted = 3;
    private int _widest = 15;
    private int _narrowest = 21;
    private int _way;
    private long _for;

    /// <summary>Creates the card with a wanted time of 2 s and apertures from f/5.6 to f/11.</summary>
    public WantedCard(BoxSettings settings, SeaReport sea)
    {
        _settings = settings;
        _sea = sea;
    }

    /// <inheritdoc/>
    public override string Name => "TIME WANTED";

    private double WantedSeconds => Elementary.Exp2(_wanted / 3.0);

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        if (fields.Is("Time wanted"))
        {
            fields.OnOverview = true;
            if (fields.Changes) _wanted = fields.Moved(_wanted, 1, Shortest, Longest);
        }
        if (fields.Is("Which way"))
        {
            fields.OnOverview = true;
            int found = _ways == null ? 0 : _ways.Found;
            if (fields.Changes) _way = Elementary.Clamp(_way - fields.Direction, 0, found > 0 ? found - 1 : 0);
        }
        if (fields.Is("Fits the backwash"))
        {
            double seconds = Backwash;
            if (fields.Changes && seconds > 0) _wanted = Elementary.Clamp(Floor(seconds), Shortest, Longest);
            if (fields.Changes) return;
            fields.Value = seconds > 0 ? seconds.ToString("F1") + " s" : "not timed";
            fields.Note = seconds > 0 ? "Up or Down: want this" : "hold Mark while it runs";
        }
        if (fields.Is("Widest aperture"))
        {
            _widest = fields.Moved(_widest, 1, ApertureSetting.MinIndex, _narrowest);
            if (fields.Changes) return;
            fields.Value = "f/" + new ApertureSetting(_widest).Label;
        }
        if (fields.Is("Narrowest aperture"))
        {
            _narrowest = fields.Moved(_narrowest, 1, _widest, ApertureSetting.MaxIndex);
            if (fields.Changes) return;
            fields.Value = "f/" + new ApertureSetting(_narrowest).Label;
        }
    }

    /// <summary>Does one step of the search, which begins again whenever anything that it depends on has changed. Returns true when the picture has changed.</summary>
    public bool Think()
    {
        if (_ways == null) _ways = new WaysToTime();
        long now = Standing();
        if (now != _for)
        {
            _for = now;
            MeteredBase metered = _settings.Base;
            _ways.Begin(metered, _settings.Kit, _settings.Film, WantedSeconds, _widest, _narrowest);
            _way = 0;
        }
        else if (_ways.Done) return false;
        return _ways.Step();
    }

    /// <summary>Takes the selected way: its filters count as on, its aperture is set, and the time follows.</summary>
    public void Take()
    {
        if (_ways == null || !_ways.Done || _way >= _ways.Found) return;
        FilterKit kit = _settings.Kit;
        int stack = _ways.Stack(_way);
        for (int i = 0; i < kit.Count; i++)
        {
            if (kit[i].Kind == FilterKind.Nd) kit[i].On = (stack >> i & 1) != 0;
        }
        _settings.StepAperture(_ways.Aperture(_way) - _settings.Base.Aperture.Index);
        _settings.Solve();
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        frame.Text(LeftX, Line1Y, WantedText(), Font.Medium);
        frame.TextRight(RightX, Line1Y + SmallDrop, "f/" + new ApertureSetting(_widest).Label + " to f/" + new ApertureSetting(_narrowest).Label, Font.Small);
        WaysToTime? ways = _ways;
        if (ways == null || !ways.Done)
        {
            frame.Text(LeftX, WordsY, "looking through the kit", Font.Small);
            return;
        }
        for (int way = 0; way < ways.Found; way++) Way(frame, ways, way, FirstWayY + way * RowHeight);
        if (ways.Found == 0) frame.Text(LeftX, WordsY, "no way within the dial", Font.Small);
        else if (ways.Changes(_way) == 0) frame.Text(LeftX, HintY, CardPainter.AnswerLine(_settings.Answer), Font.Small);
        else frame.Text(LeftX, HintY, "Held Select: takes it", Font.Small);
    }

    private void Way(Frame frame, WaysToTime ways, int way, int y)
    {
        double off = ways.Off(way);
        string miss = (off > -0.005 ? "+" : "") + off.ToString("F2");
        string aperture = " f/" + new ApertureSetting(ways.Aperture(way)).Label;
        string names = ways.Stack(way) == 0 ? "no ND" : _settings.Kit.NamesOf(ways.Stack(way));
        string full = names + aperture;
        bool fits = Font.Small.WidthOf(full) + Font.Small.WidthOf(miss) + 8 <= Frame.Width;
        frame.Text(LeftX + 1, y, fits ? full : Count(ways.Stack(way)).ToString() + " ND" + aperture, Font.Small);
        frame.TextRight(RightX - 1, y, miss, Font.Small);
        if (way == _way) frame.InvertRect(0, y - 1, Frame.Width, RowHeight);
    }

    private static int Count(int stack)
    {
        int count = 0;
        for (; stack != 0; stack &= stack - 1) count++;
        return count;
    }

    private string WantedText() => _wanted <= ShutterSetting.MaxIndex ? new ShutterSetting(_wanted).Sign : ExposureText.Clock(WantedSeconds);

    private double Backwash => _sea.LongestSeconds > 0 ? _sea.LongestSeconds : _sea.Timed ? _sea.BackwashSeconds : 0;

    // The longest dial figure that is not longer than the time.
    private static int Floor(double seconds)
    {
        double thirds = 3 * Elementary.Log2(seconds);
        int whole = (int)thirds;
        return whole > thirds ? whole - 1 : whole;
    }

    // A hash of everything that the search depends on, made like FNV-1a with its 64-bit prime (from memory).
    private long Standing()
    {
        MeteredBase metered = _settings.Base;
        long sum = Mixed(Mixed(Mixed(1, _wanted), _widest), _narrowest);
        sum = Mixed(Mixed(Mixed(sum, metered.Shutter.Index), metered.Aperture.Index), metered.HandThirds);
        sum = Mixed(sum, _settings.Film.Index);
        FilterKit kit = _settings.Kit;
        for (int i = 0; i < kit.Count; i++)
        {
            Filter filter = kit[i];
            sum = Mixed(Mixed(Mixed(sum, Elementary.Round(filter.EffectiveStops.Value * 1e6)), filter.On ? 1 : 0), (int)filter.Kind);
        }
        return sum;
    }

    private static long Mixed(long sum, long part) => (sum ^ part) * 1_099_511_628_211L;
}

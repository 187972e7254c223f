using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The mornings of the coming sixty days that fit the wish, best first, each with its reason. Its fields are the place in the list and the wish.</summary>
public sealed class MorningsCard : Card
{
    // The rows of a morning below its date, and the height of the bar that shows how far the search is.
    private const int SunY = 26;
    private const int TideY = 36;
    private const int WayBackY = 46;
    private const int BarRows = 7;

    private const string Minutes = " min";

    private readonly ShoreDesk _desk;
    private int _rank;

    /// <summary>Creates the card.</summary>
    public MorningsCard(ShoreDesk desk) => _desk = desk;

    /// <inheritdoc/>
    public override string Name
    {
        get
        {
            Mornings? search = _desk.Search;
            if (search == null || !_desk.Clock.IsSet) return "MORNINGS";
            if (!search.Done) return "MORNINGS " + search.Percent.ToString() + " %";
            return search.Count == 0 ? "MORNINGS" : "MORNINGS " + (Rank(search) + 1).ToString() + "/" + search.Count.ToString();
        }
    }

    /// <inheritdoc/>
    public override long RedrawUs => 1_000_000;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        bool listed = fields.Is("Listed");
        if (listed)
        {
            fields.OnOverview = true;
            _rank -= fields.Direction;
            if (_rank < 0) _rank = 0;
        }
        MorningWish wish = _desk.Settings.Wish;
        int before = wish.BeforeMinutes, after = wish.AfterMinutes, work = wish.WorkMinutes;
        int high = (int)Elementary.Round(wish.HighMetres * 10), low = (int)Elementary.Round(wish.LowMetres * 10);
        bool evenings = wish.Evenings;
        if (fields.Is("From, before sunrise")) before = fields.Number(before, 5, 0, 180, Minutes);
        if (fields.Is("Until, after sunrise")) after = fields.Number(after, 5, 0, 180, Minutes);
        if (fields.Is("Tide falls from"))
        {
            high = fields.Moved(high, 1, low, 200);
            if (!fields.Changes) fields.Value = ShorePainter.Metres(high / 10.0);
        }
        if (fields.Is("Tide falls to"))
        {
            low = fields.Moved(low, 1, -50, high);
            if (!fields.Changes) fields.Value = ShorePainter.Metres(low / 10.0);
        }
        if (fields.Is("Least time to work")) work = fields.Number(work, 5, 5, 360, Minutes);
        if (fields.Is("Evenings too")) evenings = fields.Switch(evenings);
        if (fields.Changes && !listed) _desk.Settings.SetWish(new MorningWish(before, after, high / 10.0, low / 10.0, work, true, evenings));
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        if (ShorePainter.AsksForTime(frame, _desk)) return;
        if (!_desk.Spare.Has(SparePart.Mornings))
        {
            CardPainter.GivenUp(frame, "the search");
            ShorePainter.Caution(frame, nowUs);
            return;
        }
        _desk.WantMornings();
        Mornings? search = _desk.Search;
        if (search == null || search.Count == 0)
        {
            bool busy = search == null || !search.Done;
            frame.Text(LeftX, NothingY, busy ? "searching" : "none fits", Font.Medium);
            if (busy) frame.Progress(LeftX, ReasonY, Frame.Width, BarRows, search == null ? 0 : search.Percent, 100);
            else frame.Text(LeftX, ReasonY, search!.Unknown > 0 ? "The tide is not known then." : search.WithoutSun > 0 ? "No sunrise or sunset then." : "Select: widen the wish.", Font.Small);
            ShorePainter.Caution(frame, nowUs);
            return;
        }
        Morning morning = search[Rank(search)];
        LocalTime offset = _desk.Place.Offset;
        frame.Text(LeftX, Line1Y, TimeText.ShortDate(offset.ToLocal(morning.Sun)), Font.Medium);
        frame.TextRight(RightX, Line1Y, TimeText.HourMinute(morning.SetOffAt, offset), Font.Medium);
        CardPainter.Row(frame, SunY, (morning.IsEvening ? "sunset " : "sunrise ") + TimeText.HourMinute(morning.Sun, offset), "set off then");
        CardPainter.Row(frame, TideY, "tide " + morning.FromMetres.ToString("F1") + "-" + morning.ToMetres.ToString("F1") + " m",
            TimeText.HourMinute(morning.WorkStart, offset) + "-" + TimeText.HourMinute(morning.WorkEnd, offset));
        frame.Text(LeftX, WayBackY, morning.PathCloses ? "leave by " + TimeText.HourMinuteBefore(morning.LeaveBy, offset) : "path not cut in that time", Font.Small);
        ShorePainter.Caution(frame, nowUs);
    }

    private int Rank(Mornings search)
    {
        if (_rank >= search.Count) _rank = search.Count - 1;
        if (_rank < 0) _rank = 0;
        return _rank;
    }
}

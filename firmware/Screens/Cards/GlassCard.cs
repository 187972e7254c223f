using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The filter kit as a list, with what is on the lens and how much light each filter takes.</summary>
public sealed class GlassCard : Card
{
    private const int Rows = 4;
    private const int RowHeight = 13;
    private const int ListHeight = Rows * RowHeight;

    // The columns of the list: a box that is filled for a filter on the lens, its name, and where its stops end.
    private const int TickX = 2;
    private const int TickSize = 9;
    private const int NameX = 14;
    private const int StopsRightX = 124;

    private readonly BoxSettings _settings;
    private int _top;

    /// <summary>Creates the card.</summary>
    public GlassCard(BoxSettings settings)
    {
        _settings = settings;
    }

    /// <summary>The row under the cursor; the row after the last filter adds a new one.</summary>
    public int Cursor { get; private set; }

    /// <inheritdoc/>
    public override string Name => "GLASS";

    /// <summary>The heading, with the stops that the filters on the lens take.</summary>
    public string Heading => "GLASS " + ExposureText.StopsOf(_settings.Kit.EffectiveStops) + " st";

    /// <summary>How many rows the list has. While there is room, that includes the row that adds a filter.</summary>
    public int ListRows => _settings.Kit.Count < FilterKit.Capacity ? _settings.Kit.Count + 1 : _settings.Kit.Count;

    /// <summary>True when the cursor is on the row that adds a filter.</summary>
    public bool OnAddRow => Cursor >= _settings.Kit.Count;

    /// <summary>There is one field, the list itself, in which Up goes towards the first filter. A fresh press goes from either end to the other; a held button stops there.</summary>
    public override void Fields(FieldList fields)
    {
        if (!fields.Is("Filters")) return;
        int last = ListRows - 1;
        int next = Cursor - fields.Direction;
        if (fields.Repeats == 0) next = next < 0 ? last : next > last ? 0 : next;
        Cursor = Elementary.Clamp(next, 0, last);
    }

    /// <summary>Puts the filter under the cursor on the lens or takes it off. On the last row it adds a filter.</summary>
    public void Choose()
    {
        FilterKit kit = _settings.Kit;
        if (OnAddRow) AddFilter();
        else kit[Cursor].On = !kit[Cursor].On;
        _settings.Solve();
    }

    /// <summary>Keeps the cursor inside the list after a filter was taken out.</summary>
    public void HoldCursorInside()
    {
        if (Cursor >= ListRows) Cursor = ListRows - 1;
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs) => DrawList(frame, false);

    /// <summary>Draws the list, with the cursor when it is in use.</summary>
    public void DrawList(Frame frame, bool cursor)
    {
        FilterKit kit = _settings.Kit;
        if (Cursor < _top) _top = Cursor;
        if (Cursor >= _top + Rows) _top = Cursor - Rows + 1;
        int lowest = ListRows > Rows ? ListRows - Rows : 0;
        if (_top > lowest) _top = lowest;
        for (int row = 0; row < Rows; row++)
        {
            int index = _top + row;
            if (index >= ListRows) break;
            int y = Line1Y + row * RowHeight;
            if (index >= kit.Count)
            {
                frame.Text(NameX, y, "+ new filter", Font.Medium);
            }
            else
            {
                Filter filter = kit[index];
                frame.Rect(TickX, y + 2, TickSize, TickSize);
                if (filter.On) frame.FillRect(TickX + 2, y + 4, TickSize - 4, TickSize - 4);
                string stops = ExposureText.StopsOf(filter.EffectiveStops);
                // A name that is too long for the larger letters is in small ones.
                if (NameX + Font.Medium.WidthOf(filter.Name) + 2 > StopsRightX - Font.Small.WidthOf(stops)) frame.Text(NameX, y + SmallDrop, filter.Name, Font.Small);
                else frame.Text(NameX, y, filter.Name, Font.Medium);
                frame.TextRight(StopsRightX, y + SmallDrop, stops, Font.Small);
            }
            // From one row above the letters, so that they do not touch the edge.
            if (cursor && index == Cursor) frame.InvertRect(LeftX, y - 1, StopsRightX + 2, RowHeight + 1);
        }
        if (ListRows > Rows)
        {
            int bar = ListHeight * Rows / ListRows;
            int at = ListHeight * _top / ListRows;
            frame.VLine(RightX - 1, Line1Y + at, bar);
        }
    }

    private void AddFilter()
    {
        FilterKit kit = _settings.Kit;
        for (int n = 1; n <= FilterKit.Capacity + 1; n++)
        {
            string name = "FILTER " + n.ToString();
            if (kit.Find(name) >= 0) continue;
            Filter filter = new Filter(name, FilterKind.Nd);
            filter.SetStrength(FilterScale.Stops, 300);
            kit.Add(filter);
            return;
        }
    }
}

using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Settings.Shore;

/// <summary>Everything that a person can set about a place on the coast, and the place that follows from it.</summary>
public sealed class ShoreSettings
{
    /// <summary>The most low points that a way back can have.</summary>
    public const int MostPoints = 6;

    /// <summary>The longest name of a place or a low point, characters.</summary>
    public const int LongestName = 16;

    /// <summary>The longest description of a datum, characters.</summary>
    public const int LongestDatum = 32;

    /// <summary>The largest height above or below the datum, centimetres.</summary>
    public const int MostCentimetres = 2000;

    /// <summary>The largest margin of a low point, centimetres.</summary>
    public const int MostMarginCentimetres = 1000;

    private readonly string[] _pointNames = new string[MostPoints];
    private readonly int[] _floodCentimetres = new int[MostPoints];
    private readonly int[] _walkMinutes = new int[MostPoints];
    private readonly int[] _marginCentimetres = new int[MostPoints];
    private TideSource? _given;
    private string _name = "NO PLACE";
    private string _datum = "table datum";
    private int _latitudeHundredths;
    private int _longitudeHundredths;
    private int _walkIn = 30;
    private string _tableFault = "";
    private bool _fromTable = true;
    private CoastPlace? _place;

    /// <summary>Creates the settings of a new box: no place, no tide and no path.</summary>
    public ShoreSettings()
    {
        Wish = new MorningWish(60, 60, 3.0, 1.0, 30, true, false);
        for (int i = 0; i < MostPoints; i++)
        {
            _pointNames[i] = "Low point " + (i + 1).ToString();
            _floodCentimetres[i] = 400;
            _walkMinutes[i] = 20;
            _marginCentimetres[i] = 50;
        }
    }

    /// <summary>Grows with every change of the place, its tide, its path or the wish.</summary>
    public int Revision { get; private set; }

    /// <summary>The turns that were typed in from a printed table. Call <see cref="Touch"/> after a change.</summary>
    public TypedTable Table { get; } = new TypedTable();

    /// <summary>What is wanted of a morning.</summary>
    public MorningWish Wish { get; private set; }

    /// <summary>Local time at the place.</summary>
    public LocalTime Offset { get; private set; } = new LocalTime(new LocalOffset(0));

    /// <summary>True to correct bulb exposures for the changing light in twilight. It is off on a new box.</summary>
    public bool DawnOn { get; set; }

    /// <summary>Minutes between reminders to wipe the front of the lens; 0 for none. Two minutes are common practice, no source.</summary>
    public int SprayMinutes { get; set; } = SprayTimer.DefaultSeconds / 60;

    /// <summary>True when the place came with a tide of its own.</summary>
    public bool HasGivenTide => _given != null;

    /// <summary>The tide that came with the place; null when there is none.</summary>
    public TideSource? GivenTide => _given;

    /// <summary>How the tide rises and falls, as a person has said.</summary>
    public TideShape Shape { get; private set; }

    /// <summary>By how much the place's own sum of constituents may be too low because constituents were left out, centimetres.</summary>
    public int LeftOutCentimetres { get; private set; }

    /// <summary>When the place was made on a PC, seconds since 2000-01-01 00:00 UTC; 0 for a place that was not made there.</summary>
    public long Stamp { get; set; }

    /// <summary>True when the tide is taken from the typed table, false when it is the place's own.</summary>
    public bool FromTable => _fromTable || _given == null;

    /// <summary>True when a person chose the typed table, whether the place has a tide of its own or not.</summary>
    public bool TableChosen => _fromTable;

    /// <summary>Why a typed turn does not fit; empty when all do.</summary>
    public string TableFault
    {
        get
        {
            if (_place == null) _place = Build();
            return _tableFault;
        }
    }

    /// <summary>The name of the place.</summary>
    public string Name => _name;

    /// <summary>The datum from which heights are measured, in words.</summary>
    public string DatumText => _datum;

    /// <summary>The time from the car or bed to the stand, minutes.</summary>
    public int WalkInMinutes => _walkIn;

    /// <summary>Latitude in hundredths of a degree, north positive.</summary>
    public int LatitudeHundredths => _latitudeHundredths;

    /// <summary>Longitude in hundredths of a degree, east positive.</summary>
    public int LongitudeHundredths => _longitudeHundredths;

    /// <summary>How many low points the way back has.</summary>
    public int PointCount { get; private set; }

    /// <summary>The place that follows from the settings. It is a new object after every change, and the same one otherwise.</summary>
    public CoastPlace Place
    {
        get
        {
            if (_place == null) _place = Build();
            return _place;
        }
    }

    /// <summary>Takes over a place that was read from a file.</summary>
    public void Use(CoastPlace place, MorningWish wish)
    {
        _given = place.Tide;
        _fromTable = false;
        Stamp = 0;
        _name = place.Name;
        _datum = place.DatumText;
        _latitudeHundredths = (int)Elementary.Round(place.Position.LatitudeDegrees * 100);
        _longitudeHundredths = (int)Elementary.Round(place.Position.LongitudeDegrees * 100);
        Offset = place.Offset;
        _walkIn = place.WalkInMinutes;
        Shape = place.Shape;
        LeftOutCentimetres = place.LeftOutCentimetres;
        PointCount = 0;
        for (int i = 0; i < place.PathCount; i++)
        {
            PathPoint point = place.PathPoint(i);
            // Rounded to the whole centimetre that gives the earlier leave-by time.
            int flood = Elementary.Clamp((int)Elementary.Floor(point.FloodMetres * 100 + 1e-6), -MostCentimetres, MostCentimetres);
            int margin = Elementary.Clamp(-(int)Elementary.Floor(-point.MarginMetres * 100 + 1e-6), 0, MostMarginCentimetres);
            if (PointCount < MostPoints)
            {
                _pointNames[i] = point.Name;
                _floodCentimetres[i] = flood;
                _walkMinutes[i] = point.WalkMinutes;
                _marginCentimetres[i] = margin;
                PointCount++;
                continue;
            }
            // No point may be lost. When there are more than fit, the last one becomes as strict as the strictest of the rest.
            int last = MostPoints - 1;
            if (flood < _floodCentimetres[last]) _floodCentimetres[last] = flood;
            if (point.WalkMinutes > _walkMinutes[last]) _walkMinutes[last] = point.WalkMinutes;
            if (margin > _marginCentimetres[last]) _marginCentimetres[last] = margin;
        }
        Wish = wish;
        Touch();
        // The place is used as it came, with every point of its path, until a person changes something.
        _place = place;
    }

    /// <summary>Notes that something about the place was changed.</summary>
    public void Touch()
    {
        _place = null;
        Revision++;
    }

    /// <summary>Chooses between the typed table and the place's own tide.</summary>
    public void SetFromTable(bool fromTable)
    {
        _fromTable = fromTable;
        Touch();
    }

    /// <summary>Sets the shape of the tide.</summary>
    /// <param name="shape">How the tide rises and falls.</param>
    /// <param name="leftOutCentimetres">By how much the place's own sum of constituents may be too low because constituents were left out.</param>
    public void SetShape(TideShape shape, int leftOutCentimetres)
    {
        Shape = shape;
        LeftOutCentimetres = Elementary.Clamp(leftOutCentimetres, 0, TideAllowance.MostLeftOutCentimetres);
        Touch();
    }

    /// <summary>Gives the place a tide of its own, or takes it away.</summary>
    public void Give(TideSource? tide)
    {
        _given = tide;
        Touch();
    }

    /// <summary>Sets what no button changes: the datum in words, and the time of the way in.</summary>
    /// <param name="datum">Up to <see cref="LongestDatum"/> characters.</param>
    /// <param name="walkInMinutes">Minutes, 0 to 600.</param>
    public void Describe(string datum, int walkInMinutes)
    {
        _datum = datum;
        _walkIn = Elementary.Clamp(walkInMinutes, 0, 600);
        Touch();
    }

    /// <summary>Sets what is wanted of a morning.</summary>
    public void SetWish(MorningWish wish)
    {
        Wish = wish;
        Touch();
    }

    /// <summary>Sets the name of the place.</summary>
    public void SetName(string name)
    {
        _name = name;
        Touch();
    }

    /// <summary>Sets local time, with the changes of the clocks that it contains.</summary>
    public void SetOffset(LocalTime offset)
    {
        Offset = offset;
        Touch();
    }

    /// <summary>Sets the position in hundredths of a degree, limited to the poles and to the date line.</summary>
    public void SetPosition(int latitudeHundredths, int longitudeHundredths)
    {
        _latitudeHundredths = Elementary.Clamp(latitudeHundredths, -9000, 9000);
        _longitudeHundredths = Elementary.Clamp(longitudeHundredths, -18000, 18000);
        Touch();
    }

    /// <summary>Sets how many low points there are, 0 to <see cref="MostPoints"/>.</summary>
    public void SetPointCount(int count)
    {
        PointCount = Elementary.Clamp(count, 0, MostPoints);
        Touch();
    }

    /// <summary>The name of a low point.</summary>
    public string PointName(int point) => _pointNames[point];

    /// <summary>The height of tide at which a low point floods, centimetres.</summary>
    public int FloodCentimetres(int point) => _floodCentimetres[point];

    /// <summary>The walk to a low point, minutes.</summary>
    public int WalkMinutes(int point) => _walkMinutes[point];

    /// <summary>The height that is taken off for waves and uncertainty, centimetres.</summary>
    public int MarginCentimetres(int point) => _marginCentimetres[point];

    /// <summary>Sets a low point to its stored values, including the name.</summary>
    public void RestorePoint(int point, string name, int floodCentimetres, int walkMinutes, int marginCentimetres)
    {
        _pointNames[point] = name;
        _floodCentimetres[point] = floodCentimetres;
        _walkMinutes[point] = walkMinutes;
        _marginCentimetres[point] = marginCentimetres;
        Touch();
    }

    /// <summary>Sets a low point.</summary>
    public void SetPoint(int point, int floodCentimetres, int walkMinutes, int marginCentimetres)
    {
        _floodCentimetres[point] = Elementary.Clamp(floodCentimetres, -500, 2000);
        _walkMinutes[point] = Elementary.Clamp(walkMinutes, 0, 600);
        _marginCentimetres[point] = Elementary.Clamp(marginCentimetres, 0, 500);
        Touch();
    }

    private CoastPlace Build()
    {
        TideSource tide;
        _tableFault = "";
        if (_fromTable || _given == null) tide = Table.Build(Shape, Offset, _given as HarmonicTide, out _tableFault);
        else tide = _given;
        PathPoint[] path = new PathPoint[PointCount];
        for (int i = 0; i < PointCount; i++)
        {
            path[i] = new PathPoint(_pointNames[i], _floodCentimetres[i] / 100.0, _walkMinutes[i], _marginCentimetres[i] / 100.0);
        }
        GeoPosition position = new GeoPosition(_latitudeHundredths / 100.0, _longitudeHundredths / 100.0);
        return new CoastPlace(_name, _datum, position, Offset, tide, path, _walkIn, Shape, LeftOutCentimetres);
    }
}

using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Place;

/// <summary>A low point of the path between the stand and high ground, where the rising sea cuts the path.</summary>
public sealed class PathPoint
{
    /// <summary>Creates a low point.</summary>
    /// <param name="name">Its name, up to 16 characters.</param>
    /// <param name="floodMetres">The height of tide at which the point floods, metres above the place's datum.</param>
    /// <param name="walkMinutes">The walk from the stand until the point is behind you, loaded and in the dark, 0 to 600 minutes.</param>
    /// <param name="marginMetres">The height that is taken off for waves and uncertainty, 0 or above, metres.</param>
    public PathPoint(string name, double floodMetres, int walkMinutes, double marginMetres)
    {
        Name = name;
        FloodMetres = floodMetres;
        WalkMinutes = Elementary.Clamp(walkMinutes, 0, 600);
        MarginMetres = Elementary.Max(marginMetres, 0.0);
    }

    /// <summary>Its name.</summary>
    public string Name { get; }

    /// <summary>The height of tide at which the point floods, metres above the place's datum.</summary>
    public double FloodMetres { get; }

    /// <summary>The walk from the stand until the point is behind you, minutes.</summary>
    public int WalkMinutes { get; }

    /// <summary>The height that is taken off for waves and uncertainty, metres.</summary>
    public double MarginMetres { get; }

    /// <summary>The height of tide at which the point counts as cut: flood height less margin, metres.</summary>
    public double LimitMetres => FloodMetres - MarginMetres;
}

/// <summary>A place on the coast where one stands and photographs.</summary>
public sealed class CoastPlace
{
    private readonly PathPoint[] _path;

    /// <summary>Creates a place of whose tide nothing more is known.</summary>
    /// <param name="name">Its name, up to 16 characters.</param>
    /// <param name="datumText">The datum from which heights are measured, in words, such as chart datum.</param>
    /// <param name="position">Where it is.</param>
    /// <param name="offset">Its local time.</param>
    /// <param name="tide">Its tide.</param>
    /// <param name="path">The low points of the way back; none where the sea cannot cut it.</param>
    /// <param name="walkInMinutes">The time from the car or bed until one is ready to work at the stand, 0 to 600 minutes.</param>
    public CoastPlace(string name, string datumText, GeoPosition position, LocalTime offset, TideSource tide, PathPoint[] path, int walkInMinutes)
        : this(name, datumText, position, offset, tide, path, walkInMinutes, TideShape.Any, 0)
    {
    }

    /// <summary>Creates a place of whose tide more is known.</summary>
    /// <param name="name">Its name, up to 16 characters.</param>
    /// <param name="datumText">The datum from which heights are measured, in words, such as chart datum.</param>
    /// <param name="position">Where it is.</param>
    /// <param name="offset">Its local time.</param>
    /// <param name="tide">Its tide.</param>
    /// <param name="path">The low points of the way back; none where the sea cannot cut it.</param>
    /// <param name="walkInMinutes">The time from the car or bed until one is ready to work at the stand, 0 to 600 minutes.</param>
    /// <param name="shape">How the tide rises and falls. It matters for a table of printed turns.</param>
    /// <param name="leftOutCentimetres">By how much a sum of constituents may be too low because constituents were left out, 0 to 250.</param>
    public CoastPlace(string name, string datumText, GeoPosition position, LocalTime offset, TideSource tide, PathPoint[] path, int walkInMinutes, TideShape shape, int leftOutCentimetres)
    {
        Name = name;
        DatumText = datumText;
        Position = position;
        Offset = offset;
        Tide = tide;
        _path = path;
        WalkInMinutes = Elementary.Clamp(walkInMinutes, 0, 600);
        Shape = shape;
        LeftOutCentimetres = Elementary.Clamp(leftOutCentimetres, 0, TideAllowance.MostLeftOutCentimetres);
    }

    /// <summary>Its name.</summary>
    public string Name { get; }

    /// <summary>The datum from which heights are measured, in words.</summary>
    public string DatumText { get; }

    /// <summary>Where it is.</summary>
    public GeoPosition Position { get; }

    /// <summary>Its local time.</summary>
    public LocalTime Offset { get; }

    /// <summary>Its tide.</summary>
    public TideSource Tide { get; }

    /// <summary>The time from the car or bed until one is ready to work at the stand, minutes.</summary>
    public int WalkInMinutes { get; }

    /// <summary>How the tide rises and falls, as a person has said.</summary>
    public TideShape Shape { get; }

    /// <summary>By how much a sum of constituents may be too low because constituents were left out, centimetres.</summary>
    public int LeftOutCentimetres { get; }

    /// <summary>The minutes that are taken off every leave-by time; see <see cref="TideAllowance"/>.</summary>
    public int AllowanceMinutes => TideAllowance.Minutes(Tide, Shape);

    /// <summary>The centimetres that are taken off every flood height; see <see cref="TideAllowance"/>.</summary>
    public int AllowanceCentimetres => TideAllowance.Centimetres(Tide, LeftOutCentimetres);

    /// <summary>How many low points the way back has.</summary>
    public int PathCount => _path.Length;

    /// <summary>A low point of the way back.</summary>
    public PathPoint PathPoint(int index) => _path[index];

    /// <summary>The predicted height at which a low point counts as cut, metres: its flood height less its margin, the allowance, and the largest error of a walker over the tide.</summary>
    public double CutMetres(int index) => _path[index].LimitMetres - AllowanceCentimetres / 100.0 - Tide.WalkErrorMetres;

    /// <summary>How many minutes before a predicted cut one must set off: the walk plus the allowance.</summary>
    public int BackMinutes(int index) => _path[index].WalkMinutes + AllowanceMinutes;

    /// <summary>The longest walk to a low point, minutes.</summary>
    public int LongestWalkMinutes
    {
        get
        {
            int longest = 0;
            for (int i = 0; i < _path.Length; i++)
                if (_path[i].WalkMinutes > longest) longest = _path[i].WalkMinutes;
            return longest;
        }
    }

    /// <summary>The lowest predicted height at which a low point counts as cut, metres; 1000 when there is no low point.</summary>
    public double LowestCutMetres
    {
        get
        {
            double lowest = 1000;
            for (int i = 0; i < _path.Length; i++) lowest = Elementary.Min(lowest, CutMetres(i));
            return lowest;
        }
    }
}

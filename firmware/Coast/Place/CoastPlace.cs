using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Place;

/// <summary>A low point of the path between the stand and high ground: where the sea cuts it.</summary>
public sealed class PathPoint
{
    /// <summary>A low point.</summary>
    /// <param name="name">What it is called, up to 16 characters.</param>
    /// <param name="floodMetres">Height of tide at which it floods, metres above the place's datum.</param>
    /// <param name="walkMinutes">Minutes to walk from the stand until it is behind you, 0 to 600; loaded, in the dark.</param>
    /// <param name="marginMetres">Height taken off for waves and doubt, 0 or above, metres.</param>
    public PathPoint(string name, double floodMetres, int walkMinutes, double marginMetres)
    {
        Name = name;
        FloodMetres = floodMetres;
        WalkMinutes = Elementary.Clamp(walkMinutes, 0, 600);
        MarginMetres = Elementary.Max(marginMetres, 0.0);
    }

    /// <summary>What it is called.</summary>
    public string Name { get; }

    /// <summary>Height of tide at which it floods, metres above the place's datum.</summary>
    public double FloodMetres { get; }

    /// <summary>Minutes to walk from the stand until it is behind you.</summary>
    public int WalkMinutes { get; }

    /// <summary>Height taken off for waves and doubt, metres.</summary>
    public double MarginMetres { get; }

    /// <summary>Height of tide at which the point counts as cut: flood height less margin, metres.</summary>
    public double LimitMetres => FloodMetres - MarginMetres;
}

/// <summary>A place on the coast to stand and photograph.</summary>
public sealed class CoastPlace
{
    private readonly PathPoint[] _path;

    /// <summary>A place.</summary>
    /// <param name="name">What it is called, up to 16 characters.</param>
    /// <param name="datumText">What heights are counted from, in words, such as chart datum.</param>
    /// <param name="position">Where it is.</param>
    /// <param name="offset">Local time.</param>
    /// <param name="tide">Its tide.</param>
    /// <param name="path">The low points of the way back; none where the sea cannot cut it.</param>
    /// <param name="walkInMinutes">Minutes from where the car or bed is to the stand, ready to work, 0 to 600.</param>
    public CoastPlace(string name, string datumText, GeoPosition position, LocalTime offset, TideSource tide, PathPoint[] path, int walkInMinutes)
        : this(name, datumText, position, offset, tide, path, walkInMinutes, TideShape.Any, 0)
    {
    }

    /// <summary>A place of whose tide more is known.</summary>
    /// <param name="name">What it is called, up to 16 characters.</param>
    /// <param name="datumText">What heights are counted from, in words, such as chart datum.</param>
    /// <param name="position">Where it is.</param>
    /// <param name="offset">Local time.</param>
    /// <param name="tide">Its tide.</param>
    /// <param name="path">The low points of the way back; none where the sea cannot cut it.</param>
    /// <param name="walkInMinutes">Minutes from where the car or bed is to the stand, ready to work, 0 to 600.</param>
    /// <param name="shape">How the tide rises and falls, which matters for printed turns.</param>
    /// <param name="leftOutCentimetres">By how much a sum may fall short because terms were left out, 0 to 250.</param>
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

    /// <summary>What it is called.</summary>
    public string Name { get; }

    /// <summary>What heights are counted from, in words.</summary>
    public string DatumText { get; }

    /// <summary>Where it is.</summary>
    public GeoPosition Position { get; }

    /// <summary>Local time.</summary>
    public LocalTime Offset { get; }

    /// <summary>Its tide.</summary>
    public TideSource Tide { get; }

    /// <summary>Minutes from where the car or bed is to the stand, ready to work.</summary>
    public int WalkInMinutes { get; }

    /// <summary>How the tide is said to rise and fall.</summary>
    public TideShape Shape { get; }

    /// <summary>By how much a sum may fall short because terms were left out, centimetres.</summary>
    public int LeftOutCentimetres { get; }

    /// <summary>Minutes taken off every leave-by time, see <see cref="TideAllowance"/>.</summary>
    public int AllowanceMinutes => TideAllowance.Minutes(Tide, Shape);

    /// <summary>Centimetres taken off every flood height, see <see cref="TideAllowance"/>.</summary>
    public int AllowanceCentimetres => TideAllowance.Centimetres(Tide, LeftOutCentimetres);

    /// <summary>How many low points the way back has.</summary>
    public int PathCount => _path.Length;

    /// <summary>A low point of the way back.</summary>
    public PathPoint PathPoint(int index) => _path[index];

    /// <summary>Predicted height at which a low point counts as cut, metres: its flood height less its margin, the allowance, and what a walk along the tide may be wrong by.</summary>
    public double CutMetres(int index) => _path[index].LimitMetres - AllowanceCentimetres / 100.0 - Tide.WalkErrorMetres;

    /// <summary>Minutes before a predicted cut at which to set off: the walk and the allowance.</summary>
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

    /// <summary>The predicted height at which the first low point counts as cut, metres; 1000 without any.</summary>
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

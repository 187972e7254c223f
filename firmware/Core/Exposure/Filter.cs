using System;

namespace Intervalometer.Core.Exposure;

/// <summary>One filter: its printed strength, its measured deviation from that, and whether it is on the lens.</summary>
public sealed class Filter
{
    /// <summary>Longest name, in characters.</summary>
    public const int LongestName = 10;

    /// <summary>Largest strength in hundredths of a stop: 20 stops.</summary>
    public const int MaxStopsHundredths = 2000;

    /// <summary>Largest strength in hundredths of density: 6.0 (19.9 stops).</summary>
    public const int MaxDensityHundredths = 600;

    /// <summary>Largest filter factor: one million (19.9 stops).</summary>
    public const int MaxFactor = 1000000;

    /// <summary>Largest measured deviation from the printed strength, either way, in tenths of a stop: 2 stops.</summary>
    public const int MaxTrimTenths = 20;

    /// <summary>The light that a polariser takes at most as it is turned, in tenths of a stop: about 2 stops (common practice, no source).</summary>
    public const int MaxEffectTenths = 20;

    private int _trimTenths;
    private int _effectTenths;
    private int _sharePercent;

    /// <summary>Creates a filter that takes nothing and is off. Throws when the name is not 1 to 10 printable ASCII characters.</summary>
    public Filter(string name, FilterKind kind)
    {
        CheckName(name);
        Name = name;
        Kind = kind;
        if (kind == FilterKind.Polariser) _effectTenths = MaxEffectTenths;
    }

    /// <summary>1 to 10 printable ASCII characters without a space at either end. Only the kit renames a filter, so that names stay unique.</summary>
    public string Name { get; internal set; }

    /// <summary>Its kind.</summary>
    public FilterKind Kind { get; set; }

    /// <summary>The scale in which the strength was given.</summary>
    public FilterScale Scale { get; private set; }

    /// <summary>The strength as it was given: hundredths of a stop, hundredths of density, or the whole factor, depending on <see cref="Scale"/>.</summary>
    public int Figure { get; private set; }

    /// <summary>True while it is on the lens.</summary>
    public bool On { get; set; }

    /// <summary>Measured difference from the printed strength in tenths of a stop, -20 to 20; positive is darker.</summary>
    public int TrimTenths
    {
        get => _trimTenths;
        set
        {
            Within(value, -MaxTrimTenths, MaxTrimTenths, "trim in tenths of a stop");
            _trimTenths = value;
        }
    }

    /// <summary>The light that a polariser takes in its present position, in tenths of a stop, 0 to 20. It counts for a polariser only.</summary>
    public int EffectTenths
    {
        get => _effectTenths;
        set
        {
            Within(value, 0, MaxEffectTenths, "polariser effect in tenths of a stop");
            _effectTenths = value;
        }
    }

    /// <summary>
    /// How much of the metered part of the frame a graduated filter covers, in per cent: 0 (the foreground was metered),
    /// 50 or 100. It counts for graduated kinds only.
    /// </summary>
    public int SharePercent
    {
        get => _sharePercent;
        set
        {
            if (value != 0 && value != 50 && value != 100)
                throw new ArgumentException("Filter " + Name + ": share " + value.ToString() + " is not 0, 50 or 100. Use one of these.");
            _sharePercent = value;
        }
    }

    /// <summary>The printed strength in stops, 0 to 20, before measured deviation, polariser position and share.</summary>
    public Stops Strength => Scale switch
    {
        FilterScale.Density => Stops.FromDensity(Figure / 100.0),
        FilterScale.Factor => Stops.FromFactor(Figure),
        _ => new Stops(Figure / 100.0),
    };

    /// <summary>
    /// The light that the filter takes from the metered part of the frame while it is on, in stops: its strength and measured deviation,
    /// plus a polariser's effect, times a graduated filter's share. It is never below zero, because no filter adds light.
    /// </summary>
    public Stops EffectiveStops
    {
        get
        {
            double tenths = _trimTenths;
            if (Kind == FilterKind.Polariser) tenths += _effectTenths;
            double stops = Strength.Value + tenths / 10.0;
            if (FilterKinds.IsGrad(Kind)) stops = stops * _sharePercent / 100.0;
            return new Stops(stops > 0 ? stops : 0);
        }
    }

    /// <summary>Sets the printed strength. Throws when the figure is outside the range of its scale.</summary>
    /// <param name="scale">The unit of the figure.</param>
    /// <param name="figure">Hundredths of a stop 0 to 2000, hundredths of density 0 to 600, or factor 1 to 1000000.</param>
    public void SetStrength(FilterScale scale, int figure)
    {
        if (scale == FilterScale.Density) Within(figure, 0, MaxDensityHundredths, "density in hundredths");
        else if (scale == FilterScale.Factor) Within(figure, 1, MaxFactor, "factor");
        else Within(figure, 0, MaxStopsHundredths, "strength in hundredths of a stop");
        Scale = scale;
        Figure = figure;
    }

    /// <summary>Throws an exception that says what is wrong with the name, or returns when it is allowed.</summary>
    internal static void CheckName(string name)
    {
        if (name.Length < 1 || name.Length > LongestName)
            throw new ArgumentException("Filter name of " + name.Length.ToString() + " characters: use 1 to 10.");
        for (int i = 0; i < name.Length; i++)
        {
            if (name[i] < ' ' || name[i] > '~')
                throw new ArgumentException("Filter name, character " + (i + 1).ToString() + ": use plain letters, figures and signs.");
        }
        if (name[0] == ' ' || name[name.Length - 1] == ' ')
            throw new ArgumentException("Filter name '" + name + "': leave no space at either end.");
    }

    private void Within(int value, int low, int high, string what)
    {
        if (value < low || value > high)
            throw new ArgumentException("Filter " + Name + ": " + what + " " + value.ToString() + " is outside " + low.ToString() + " to " + high.ToString() + ". Use a value inside.");
    }
}

using System;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;

namespace Intervalometer.Screens.Cards;

/// <summary>One filter of the kit: strength, trim, how much it counts, its name, and taking it out of the kit.</summary>
public sealed class FilterCard : Card
{
    private const string Letters = " ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.+-/";

    private const int FieldOn = 0;
    private const int FieldKind = 1;
    private const int FieldScale = 2;
    private const int FieldStrength = 3;
    private const int FieldTrim = 4;
    private const int FieldShare = 5;
    private const int FieldRemove = 6;
    private const int FieldName = 7;

    private readonly BoxSettings _settings;
    private int _index;

    /// <summary>Creates the card for the first filter.</summary>
    public FilterCard(BoxSettings settings)
    {
        _settings = settings;
    }

    /// <summary>True once the filter has been taken out of the kit: the card has nothing to show.</summary>
    public bool Gone { get; private set; }

    /// <inheritdoc/>
    public override string Name => Gone ? "FILTER" : Filter.Name;

    /// <inheritdoc/>
    public override int FieldCount => FieldName + Core.Exposure.Filter.LongestName;

    private Filter Filter => _settings.Kit[_index];

    /// <summary>Shows another filter of the kit.</summary>
    public void Show(int index)
    {
        _index = index;
        Gone = false;
    }

    /// <inheritdoc/>
    public override string Label(int field)
    {
        return field switch
        {
            FieldOn => "On the lens",
            FieldKind => "Kind",
            FieldScale => "Marked in",
            FieldStrength => "Marked strength",
            FieldTrim => "Measured trim",
            FieldShare => Filter.Kind == FilterKind.Polariser ? "Effect as turned" : "Counts to metered part",
            FieldRemove => "Take out of the kit",
            _ => "Name, letter " + (field - FieldName + 1).ToString(),
        };
    }

    /// <inheritdoc/>
    public override string Value(int field)
    {
        Filter filter = Filter;
        return field switch
        {
            FieldOn => OnOff(filter.On),
            FieldKind => FilterKinds.Words(filter.Kind),
            FieldScale => filter.Scale switch { FilterScale.Density => "density", FilterScale.Stops => "stops", _ => "factor" },
            FieldStrength => StrengthText(filter),
            FieldTrim => Tenths(filter.TrimTenths, true),
            FieldShare => filter.Kind == FilterKind.Polariser ? Tenths(filter.EffectTenths, false) : filter.SharePercent.ToString() + " %",
            FieldRemove => "press up",
            _ => LetterAt(filter, field - FieldName),
        };
    }

    /// <inheritdoc/>
    public override string Note(int field)
    {
        Filter filter = Filter;
        return field switch
        {
            FieldStrength => "is " + ExposureText.StopsOf(filter.Strength) + " stops",
            FieldTrim => "+ is darker than marked",
            FieldShare => filter.Kind == FilterKind.Polariser ? "full effect about 2 stops" : "0 % for the foreground",
            FieldRemove => "cannot be undone",
            _ => field >= FieldName ? "now: " + filter.Name : "counts " + ExposureText.StopsOf(filter.EffectiveStops) + " stops",
        };
    }

    /// <inheritdoc/>
    public override void Change(int field, int direction, int repeats)
    {
        Filter filter = Filter;
        if (field == FieldOn) filter.On = !filter.On;
        else if (field == FieldKind) filter.Kind = (FilterKind)Elementary.Clamp((int)filter.Kind + direction, 0, FilterKinds.Count - 1);
        else if (field == FieldScale) ChangeScale(filter, direction);
        else if (field == FieldStrength) ChangeStrength(filter, direction, repeats);
        else if (field == FieldTrim) filter.TrimTenths = Elementary.Clamp(filter.TrimTenths + direction, -Core.Exposure.Filter.MaxTrimTenths, Core.Exposure.Filter.MaxTrimTenths);
        else if (field == FieldShare) ChangeShare(filter, direction);
        else if (field == FieldRemove) TakeOut(direction, repeats);
        else ChangeLetter(filter, field - FieldName, direction);
        _settings.Solve();
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        Filter filter = Filter;
        frame.Text(0, 12, FilterKinds.Words(filter.Kind), Font.Medium);
        frame.TextRight(128, 12, OnOff(filter.On), Font.Medium);
        string strength = StrengthText(filter) + " = " + ExposureText.StopsOf(filter.Strength) + " st";
        frame.Text(0, 27, CardPainter.Shorter("marked " + strength, strength), Font.Small);
        frame.Text(0, 37, "trim " + Tenths(filter.TrimTenths, true) + "  counts " + ExposureText.StopsOf(filter.EffectiveStops), Font.Small);
        frame.Text(0, 56, "Select to change", Font.Small);
    }

    private static string StrengthText(Filter filter) => filter.Scale switch
    {
        FilterScale.Density => (filter.Figure / 100.0).ToString("F2"),
        FilterScale.Stops => (filter.Figure / 100.0).ToString("F2") + " st",
        _ => filter.Figure.ToString() + "x",
    };

    private static string Tenths(int tenths, bool signed)
    {
        string text = (tenths / 10.0).ToString("F1") + " st";
        return signed && tenths > 0 ? "+" + text : text;
    }

    // Keeps the strength when the figure changes from one scale to another, as near as the new figure can say it.
    private static void ChangeScale(Filter filter, int direction)
    {
        int scale = Elementary.Clamp((int)filter.Scale + direction, 0, 2);
        if (scale == (int)filter.Scale) return;
        Stops strength = filter.Strength;
        FilterScale wanted = (FilterScale)scale;
        double figure = wanted switch
        {
            FilterScale.Density => strength.Density * 100,
            FilterScale.Stops => strength.Value * 100,
            _ => strength.Factor,
        };
        int top = wanted switch
        {
            FilterScale.Density => Core.Exposure.Filter.MaxDensityHundredths,
            FilterScale.Stops => Core.Exposure.Filter.MaxStopsHundredths,
            _ => Core.Exposure.Filter.MaxFactor,
        };
        int whole = (int)Elementary.Round(figure);
        filter.SetStrength(wanted, whole > top ? top : whole);
    }

    private static void ChangeStrength(Filter filter, int direction, int repeats)
    {
        if (filter.Scale == FilterScale.Factor)
        {
            int factor = direction > 0 ? filter.Figure * 2 : filter.Figure / 2;
            filter.SetStrength(FilterScale.Factor, Elementary.Clamp(factor, 1, Core.Exposure.Filter.MaxFactor));
            return;
        }
        bool density = filter.Scale == FilterScale.Density;
        int step = density ? (repeats < 10 ? 5 : 30) : (repeats < 10 ? 10 : 100);
        int top = density ? Core.Exposure.Filter.MaxDensityHundredths : Core.Exposure.Filter.MaxStopsHundredths;
        filter.SetStrength(filter.Scale, Moved(filter.Figure, direction, step, 0, top));
    }

    private static void ChangeShare(Filter filter, int direction)
    {
        if (filter.Kind == FilterKind.Polariser)
        {
            filter.EffectTenths = Elementary.Clamp(filter.EffectTenths + direction, 0, Core.Exposure.Filter.MaxEffectTenths);
        }
        else if (FilterKinds.IsGrad(filter.Kind))
        {
            filter.SharePercent = Elementary.Clamp(filter.SharePercent + 50 * direction, 0, 100);
        }
    }

    private void TakeOut(int direction, int repeats)
    {
        if (direction < 0 || repeats > 0 || Gone) return;
        _settings.Kit.RemoveAt(_index);
        Gone = true;
    }

    private static string LetterAt(Filter filter, int at)
    {
        char letter = at < filter.Name.Length ? filter.Name[at] : ' ';
        return letter == ' ' ? "space" : letter.ToString();
    }

    // A name that the kit refuses (empty, or taken) is left as it was: the next letter may make it good.
    private void ChangeLetter(Filter filter, int at, int direction)
    {
        string name = filter.Name;
        while (name.Length <= at) name += " ";
        int letter = Letters.IndexOf(name[at]);
        for (int tries = 0; tries < Letters.Length; tries++)
        {
            letter += direction;
            if (letter < 0) letter = Letters.Length - 1;
            if (letter >= Letters.Length) letter = 0;
            string candidate = (name.Substring(0, at) + Letters.Substring(letter, 1) + name.Substring(at + 1)).TrimEnd(' ');
            if (candidate.Length == 0 || candidate[0] == ' ') continue;
            int other = _settings.Kit.Find(candidate);
            if (other >= 0 && other != _index) continue;
            _settings.Kit.Rename(_index, candidate);
            return;
        }
    }
}

using System;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>One filter of the kit: its strength, the measured deviation from that, how much it counts, its name, and taking it out of the kit.</summary>
public sealed class FilterCard : Card
{
    private const int StrengthY = 27;
    private const int TrimY = 37;

    private readonly BoxSettings _settings;
    private int _index;
    private bool _comesOut;

    /// <summary>Creates the card for the first filter.</summary>
    public FilterCard(BoxSettings settings)
    {
        _settings = settings;
    }

    /// <inheritdoc/>
    public override string Name => Filter.Name;

    private Filter Filter => _settings.Kit[_index];

    /// <summary>Shows another filter of the kit.</summary>
    public void Show(int index)
    {
        _index = index;
        _comesOut = false;
    }

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        Say(fields);
        if (fields.Changes) _settings.Solve();
    }

    private void Say(FieldList fields)
    {
        Filter filter = Filter;
        bool polariser = filter.Kind == FilterKind.Polariser;
        if (fields.Is("On the lens"))
        {
            filter.On = fields.Switch(filter.On);
            if (!fields.Changes) fields.Note = Counts(filter);
        }
        if (fields.Is("Kind"))
        {
            filter.Kind = (FilterKind)fields.Moved((int)filter.Kind, 1, 0, FilterKinds.Count - 1);
            if (fields.Changes) return;
            fields.Value = FilterKinds.Words(filter.Kind);
            fields.Note = Counts(filter);
        }
        if (fields.Is("Printed in"))
        {
            if (fields.Changes)
            {
                ChangeScale(filter, fields.Direction);
                return;
            }
            fields.Value = filter.Scale switch { FilterScale.Density => "density", FilterScale.Stops => "stops", _ => "factor" };
            fields.Note = Counts(filter);
        }
        if (fields.Is("Printed strength"))
        {
            if (fields.Changes)
            {
                ChangeStrength(filter, fields);
                return;
            }
            fields.Value = StrengthText(filter);
            fields.Note = "is " + ExposureText.StopsOf(filter.Strength) + " stops";
        }
        if (fields.Is("Measured trim"))
        {
            filter.TrimTenths = fields.Moved(filter.TrimTenths, 1, -Core.Exposure.Filter.MaxTrimTenths, Core.Exposure.Filter.MaxTrimTenths);
            if (fields.Changes) return;
            fields.Value = Tenths(filter.TrimTenths, true);
            fields.Note = "+ is darker than printed";
        }
        if ((polariser || FilterKinds.IsGrad(filter.Kind)) && fields.Is(polariser ? "Effect as turned" : "Counts to metered part")) Share(filter, polariser, fields);
        if (fields.Is("Take out of the kit"))
        {
            if (fields.Changes) _comesOut = fields.Direction > 0 && (fields.Repeats == 0 || _comesOut);
            fields.Value = _comesOut ? "comes out" : "stays in";
            fields.AskTwice = !_comesOut;
            fields.Note = _comesOut ? "when you leave; Down keeps" : "";
        }
        if (fields.IsAmong(Core.Exposure.Filter.LongestName))
        {
            if (fields.Changes)
            {
                ChangeLetter(filter, fields.Part, fields.Direction);
                return;
            }
            NameLetters.Tell(fields, filter.Name);
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        Filter filter = Filter;
        frame.Text(LeftX, HeadlineY, FilterKinds.Words(filter.Kind), Font.Medium);
        frame.TextRight(RightX, HeadlineY, OnOff(filter.On), Font.Medium);
        string strength = StrengthText(filter) + " = " + ExposureText.StopsOf(filter.Strength) + " st";
        frame.Text(LeftX, StrengthY, CardPainter.Shorter("printed " + strength, strength), Font.Small);
        frame.Text(LeftX, TrimY, "trim " + Tenths(filter.TrimTenths, true) + "  counts " + ExposureText.StopsOf(filter.EffectiveStops), Font.Small);
        frame.Text(LeftX, HintY, "Select to change", Font.Small);
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

    // When the scale changes, the strength stays the same as nearly as the new figure can express it.
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

    private static void ChangeStrength(Filter filter, FieldList fields)
    {
        if (filter.Scale == FilterScale.Factor)
        {
            int factor = fields.Direction > 0 ? filter.Figure * 2 : filter.Figure / 2;
            filter.SetStrength(FilterScale.Factor, Elementary.Clamp(factor, 1, Core.Exposure.Filter.MaxFactor));
            return;
        }
        bool density = filter.Scale == FilterScale.Density;
        int step = density ? (fields.Repeats < 10 ? 5 : 30) : (fields.Repeats < 10 ? 10 : 100);
        int top = density ? Core.Exposure.Filter.MaxDensityHundredths : Core.Exposure.Filter.MaxStopsHundredths;
        filter.SetStrength(filter.Scale, fields.Moved(filter.Figure, step, 0, top));
    }

    // How much of the filter counts: for a polariser its present effect, for a grad how much of the metered part it covers.
    private static void Share(Filter filter, bool polariser, FieldList fields)
    {
        if (polariser)
        {
            filter.EffectTenths = fields.Moved(filter.EffectTenths, 1, 0, Core.Exposure.Filter.MaxEffectTenths);
            if (fields.Changes) return;
            fields.Value = Tenths(filter.EffectTenths, false);
            fields.Note = "full effect about 2 stops";
            return;
        }
        filter.SharePercent = fields.Moved(filter.SharePercent, 50, 0, 100);
        fields.Value = filter.SharePercent.ToString() + " %";
        fields.Note = "0 % for the foreground";
    }

    private static string Counts(Filter filter) => "counts " + ExposureText.StopsOf(filter.EffectiveStops) + " stops";

    /// <summary>Leaves the card: a filter that was chosen to leave the kit leaves it now.</summary>
    public void Leave()
    {
        if (!_comesOut) return;
        _comesOut = false;
        _settings.Kit.RemoveAt(_index);
        _settings.Solve();
    }

    // A name that the kit refuses, because it is empty or taken, is skipped, and the letter after it is tried.
    private void ChangeLetter(Filter filter, int at, int direction)
    {
        for (int tries = 1; tries <= NameLetters.All.Length; tries++)
        {
            string candidate = NameLetters.Moved(filter.Name, at, tries * direction);
            if (candidate.Length == 0 || candidate[0] == ' ') continue;
            int other = _settings.Kit.Find(candidate);
            if (other >= 0 && other != _index) continue;
            _settings.Kit.Rename(_index, candidate);
            return;
        }
    }
}

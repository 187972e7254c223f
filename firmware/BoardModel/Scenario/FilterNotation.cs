using System.Globalization;
using System.Text.RegularExpressions;
using Intervalometer.Core.Exposure;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>
/// Reads a filter as it is printed on the glass or its box: a density with its point ("ND 0.9"), a factor as a whole number
/// ("ND8", "ND 1000"), stops in words ("10 stops"), a graduated filter by density and edge ("GRAD 0.9R": H hard, S soft,
/// R reverse), a polariser with the stops it takes as turned ("POL 1.5").
/// </summary>
public static partial class FilterNotation
{
    /// <summary>The forms it reads, for messages and help.</summary>
    public const string Forms = "\"ND 0.9\" (density), \"ND8\" (factor), \"10 stops\", \"GRAD 0.9H\" (H, S or R), \"POL 1.5\"";

    /// <summary>Reads one filter and puts it on the lens. False, with one line that says why, when the text is not a filter.</summary>
    public static bool TryParse(string text, out Filter filter, out string problem)
    {
        filter = new Filter("-", FilterKind.Nd);
        problem = "";
        string bare = text.Trim();
        try
        {
            Match match = Shape().Match(bare);
            if (!match.Success)
            {
                problem = $"Unknown filter \"{OneLine.Of(text)}\"; write {Forms}.";
                return false;
            }
            filter = match.Groups["pol"].Success ? Polariser(match)
                : match.Groups["grad"].Success ? Grad(match)
                : match.Groups["stops"].Success ? Named($"{match.Groups["stops"].Value} ST", FilterKind.Nd, FilterScale.Stops, Hundredths(match.Groups["stops"].Value))
                : Nd(match.Groups["nd"].Value);
            filter.On = true;
            return true;
        }
        catch (ArgumentException e)
        {
            problem = $"Filter \"{OneLine.Of(text)}\": {e.Message}";
            return false;
        }
        catch (OverflowException)
        {
            problem = $"Filter \"{OneLine.Of(text)}\": the figure is too large; write {Forms}.";
            return false;
        }
    }

    private static Filter Nd(string figure) => figure.Contains('.')
        ? Named("ND " + figure, FilterKind.Nd, FilterScale.Density, Hundredths(figure))
        : Named("ND" + figure, FilterKind.Nd, FilterScale.Factor, int.Parse(figure, CultureInfo.InvariantCulture));

    private static Filter Grad(Match match)
    {
        FilterKind kind = match.Groups["edge"].Value.ToUpperInvariant() switch
        {
            "S" => FilterKind.SoftGrad,
            "R" => FilterKind.ReverseGrad,
            _ => FilterKind.HardGrad,
        };
        string figure = match.Groups["grad"].Value;
        return Named("GRAD " + figure + match.Groups["edge"].Value.ToUpperInvariant(), kind, FilterScale.Density, Hundredths(figure));
    }

    private static Filter Polariser(Match match)
    {
        var filter = new Filter("POL", FilterKind.Polariser) { EffectTenths = Filter.MaxEffectTenths };
        string figure = match.Groups["effect"].Value;
        if (figure.Length > 0) filter.EffectTenths = (int)Math.Round(double.Parse(figure, CultureInfo.InvariantCulture) * 10);
        return filter;
    }

    private static Filter Named(string name, FilterKind kind, FilterScale scale, int figure)
    {
        var filter = new Filter(name, kind);
        filter.SetStrength(scale, figure);
        return filter;
    }

    private static int Hundredths(string figure) => checked((int)Math.Round(double.Parse(figure, CultureInfo.InvariantCulture) * 100));

    [GeneratedRegex(@"^(?:ND\s*(?<nd>[0-9]+(?:\.[0-9]+)?)|(?<stops>[0-9]+(?:\.[0-9]+)?)\s*(?:stops?|st)|GRAD\s*(?<grad>[0-9]+\.[0-9]+)\s*(?<edge>[HSR]?)|(?<pol>POL)\s*(?<effect>[0-9]+(?:\.[0-9]+)?)?)$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Shape();
}

using System.Text;

namespace Intervalometer.Tests.Fuzz.Targets;

/// <summary>All targets by name. They are called from outside with types of the runtime only.</summary>
public static class TargetList
{
    /// <summary>The real targets; "planted" is beside them, to prove that the search finds something.</summary>
    public static readonly string[] Names = ["scene", "site", "filter", "store", "clock"];

    /// <summary>Gives one input to the target. Returns what the target did wrong, or null.</summary>
    public static Func<byte[], string?> Take(string target)
    {
        Action<byte[]> take = target switch
        {
            "scene" => TextTargets.Scene,
            "site" => TextTargets.Site,
            "filter" => TextTargets.Filter,
            "store" => StoreTarget.Take,
            "clock" => ClockTarget.Take,
            "planted" => Planted.Take,
            _ => throw new ArgumentException($"there is no target \"{target}\"; there are {string.Join(", ", Names)}, planted"),
        };
        return input =>
        {
            try
            {
                take(input);
                return null;
            }
            catch (BrokenRuleException e)
            {
                return e.Message;
            }
            catch (Exception e)
            {
                return $"{e.GetType().Name} in {Where(e)}: {e.Message.Split('\n')[0]}";
            }
        };
    }

    /// <summary>Inputs to begin with.</summary>
    public static byte[][] Seeds(string target) => target switch
    {
        "scene" => TextTargets.SceneSeeds(),
        "site" => TextTargets.SiteSeeds(),
        "filter" => [.. "ND 0.9|ND8|ND 1000|10 stops|6.6 st|GRAD 0.9R|GRAD 0.6|POL 1.5|POL".Split('|').Select(Encoding.UTF8.GetBytes)],
        "store" => StoreTarget.Seeds(),
        "clock" => ClockTarget.Seeds(),
        _ => [Encoding.ASCII.GetBytes("a quiet morning")],
    };

    /// <summary>Words that inputs are made of.</summary>
    public static byte[][] Words(string target) => [.. (target switch
    {
        "scene" => TextTargets.SceneWords,
        "site" => TextTargets.SiteWords,
        "filter" => "ND|GRAD|POL|stops|st|.|0.9|99999999999|1e9|H|S|R|\u0660\u0661|\u212A| ".Split('|'),
        _ => [],
    }).Select(Encoding.UTF8.GetBytes)];

    /// <summary>Longest input worth trying, bytes.</summary>
    public static int Longest(string target) => target switch
    {
        "store" => StoreTarget.Longest,
        "filter" => 60,
        "clock" => ClockTarget.Longest,
        "planted" => 24,
        _ => 6000,
    };

    // The place in the firmware where an error came up: the message may carry the input, the place does not.
    private static string Where(Exception e)
    {
        string? line = e.StackTrace?.Split('\n').FirstOrDefault(l => l.Contains("Intervalometer.", StringComparison.Ordinal));
        return line is null ? "no frame" : line.Trim().Split(" in ")[0];
    }
}

/// <summary>A target handled an input wrongly. The message says how, without the input.</summary>
public sealed class BrokenRuleException(string message) : Exception(message);

/// <summary>A parser with a fault behind four bytes in a row. Random inputs need four thousand million tries to find it, a search that is guided by branches some ten thousand.</summary>
public static class Planted
{
    /// <summary>Takes an input.</summary>
    public static void Take(byte[] input)
    {
        if (input.Length < 4 || input[0] != 'S') return;
        if (input[1] != 'E') return;
        if (input[2] != 'A') return;
        if (input[3] == '!') throw new InvalidOperationException("planted");
    }
}

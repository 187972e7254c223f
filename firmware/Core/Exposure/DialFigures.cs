namespace Intervalometer.Core.Exposure;

/// <summary>Reads the text that a person writes for a camera setting and finds it among the printed figures of the setting's dial.</summary>
internal static class DialFigures
{
    private const int LongestEcho = 12;

    /// <summary>Finds the figure that the text names.</summary>
    /// <param name="what">The name of the setting, used in the refusal.</param>
    /// <param name="examples">Forms that are accepted, suggested in the refusal.</param>
    /// <param name="prefix">Lower-case letters that may stand before the number: "f" (which a "/" may follow), "iso" or "".</param>
    /// <param name="suffix">The lower-case unit that may stand after the number: "s", or "" for none.</param>
    /// <param name="text">The text as given.</param>
    /// <param name="labels">The printed figures in the order of rising value.</param>
    /// <param name="position">The place of the figure in the list; 0 when the text is refused.</param>
    /// <param name="problem">Why the text is refused, with the figures nearby; empty when it is accepted.</param>
    internal static bool TryFind(string what, string examples, string prefix, string suffix, string? text, string[] labels, out int position, out string problem)
    {
        position = 0;
        string given = text ?? "";
        string bare = Bare(given.Trim().ToLower(), prefix, suffix);
        double wanted;
        if (!TryNumber(bare, out wanted))
        {
            problem = what + " '" + Echo(given) + "': not a value. Write " + examples + ".";
            return false;
        }
        string below = "";
        for (int i = 0; i < labels.Length; i++)
        {
            double figure;
            if (!TryNumber(labels[i], out figure)) continue;
            if (figure == wanted)
            {
                position = i;
                problem = "";
                return true;
            }
            if (figure > wanted)
            {
                problem = below.Length == 0
                    ? what + " '" + Echo(given) + "': below the scale. The smallest is " + labels[i] + "."
                    : what + " '" + Echo(given) + "': not a third-stop figure. Nearest: " + below + " or " + labels[i] + ".";
                return false;
            }
            below = labels[i];
        }
        problem = what + " '" + Echo(given) + "': above the scale. The largest is " + below + ".";
        return false;
    }

    /// <summary>Reads a number above zero of at most nine digits with at most one point, or 1 divided by such a number, as in "1/60".</summary>
    internal static bool TryNumber(string text, out double value)
    {
        value = 0;
        bool inverse = text.Length > 2 && text[0] == '1' && text[1] == '/';
        long digits = 0;
        long scale = 1;
        int count = 0;
        bool point = false;
        for (int i = inverse ? 2 : 0; i < text.Length; i++)
        {
            char c = text[i];
            if (c == '.')
            {
                if (point) return false;
                point = true;
                continue;
            }
            if (c < '0' || c > '9' || ++count > 9) return false;
            digits = digits * 10 + (c - '0');
            if (point) scale *= 10;
        }
        if (count == 0 || digits == 0) return false;
        double above = digits;
        double below = scale;
        // divisor: digits is not zero here and scale is a power of ten
        value = inverse ? below / above : above / below;
        return true;
    }

    private static string Bare(string text, string prefix, string suffix)
    {
        if (Begins(text, prefix)) text = text.Substring(prefix.Length).Trim();
        if (prefix == "f" && Begins(text, "/")) text = text.Substring(1).Trim();
        if (suffix.Length > 0 && text.Length > suffix.Length && text.Substring(text.Length - suffix.Length) == suffix)
            text = text.Substring(0, text.Length - suffix.Length).Trim();
        return text;
    }

    private static bool Begins(string text, string prefix) =>
        prefix.Length > 0 && text.Length > prefix.Length && text.Substring(0, prefix.Length) == prefix;

    private static string Echo(string text)
    {
        string echo = "";
        for (int i = 0; i < text.Length && i < LongestEcho; i++)
        {
            char c = text[i];
            echo += c < ' ' || c > '~' ? "?" : c.ToString();
        }
        return text.Length > LongestEcho ? echo + ".." : echo;
    }
}

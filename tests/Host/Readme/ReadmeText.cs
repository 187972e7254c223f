using System.Text.RegularExpressions;
using Intervalometer.Tests.Host.Architecture;

namespace Intervalometer.Tests.Host.Readme;

/// <summary>README as a person reads it, its commands, and the figures that stand in it.</summary>
internal static partial class ReadmeText
{
    /// <summary>The file as it lies there.</summary>
    public static string File { get; } = System.IO.File.ReadAllText(Repository.At("README.md")).ReplaceLineEndings("\n");

    /// <summary>The blocks between fences, in order.</summary>
    public static string[] Blocks { get; } = [.. Fence().Matches(File).Select(m => m.Groups[1].Value)];

    /// <summary>Every command of .NET, in a block or within a sentence.</summary>
    public static string[] Commands { get; } =
        [.. Blocks.Select(b => b.Trim()).Concat(InlineCode().Matches(Fence().Replace(File, "")).Select(m => m.Value.Trim('`'))).Where(c => c.StartsWith("dotnet ", StringComparison.Ordinal))];

    /// <summary>The prose on one line: without blocks, code, the targets of links and the numbers of lists.</summary>
    public static string Prose { get; } = ProseOf(File);

    /// <summary>The prose of a text.</summary>
    public static string ProseOf(string text)
    {
        text = InlineCode().Replace(Fence().Replace(text, ""), "");
        return Space().Replace(ListNumber().Replace(LinkTarget().Replace(text, "]"), ""), " ");
    }

    /// <summary>Every number that is left in a text, in digits or in words, with what stands around it.</summary>
    public static string[] Numbers(string text) =>
        [.. Number().Matches(text).Select(m => $"{m.Value}: ...{text[Math.Max(0, m.Index - 40)..Math.Min(text.Length, m.Index + m.Length + 40)]}...")];

    /// <summary>The same words with another figure in the place of the first one.</summary>
    public static string WithAnotherFigure(string words) => Number().Replace(words, m => char.IsAsciiDigit(m.Value[0]) ? (char)('0' + (m.Value[0] - '0' + 1) % 10) + m.Value[1..] : "umpteen", 1);

    [GeneratedRegex(@"^```\n(.*?)^```$", RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex Fence();

    [GeneratedRegex(@"`[^`\n]*`")]
    private static partial Regex InlineCode();

    [GeneratedRegex(@"\]\([^)]*\)")]
    private static partial Regex LinkTarget();

    [GeneratedRegex(@"^\d\. ", RegexOptions.Multiline)]
    private static partial Regex ListNumber();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Space();

    // A digit within a name, such as ESP32 or I2C, is no figure.
    [GeneratedRegex(@"(?<![A-Za-z0-9_.])\d[\d.,:/^-]*\d|(?<![A-Za-z0-9_.])\d|\b(?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|dozen|twenty|thirty|hundred)\b|\bhalf an?\b|\bquarter of\b", RegexOptions.IgnoreCase)]
    private static partial Regex Number();
}

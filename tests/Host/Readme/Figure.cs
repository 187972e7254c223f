using System.Globalization;
using System.Text.RegularExpressions;
using Intervalometer.Tests.Host.Architecture;

namespace Intervalometer.Tests.Host.Readme;

/// <summary>Words of README with a figure in them, as they must stand there.</summary>
/// <param name="Words">The words, with the figure put in from where it comes from.</param>
/// <param name="Source">Where it comes from; for a figure that no file and no command can give, why it stands as it is.</param>
internal sealed record Figure(string Words, string Source)
{
    private static readonly string[] Names = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen"];

    /// <summary>A whole number in words, up to thirteen, and twenty.</summary>
    public static string Count(double number) => Math.Round(number) == 20 ? "twenty" : Names[(int)Math.Round(number)];

    /// <summary>The same at the beginning of a sentence.</summary>
    public static string Counted(double number) => char.ToUpperInvariant(Count(number)[0]) + Count(number)[1..];

    /// <summary>Twelve is a dozen.</summary>
    public static string Dozen(int number) => number == 12 ? "a dozen" : Count(number);

    /// <summary>A time in words: half a second, five seconds.</summary>
    public static string Seconds(double seconds) => seconds switch { 0.25 => "a quarter of a second", 0.5 => "half a second", 1 => "a second", _ => Count(seconds) + " seconds" };

    /// <summary>A number with a point.</summary>
    public static string Plain(double number, string format = "0.###") => number.ToString(format, CultureInfo.InvariantCulture);

    /// <summary>What a pattern finds in a file of the repository: its first group.</summary>
    public static string Written(string file, string pattern)
    {
        Match found = Regex.Match(File.ReadAllText(Repository.At(file)), pattern);
        return found.Success ? found.Groups[1].Value : throw new InvalidOperationException($"{file} has nothing like {pattern}");
    }

    /// <summary>The value of a constant that a source file keeps to itself.</summary>
    public static double Constant(string file, string name) => double.Parse(Written(file, @"const \w+ " + name + @" = ([\d_.]+);").Replace("_", ""), CultureInfo.InvariantCulture);
}

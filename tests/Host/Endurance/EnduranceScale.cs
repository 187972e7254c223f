namespace Intervalometer.Tests.Host.Endurance;

/// <summary>How long the endurance tests run: the environment variable ENDURANCE multiplies every count.</summary>
internal static class EnduranceScale
{
    public const string Variable = "ENDURANCE";

    /// <summary>The scale in words. Every message carries it.</summary>
    public const string Hint = Variable + "=10 runs ten times as many";

    /// <summary>Reads a whole number of 1 or more. Anything else is an error and is not taken for 1.</summary>
    public static int Factor
    {
        get
        {
            string? text = Environment.GetEnvironmentVariable(Variable);
            if (string.IsNullOrEmpty(text)) return 1;
            if (int.TryParse(text, out int factor) && factor >= 1) return factor;
            throw new InvalidOperationException($"{Variable} is \"{text}\"; write a whole number from 1 on");
        }
    }

    public static long Of(long count) => count * Factor;
}

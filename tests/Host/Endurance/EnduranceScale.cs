namespace Intervalometer.Tests.Host.Endurance;

/// <summary>How long the endurance tests run: the environment variable ENDURANCE multiplies every count.</summary>
internal static class EnduranceScale
{
    public const string Variable = "ENDURANCE";

    /// <summary>Told in every message, so that nobody has to look for it.</summary>
    public const string Hint = Variable + "=10 runs ten times as many";

    /// <summary>A whole number from 1 on; anything else is an error and not a silent 1.</summary>
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

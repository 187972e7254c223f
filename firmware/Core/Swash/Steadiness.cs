namespace Intervalometer.Core.Swash;

/// <summary>How steadily the waves come, as an index and in plain words.</summary>
public static class Steadiness
{
    /// <summary>How many indices there are; they run from 0 (steadiest) to Count - 1.</summary>
    public const int Count = 5;

    /// <summary>The index for a learned rhythm.</summary>
    /// <param name="periodSeconds">Mean period, seconds.</param>
    /// <param name="spreadSeconds">Spread of one period, seconds.</param>
    /// <returns>0 very steady to 3 ragged, by spread over period (below 0.10, 0.20, 0.30, above); 4 when unknown.</returns>
    public static int Index(double periodSeconds, double spreadSeconds)
    {
        if (periodSeconds <= 0) return 4;
        double variation = spreadSeconds / periodSeconds;
        return variation < 0.10 ? 0 : variation < 0.20 ? 1 : variation < 0.30 ? 2 : 3;
    }

    /// <summary>An index in plain words.</summary>
    /// <param name="index">0 to <see cref="Count"/> - 1.</param>
    public static string Words(int index) => index switch
    {
        0 => "very steady",
        1 => "steady",
        2 => "uneven",
        3 => "ragged",
        _ => "not known yet",
    };
}

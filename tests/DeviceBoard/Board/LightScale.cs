namespace Intervalometer.Tests.DeviceBoard;

/// <summary>What the light sensor (VEML7700, data sheet 84286; application note 84323 of 2025 for the light of a count) makes of a word of ALS_CONF_0.</summary>
public static class LightScale
{
    private const int MostCounts = 0xFFFF;

    /// <summary>How long a measurement takes, ms; 0 for a time that the data sheet does not have.</summary>
    public static int IntegrationMs(int word) => ((word >> 6) & 15) switch
    {
        12 => 25,
        8 => 50,
        0 => 100,
        1 => 200,
        2 => 400,
        3 => 800,
        _ => 0,
    };

    /// <summary>The counts of a measurement. At gain 2 and 800 ms one count is 0.0042 lx; half the gain or half the time doubles that.</summary>
    /// <param name="milli">The light in thousandths of the lx that the counts stand for.</param>
    /// <param name="word">The word of ALS_CONF_0, with a time of the data sheet.</param>
    public static int Counts(long milli, int word)
    {
        int gain = (word >> 11) & 3;
        int coarser = (gain == 0 ? 2 : gain == 1 ? 1 : gain == 2 ? 16 : 8) * (800 / IntegrationMs(word));
        long counts = (milli * 10 + 21 * coarser) / (42 * coarser);
        return counts > MostCounts ? MostCounts : (int)counts;
    }
}

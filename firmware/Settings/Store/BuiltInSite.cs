using Intervalometer.Settings.Shore;

namespace Intervalometer.Settings.Store;

/// <summary>
/// A place that is part of the firmware, as the bytes of its two records, which were made on a PC. The box takes it over when its memory
/// holds no place, or an older one. From then on the place in the memory is used, with the changes that were made by buttons.
/// </summary>
public sealed class BuiltInSite
{
    private readonly byte[] _site;
    private readonly byte[] _tide;
    private readonly long _sum;

    /// <summary>Creates a place from its records.</summary>
    /// <param name="site">The record of the place.</param>
    /// <param name="tide">The record of its tide.</param>
    /// <param name="sum">The checksum over both; see <see cref="SumOf"/>.</param>
    public BuiltInSite(byte[] site, byte[] tide, long sum)
    {
        _site = site;
        _tide = tide;
        _sum = sum;
    }

    /// <summary>The CRC-32 over both records.</summary>
    public static long SumOf(byte[] site, byte[] tide)
    {
        uint state = Crc.Add32(Crc.Start32, site, 0, site.Length);
        uint sum = Crc.Finish32(Crc.Add32(state, tide, 0, tide.Length));
        return sum;
    }

    /// <summary>Takes the place and its tide over and leaves the switches as they are. Returns false and changes nothing when the bytes do not fit their checksum.</summary>
    public bool Use(ShoreSettings settings)
    {
        if (SumOf(_site, _tide) != _sum) return false;
        SiteRecord? site = SiteRecord.Take(new Bytes(_site, _site.Length));
        TideRecord? tide = TideRecord.Take(_tide, new Bytes(_tide, _tide.Length));
        if (site == null || tide == null || tide.Sum != site.TideSum) return false;
        site.UsePlace(settings);
        tide.Use(settings, true);
        return true;
    }
}

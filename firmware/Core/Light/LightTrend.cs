using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Light;

/// <summary>What the exposure of a frame in a series was taken from.</summary>
public enum SeriesLight
{
    /// <summary>From the plan: the frame does not follow the light.</summary>
    None = 0,

    /// <summary>From the light that the sensor saw.</summary>
    Sensor = 1,

    /// <summary>From the change under a clear sky since the last trusted reading.</summary>
    ClearSky = 2,

    /// <summary>From the frame before, because nothing was known of the light.</summary>
    Kept = 3,
}

/// <summary>Smooths the light for a series, and says what it will be a little later.</summary>
/// <remarks>
/// The level follows the readings, but by no more than <see cref="FastestStops"/> a second. A gull that takes a stop or two of the light for a
/// second therefore moves it by 0.03 stop, which nobody sees in a picture, and the edge of a cloud that takes one stop is spread over half a
/// minute. Twilight never changes faster than that limit, so the level has no lag in it. The trend is the mean change of the last minute; each
/// change counts in it for no more than <see cref="SteepestStops"/>, so that a cloud hardly bends it. The class has no clock and allocates nothing.
/// </remarks>
public sealed class LightTrend
{
    /// <summary>The most that the level moves in a second, stops: four times the steepest twilight (own choice).</summary>
    public const double FastestStops = 0.03;

    /// <summary>
    /// The steepest trend, stops a second. Under a clear sky the light changes by 1.65 stops a degree of the sun's altitude at most
    /// (<c>SkyLight</c>), and the sun moves 15 degrees an hour at most: 0.0069 stop a second.
    /// </summary>
    public const double SteepestStops = 0.008;

    /// <summary>The trend is not carried further ahead than this, seconds, because no one knows the clouds of later (own choice).</summary>
    public const double FurthestSeconds = 300;

    // The trend is the mean of the last minute, or of the time since metering while that is shorter. Two readings alone make none.
    private const double TrendSeconds = 60;
    private const double LeastTrendSeconds = 5;

    private double _stops;
    private double _knownSeconds;
    private long _atUs;

    /// <summary>True after the first reading.</summary>
    public bool Has { get; private set; }

    /// <summary>The moment up to which the level is known, µs.</summary>
    public long AtUs => _atUs;

    /// <summary>How the light changes, stops a second; positive when it grows.</summary>
    public double Slope { get; private set; }

    /// <summary>Forgets everything, because the light was metered again.</summary>
    public void Clear() => Has = false;

    /// <summary>Takes a trusted reading. One that is not later than what is known changes nothing.</summary>
    /// <param name="stops">The light against the light at metering, stops.</param>
    /// <param name="atUs">When, µs.</param>
    public void Take(double stops, long atUs)
    {
        if (!Has)
        {
            Has = true;
            _stops = stops;
            _atUs = atUs;
            Slope = 0;
            _knownSeconds = 0;
            return;
        }
        double seconds = (atUs - _atUs) / 1e6;
        if (seconds <= 0) return;
        double most = FastestStops * seconds;
        double moved = Elementary.Clamp(stops - _stops, -most, most);
        _stops += moved;
        _atUs = atUs;
        // divisor: the reading is later than the last.
        double slope = Elementary.Clamp(moved / seconds, -SteepestStops, SteepestStops);
        _knownSeconds = Elementary.Min(_knownSeconds + seconds, TrendSeconds);
        // divisor: the least time is above zero.
        Slope += (slope - Slope) * Elementary.Min(1, seconds / Elementary.Max(_knownSeconds, LeastTrendSeconds));
    }

    /// <summary>Carries the level on while no reading is trusted.</summary>
    /// <param name="slope">How the light is assumed to change, stops a second; 0 to leave it as it is.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public void Carry(double slope, long nowUs)
    {
        if (nowUs > _atUs)
        {
            _stops += slope * (nowUs - _atUs) / 1e6;
            _atUs = nowUs;
        }
        Slope = slope;
    }

    /// <summary>The light at a moment, in stops against the light at metering, with the trend carried on.</summary>
    /// <param name="atUs">When, µs.</param>
    public double At(long atUs) => _stops + Slope * Elementary.Clamp((atUs - _atUs) / 1e6, -FurthestSeconds, FurthestSeconds);
}

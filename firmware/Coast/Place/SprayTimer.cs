namespace Intervalometer.Coast.Place;

/// <summary>
/// Reminds the photographer to look for spray on the front of the lens: every 2 minutes by default (common practice, no source), and never
/// while a frame is open.
/// </summary>
public sealed class SprayTimer
{
    private readonly long _intervalUs;
    private long _wipedUs;

    /// <summary>Creates a timer with an interval of 10 to 3600 seconds; 0 or less turns the reminder off.</summary>
    public SprayTimer(int intervalSeconds, long nowUs)
    {
        if (intervalSeconds > 0 && intervalSeconds < 10) intervalSeconds = 10;
        if (intervalSeconds > 3600) intervalSeconds = 3600;
        _intervalUs = intervalSeconds * 1_000_000L;
        _wipedUs = nowUs;
    }

    /// <summary>The default interval, seconds.</summary>
    public const int DefaultSeconds = 120;

    /// <summary>True when it is time to look and no frame is open. A reminder that comes due during a frame waits for its end.</summary>
    public bool Due(long nowUs, bool frameOpen) => !frameOpen && LeftUs(nowUs) == 0;

    /// <summary>The time until one should look, µs; 0 when it is time, -1 when the reminder is off.</summary>
    public long LeftUs(long nowUs)
    {
        if (_intervalUs <= 0) return -1;
        long left = _wipedUs + _intervalUs - nowUs;
        return left < 0 ? 0 : left;
    }

    /// <summary>Notes that somebody has looked at the lens.</summary>
    public void Looked(long nowUs) => _wipedUs = nowUs;
}

namespace Intervalometer.Coast.Place;

/// <summary>
/// Reminds to look at the front of the lens for spray: every 2 minutes by default (common practice, no source), never while
/// a frame is open.
/// </summary>
public sealed class SprayTimer
{
    private readonly long _intervalUs;
    private long _wipedUs;

    /// <summary>A reminder every so many seconds, 10 to 3600; 0 or less turns it off.</summary>
    public SprayTimer(int intervalSeconds, long nowUs)
    {
        if (intervalSeconds > 0 && intervalSeconds < 10) intervalSeconds = 10;
        if (intervalSeconds > 3600) intervalSeconds = 3600;
        _intervalUs = intervalSeconds * 1_000_000L;
        _wipedUs = nowUs;
    }

    /// <summary>The default interval, seconds.</summary>
    public const int DefaultSeconds = 120;

    /// <summary>True when it is time to look and no frame is open. A reminder that falls into a frame waits for its end.</summary>
    public bool Due(long nowUs, bool frameOpen) => !frameOpen && LeftUs(nowUs) == 0;

    /// <summary>How long until it is time to look, µs; 0 when that has come, -1 when the reminder is off.</summary>
    public long LeftUs(long nowUs)
    {
        if (_intervalUs <= 0) return -1;
        long left = _wipedUs + _intervalUs - nowUs;
        return left < 0 ? 0 : left;
    }

    /// <summary>The lens was looked at.</summary>
    public void Looked(long nowUs) => _wipedUs = nowUs;
}

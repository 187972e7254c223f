using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Link;

/// <summary>What the marks have taught about the waves, and which way of firing follows from it. The release thread writes it and the panel thread reads it.</summary>
public sealed class SeaReport
{
    // Each way has one byte, which holds its percentage plus one; 0 means unknown.
    private int _percents;
    private bool _sound;
    private double _waves;
    private int _markCount;
    private long _lastMarkUs;
    private bool _ready;
    private double _periodSeconds;
    private double _spreadSeconds;
    private int _steadinessIndex;
    private double _backwashSeconds;
    private int _timedCount;
    private bool _doubtful;
    private int _recommended = -1;
    private double _bestDelaySeconds;
    private double _longestSeconds;
    private int _advisedMarks = -1;
    private double _advisedSeconds;

    /// <summary>How many marks were accepted.</summary>
    public int MarkCount => _markCount;

    /// <summary>Time of the last accepted mark, µs; 0 before the first.</summary>
    public long LastMarkUs => _lastMarkUs;

    /// <summary>True when there are enough marks for a forecast.</summary>
    public bool Ready => _ready;

    /// <summary>Mean period, seconds.</summary>
    public double PeriodSeconds => _periodSeconds;

    /// <summary>The spread (standard deviation) of one period, seconds.</summary>
    public double SpreadSeconds => _spreadSeconds;

    /// <summary>An index for <see cref="Steadiness.Words"/>.</summary>
    public int SteadinessIndex => _steadinessIndex;

    /// <summary>Mean length of the backwash, seconds.</summary>
    public double BackwashSeconds => _backwashSeconds;

    /// <summary>True when enough backwashes were timed to work out a chance.</summary>
    public bool Timed => _timedCount >= BackwashLengths.Needed;

    /// <summary>
    /// True while fewer backwashes were timed than are kept. Until then each one more makes the chance surer, so every mark is better held.
    /// </summary>
    public bool AsksForLengths => _timedCount < BackwashLengths.Kept;

    /// <summary>True while the marks contradict each other; see <see cref="WaveRhythm.Doubtful"/>.</summary>
    public bool Doubtful => _doubtful;

    /// <summary>The recommended way of firing; -1 while nothing is known.</summary>
    public int Recommended => _recommended;

    /// <summary>The best delay after the mark, seconds.</summary>
    public double BestDelaySeconds => _bestDelaySeconds;

    /// <summary>The longest exposure that fits on the backwash nine times in ten, seconds; 0 while no backwash was timed.</summary>
    public double LongestSeconds => _longestSeconds;

    /// <summary>How many marks there were when the advice was worked out; -1 before the first time.</summary>
    public int AdvisedMarks => _advisedMarks;

    /// <summary>The exposure for which the advice was worked out, seconds.</summary>
    public double AdvisedSeconds => _advisedSeconds;

    /// <summary>The chance of a way of firing, per cent; -1 when it is unknown.</summary>
    /// <param name="way">0 to <see cref="FiringAdvice.Count"/> - 1.</param>
    public int Percent(int way) => ((_percents >> (8 * way)) & 0xFF) - 1;

    /// <summary>The same as <see cref="WaveRhythm.Stale"/>.</summary>
    /// <param name="nowUs">Now, µs.</param>
    public bool Stale(long nowUs) => !_sound || nowUs - LastMarkUs > (long)(3e6 * PeriodSeconds);

    /// <summary>The same as <see cref="WaveRhythm.TryForecast"/>.</summary>
    public bool TryForecast(long nowUs, int wavesAhead, out long turnUs, out double spreadSeconds)
    {
        turnUs = 0;
        spreadSeconds = 0;
        if (!Ready || PeriodSeconds <= 0) return false;
        turnUs = TurnForecast.TurnUs(LastMarkUs, PeriodSeconds, nowUs, wavesAhead, out double index);
        spreadSeconds = TurnForecast.SpreadSeconds(SpreadSeconds, _waves, index);
        return true;
    }

    internal void Take(WaveRhythm rhythm)
    {
        _markCount = rhythm.MarkCount;
        _lastMarkUs = rhythm.LastMarkUs;
        _ready = rhythm.Ready;
        _periodSeconds = rhythm.PeriodSeconds;
        _spreadSeconds = rhythm.PeriodSpreadSeconds;
        _steadinessIndex = rhythm.SteadinessIndex;
        _backwashSeconds = rhythm.BackwashSeconds;
        _timedCount = rhythm.Lengths.Count;
        _doubtful = rhythm.Doubtful;
        _waves = rhythm.Waves;
        _sound = !rhythm.Stale(rhythm.LastMarkUs);
    }

    internal void Take(FiringAdvice advice, double seconds)
    {
        int percents = 0;
        for (int i = 0; i < FiringAdvice.Count; i++) percents |= (advice.Percent(i) + 1) << (8 * i);
        _percents = percents;
        _recommended = advice.Recommended;
        _bestDelaySeconds = advice.DelayAfterMarkSeconds;
        _longestSeconds = advice.LongestSeconds;
        _advisedSeconds = seconds;
        _advisedMarks = MarkCount;
    }
}

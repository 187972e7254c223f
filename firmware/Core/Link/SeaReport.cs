using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Link;

/// <summary>What the marks have taught, and which way of firing that speaks for. The release thread writes, the panel thread reads.</summary>
public sealed class SeaReport
{
    // A byte for each way: the percent and one, 0 for unknown.
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
    private bool _timed;
    private bool _doubtful;
    private int _recommended = -1;
    private double _bestDelaySeconds;
    private double _longestSeconds;
    private int _advisedMarks = -1;
    private double _advisedSeconds;

    /// <summary>Marks accepted.</summary>
    public int MarkCount => _markCount;

    /// <summary>Time of the last accepted mark, µs; 0 before the first.</summary>
    public long LastMarkUs => _lastMarkUs;

    /// <summary>Whether enough marks were seen to forecast.</summary>
    public bool Ready => _ready;

    /// <summary>Mean period, seconds.</summary>
    public double PeriodSeconds => _periodSeconds;

    /// <summary>Spread of one period, seconds.</summary>
    public double SpreadSeconds => _spreadSeconds;

    /// <summary>An index for <see cref="Steadiness.Words"/>.</summary>
    public int SteadinessIndex => _steadinessIndex;

    /// <summary>Mean length of the backwash, seconds.</summary>
    public double BackwashSeconds => _backwashSeconds;

    /// <summary>True when enough backwashes were timed to tell a chance.</summary>
    public bool Timed => _timed;

    /// <summary>True while the marks contradict each other; see <see cref="WaveRhythm.Doubtful"/>.</summary>
    public bool Doubtful => _doubtful;

    /// <summary>The way of firing that is called best; -1 while nothing is known.</summary>
    public int Recommended => _recommended;

    /// <summary>Best delay after the mark, seconds.</summary>
    public double BestDelaySeconds => _bestDelaySeconds;

    /// <summary>The longest exposure that fits on the backwash nine times in ten, seconds; 0 while no backwash was timed.</summary>
    public double LongestSeconds => _longestSeconds;

    /// <summary>For how many marks the advice was worked out; -1 before the first time.</summary>
    public int AdvisedMarks => _advisedMarks;

    /// <summary>For what exposure the advice was worked out, seconds.</summary>
    public double AdvisedSeconds => _advisedSeconds;

    /// <summary>Chance of a way of firing, percent; -1 when unknown.</summary>
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
        _timed = rhythm.Lengths.Ready;
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

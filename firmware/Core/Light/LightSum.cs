using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Light;

/// <summary>What ends, or has ended, a frame whose light is added up.</summary>
public enum LightEnd
{
    /// <summary>Its light is not added up.</summary>
    None = 0,

    /// <summary>It has collected what was metered.</summary>
    Enough = 1,

    /// <summary>The longest time allowed has gone by first.</summary>
    Longest = 2,

    /// <summary>It had collected enough before the shortest time that is given.</summary>
    Shortest = 3,

    /// <summary>The sensor could not be trusted at the end: from its last reading on the light was reckoned.</summary>
    Reckoned = 4,

    /// <summary>It was stopped.</summary>
    Stopped = 5,
}

/// <summary>
/// Adds up the light of one frame, as a share of the light at metering, and tells when it is enough: trapezoids between
/// readings, and from the last trusted reading on the present light, or a light that drifts as a clear sky's does.
/// </summary>
/// <remarks>
/// With r the light over the light at metering, the frame is right when the integral of r over it is the metered time through the glass, W
/// seconds. A film that loses speed in long exposures asks for more, by the mean light of the whole frame: with its curve f the frame lasts T
/// = f(p) where p is W over the mean of r. Everything is O(1) a reading; holds no clock and allocates nothing.
/// </remarks>
public sealed class LightSum
{
    /// <summary>No frame is ended before this share of its planned time: two stops under it (own choice).</summary>
    public const double ShortestShare = 0.25;

    // The film's goal follows the predicted end by so many steps; each leaves less than half of the error of the step before.
    private const int FilmSteps = 8;

    private FilmCurve _film;
    private double _metered;
    private double _goal;
    private long _startUs;
    private double _planned;
    private double _longest;
    private double _sum;
    private double _ratio;
    private long _atUs;
    private double _sumBefore;
    private double _ratioBefore;
    private long _beforeUs;

    /// <summary>Begins a frame.</summary>
    /// <param name="startUs">When the shutter opens, µs.</param>
    /// <param name="meteredSeconds">What the light at metering asks for through the glass, before the film's correction, seconds above zero.</param>
    /// <param name="film">The film.</param>
    /// <param name="plannedSeconds">What the frame was told to take, seconds.</param>
    /// <param name="longestSeconds">After so long the contact opens whatever the light does, seconds.</param>
    /// <param name="ratio">Light over light at metering, by the last trusted reading before the frame; above zero.</param>
    /// <param name="ratioAtUs">When that was read, µs.</param>
    public void Begin(long startUs, double meteredSeconds, FilmCurve film, double plannedSeconds, double longestSeconds, double ratio, long ratioAtUs)
    {
        _startUs = startUs;
        _metered = meteredSeconds;
        _film = film;
        _planned = plannedSeconds;
        _longest = longestSeconds;
        _sum = 0;
        _ratio = ratio;
        _atUs = ratioAtUs;
        Keep();
        _goal = meteredSeconds;
        Drift = 0;
        Predict();
    }

    /// <summary>How the light changes from the last trusted reading on, stops a second: 0 for the present light, or what a clear sky does.</summary>
    public double Drift { get; set; }

    /// <summary>What the frame was told to take, seconds.</summary>
    public double PlannedSeconds => _planned;

    /// <summary>When the frame is to end as things stand, seconds after it began: inside the shortest and the longest time.</summary>
    public double EndSeconds { get; private set; }

    /// <summary>Why it would end there.</summary>
    public LightEnd End { get; private set; }

    /// <summary>The same on the clock, µs.</summary>
    public long EndUs => _startUs + Elementary.Round(EndSeconds * 1e6);

    /// <summary>Takes a trusted reading and predicts the end anew. One that is not later than the last changes nothing.</summary>
    /// <param name="ratio">Light over light at metering, above zero.</param>
    /// <param name="atUs">When, µs.</param>
    public void Take(double ratio, long atUs)
    {
        if (atUs <= _atUs) return;
        Keep();
        double first = _ratio;
        long fromUs = _atUs;
        if (fromUs < _startUs)
        {
            if (atUs > _startUs)
            {
                // divisor: the reading is later than the last.
                first += (ratio - first) * (_startUs - fromUs) / (atUs - fromUs);
            }
            fromUs = _startUs;
        }
        if (atUs > fromUs) _sum += (first + ratio) / 2 * (atUs - fromUs) / 1e6;
        _ratio = ratio;
        _atUs = atUs;
        Predict();
    }

    /// <summary>The last reading turned out to be none of the sky's: the sum is what it was before it. Goes back by one reading at the most.</summary>
    public void TakeBack()
    {
        _sum = _sumBefore;
        _ratio = _ratioBefore;
        _atUs = _beforeUs;
        Predict();
    }

    private void Keep()
    {
        _sumBefore = _sum;
        _ratioBefore = _ratio;
        _beforeUs = _atUs;
    }

    /// <summary>Predicts the end anew, after <see cref="Drift"/> was changed.</summary>
    public void Predict()
    {
        double end = Reach(_goal);
        if (_film.Index > 0)
        {
            for (int i = 0; i < FilmSteps; i++)
            {
                // Never far beyond what is allowed anyway, and never so short that the film's curve has no value.
                end = Elementary.Clamp(end, _planned * ShortestShare, 2 * _longest);
                // divisor: the goal is above zero, and so is what a film makes of a time.
                double metered = _metered * end / _goal;
                // divisor: none of its three factors is zero.
                _goal = _metered * _film.Corrected(metered) / metered;
                end = Reach(_goal);
            }
        }
        double shortest = Elementary.Min(_planned * ShortestShare, _longest);
        End = end > _longest ? LightEnd.Longest : end < shortest ? LightEnd.Shortest : LightEnd.Enough;
        EndSeconds = Elementary.Clamp(end, shortest, _longest);
    }

    /// <summary>What is collected at a moment, over what is to be collected: 1 is enough.</summary>
    /// <param name="nowUs">The moment, µs; what lies after the last reading is reckoned.</param>
    public double Share(long nowUs)
    {
        long from = _atUs > _startUs ? _atUs : _startUs;
        double seconds = nowUs > from ? (nowUs - from) / 1e6 : 0;
        double more = seconds;
        double bend = Drift * Elementary.Ln2;
        // divisor: the bend is away from zero there.
        if (Bends(seconds)) more = (Elementary.Exp2(Elementary.Clamp(Drift * seconds, -60, 60)) - 1) / bend;
        // divisor: the goal is above zero.
        return (_sum + _ratio * more) / _goal;
    }

    // When so much is collected, seconds after the start: from the last reading on the light drifts.
    private double Reach(double goal)
    {
        long from = _atUs > _startUs ? _atUs : _startUs;
        double done = (from - _startUs) / 1e6;
        double rest = goal - _sum;
        if (rest <= 0) return done;
        // divisor: a ratio is above zero.
        double steady = rest / _ratio;
        if (!Bends(steady)) return done + steady;
        double bent = 1 + steady * Drift * Elementary.Ln2;
        // A fading light may never give so much.
        if (bent <= 1e-9) return double.MaxValue;
        // divisor: the drift is away from zero here.
        return done + Elementary.Log2(bent) / Drift;
    }

    // Below this the bend is less than a millionth of a stop, and the difference of two nearly equal numbers would say less.
    private bool Bends(double seconds) => Elementary.Abs(Drift * seconds) > 1e-6;
}

using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Light;

/// <summary>What ends, or has ended, a frame whose light is added up.</summary>
public enum LightEnd
{
    /// <summary>Its light is not added up.</summary>
    None = 0,

    /// <summary>It has collected as much light as was metered.</summary>
    Enough = 1,

    /// <summary>It has reached the longest time allowed before that.</summary>
    Longest = 2,

    /// <summary>It had collected enough light before the shortest time allowed.</summary>
    Shortest = 3,

    /// <summary>The sensor could not be trusted at the end, so the light after its last trusted reading was estimated.</summary>
    Estimated = 4,

    /// <summary>A stop ended it.</summary>
    Stopped = 5,
}

/// <summary>
/// Adds up the light of one frame, as a share of the light at metering, and says when it is enough. It uses trapezoids between
/// readings. After the last trusted reading it assumes that the light stays as it is, or that it changes as under a clear sky.
/// </summary>
/// <remarks>
/// With r the light over the light at metering, the frame is right when the integral of r over it is W seconds, the metered time through the
/// filters. A film that loses speed in long exposures needs more, depending on the mean light of the whole frame: with its curve f the frame
/// lasts T = f(p), where p is W over the mean of r. A reading takes constant time. The class has no clock and allocates nothing.
/// </remarks>
public sealed class LightSum
{
    /// <summary>No frame is ended before this share of its planned time, which is two stops less (own choice).</summary>
    public const double ShortestShare = 0.25;

    // The goal with a film depends on the predicted end, so both are found in this many steps. Each leaves less than half of the error of the step before.
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
    /// <param name="meteredSeconds">The time that the light at metering calls for through the filters, before the film's correction, seconds above zero.</param>
    /// <param name="film">The film.</param>
    /// <param name="plannedSeconds">The planned exposure, seconds.</param>
    /// <param name="longestSeconds">The time after which the contact opens whatever the light does, seconds.</param>
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

    /// <summary>How the light is assumed to change after the last trusted reading, stops a second: 0 for no change, or the change under a clear sky.</summary>
    public double Drift { get; set; }

    /// <summary>The planned exposure, seconds.</summary>
    public double PlannedSeconds => _planned;

    /// <summary>When the frame should end by what is known now, seconds after it began, between the shortest and the longest time.</summary>
    public double EndSeconds { get; private set; }

    /// <summary>Why it should end then.</summary>
    public LightEnd End { get; private set; }

    /// <summary>The same moment on the board's clock, µs.</summary>
    public long EndUs => _startUs + Elementary.Round(EndSeconds * 1e6);

    /// <summary>Takes a trusted reading and predicts the end again. A reading that is not later than the last one changes nothing.</summary>
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

    /// <summary>Removes the last reading from the sum, because it turned out not to be of the sky. It goes back by one reading at the most.</summary>
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

    /// <summary>Predicts the end again after <see cref="Drift"/> was changed.</summary>
    public void Predict()
    {
        double end = Reach(_goal);
        if (_film.Index > 0)
        {
            for (int i = 0; i < FilmSteps; i++)
            {
                // The end is kept from going far beyond what is allowed, and from being so short that the film's curve has no value.
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

    /// <summary>The light collected up to a moment, as a share of the light that the frame needs: 1 is enough.</summary>
    /// <param name="nowUs">The moment, µs. The light after the last reading is estimated.</param>
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

    // When so much light is collected, in seconds after the start. After the last reading the light changes by the drift.
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
        // A fading light may never collect so much.
        if (bent <= 1e-9) return double.MaxValue;
        // divisor: the drift is away from zero here.
        return done + Elementary.Log2(bent) / Drift;
    }

    // Below this the drift changes the light by less than a millionth of a stop, and the formula would subtract two nearly equal numbers.
    private bool Bends(double seconds) => Elementary.Abs(Drift * seconds) > 1e-6;
}

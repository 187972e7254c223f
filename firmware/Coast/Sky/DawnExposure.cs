using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Sky;

/// <summary>The outcome of working out an exposure in changing light.</summary>
public enum DawnState
{
    /// <summary>The light's change was taken into account.</summary>
    Solved,

    /// <summary>The correction is switched off, and the metered duration is returned unchanged.</summary>
    Off,

    /// <summary>There is no meter reading yet, or its duration is zero.</summary>
    NoReading,

    /// <summary>The light fades so fast that no duration up to the limit collects enough.</summary>
    Fading,
}

/// <summary>A duration that collects the metered amount of light while the light changes.</summary>
public readonly struct DawnFrame
{
    /// <summary>The outcome.</summary>
    public readonly DawnState State;

    /// <summary>Duration in seconds; the metered one unless <see cref="DawnState.Solved"/>.</summary>
    public readonly double Seconds;

    /// <summary>Stops by which this duration differs from the metered one; negative when it is shorter.</summary>
    public readonly double StopsAgainstMetered;

    internal DawnFrame(DawnState state, double seconds, double stops)
    {
        State = state;
        Seconds = seconds;
        StopsAgainstMetered = stops;
    }
}

/// <summary>
/// Corrects long exposures in twilight. From the duration that was metered a moment ago it finds the one that collects the same light
/// while the sky brightens or fades, using the altitude of the sun and <see cref="SkyLight"/>.
/// </summary>
/// <remarks>
/// Only the change of the modelled light matters and not its level, because the model is scaled to the reading. The duration T solves:
/// integral of E from start to start + T = metered seconds times E at the reading. The integral uses Simpson's rule over pieces of at most
/// 60 s, and the sun's altitude is a parabola through three positions a quarter of an hour apart. Changing cloud is not included, so
/// meter again when it changes. The film's reciprocity failure is left to the exposure code. Cost, counted in IL instructions: 14 thousand for
/// every half hour covered, and 1 thousand for every minute of exposure.
/// </remarks>
public sealed class DawnExposure
{
    /// <summary>The longest duration that it finds, seconds: 4 hours.</summary>
    public const double LongestSeconds = 14400;

    private const double PieceSeconds = 60;
    private const double ArcSeconds = 900;

    private readonly GeoPosition _place;
    private double _arcStart = double.MinValue;
    private double _arc0;
    private double _arc1;
    private double _arc2;

    /// <summary>Creates the correction for a place.</summary>
    public DawnExposure(GeoPosition place) => _place = place;

    /// <summary>False to return every metered duration unchanged.</summary>
    public bool IsOn { get; set; } = true;

    /// <summary>When the light was metered.</summary>
    public UtcInstant ReadingTime { get; private set; }

    /// <summary>The metered duration at the reading, seconds, for the present filters, aperture and sensitivity; 0 before the first reading.</summary>
    public double ReadingSeconds { get; private set; }

    /// <summary>Takes a new meter reading, to which later frames are scaled. Seconds of 0 or less drop the reading.</summary>
    public void Read(UtcInstant time, double meteredSeconds)
    {
        ReadingTime = time;
        ReadingSeconds = meteredSeconds > 0 ? meteredSeconds : 0;
        _arcStart = double.MinValue;
    }

    /// <summary>Works out the frame that opens at a time.</summary>
    public DawnFrame FrameAt(UtcInstant start)
    {
        if (ReadingSeconds <= 0) return new DawnFrame(DawnState.NoReading, 0, 0);
        if (!IsOn) return new DawnFrame(DawnState.Off, ReadingSeconds, 0);
        double reading = Log2Light(ReadingTime.Seconds);
        double left = ReadingSeconds;
        double at = start.Seconds;
        double end = at + LongestSeconds;
        double piece = Elementary.Min(PieceSeconds, Elementary.Max(ReadingSeconds / 8, 0.001));
        double here = Relative(at, reading);
        while (at < end)
        {
            double middle = Relative(at + piece / 2, reading);
            double next = Relative(at + piece, reading);
            double gathered = piece * (here + 4 * middle + next) / 6;
            if (gathered >= left)
            {
                double seconds = at + Within(piece, here, middle, next, left) - start.Seconds;
                return new DawnFrame(DawnState.Solved, seconds, Elementary.Log2(seconds / ReadingSeconds));
            }
            left -= gathered;
            at += piece;
            here = next;
        }
        return new DawnFrame(DawnState.Fading, ReadingSeconds, 0);
    }

    /// <summary>By how many stops the modelled light at a time differs from that at the reading; positive when it is brighter.</summary>
    public double StopsSinceReading(UtcInstant time) => Log2Light(time.Seconds) - Log2Light(ReadingTime.Seconds);

    /// <summary>How fast the light changes by the model, stops a second over the next minute; positive when it grows.</summary>
    public double StopsASecond(UtcInstant time) => (Log2Light(time.Seconds + PieceSeconds) - Log2Light(time.Seconds)) / PieceSeconds;

    /// <summary>When the next frame of a series can open: after this one and a gap for writing and noise reduction.</summary>
    /// <param name="start">When this frame opens.</param>
    /// <param name="frame">This frame.</param>
    /// <param name="gapSeconds">The pause between frames, 0 or above.</param>
    public static UtcInstant NextStart(UtcInstant start, DawnFrame frame, double gapSeconds)
    {
        double seconds = frame.Seconds + Elementary.Max(gapSeconds, 0.0);
        long whole = (long)seconds;
        if (whole < seconds) whole++;
        return start.PlusSeconds(whole);
    }

    // Where inside a piece the collected light reaches a goal. The integral of the parabola through the three values is solved by bisection.
    private static double Within(double piece, double a, double m, double b, double goal)
    {
        double low = 0, high = 1;
        double linear = -3 * a + 4 * m - b;
        double square = 2 * a - 4 * m + 2 * b;
        for (int n = 0; n < 30; n++)
        {
            double x = (low + high) / 2;
            if (piece * x * (a + x * (linear / 2 + x * square / 3)) < goal) low = x;
            else high = x;
        }
        return piece * (low + high) / 2;
    }

    private double Relative(double seconds, double reading) => Elementary.Exp2(Log2Light(seconds) - reading);

    private double Log2Light(double seconds)
    {
        double x = (seconds - _arcStart) / ArcSeconds;
        if (x < 0 || x > 2)
        {
            _arcStart = seconds;
            _arc0 = Sun.At(seconds, _place).AltitudeDegrees;
            _arc1 = Sun.At(seconds + ArcSeconds, _place).AltitudeDegrees;
            _arc2 = Sun.At(seconds + 2 * ArcSeconds, _place).AltitudeDegrees;
            x = 0;
        }
        double altitude = _arc0 + x * (_arc1 - _arc0) + x * (x - 1) / 2 * (_arc2 - 2 * _arc1 + _arc0);
        return SkyLight.Log2Lux(altitude);
    }
}

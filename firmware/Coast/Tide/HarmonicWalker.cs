using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>
/// Walks a harmonic tide. At knots ten minutes to three hours apart it sums the constituents, turning each phasor through a fixed angle from
/// knot to knot. Between two knots it reads heights from the polynomial of fifth degree that has the sum's height, rate and second
/// derivative at both.
/// </summary>
/// <remarks>
/// <see cref="HarmonicSum.StrideSeconds"/> keeps the polynomial within half a millimetre of the sum. As long as the node factors stay the
/// same, each phasor (c, s) becomes (c k - s m, s k + c m), with k and m the cosine and sine of speed times stride; the rounding error
/// grows by about 1e-16 with each turn. Where the node factors change, at a UTC midnight, the walker is placed again. From its first start
/// on it keeps two numbers for each constituent and shares the rest with the other walkers of the tide. Cost for 60 constituents, counted
/// in IL instructions with calls weighted: 4 thousand for a knot, 0.1 thousand for a height in between, 20 thousand for placing, and
/// 30 thousand more where the node factors change. A tide that saves memory (<see cref="TideSource.SpareMemory"/>) keeps none of those
/// numbers and sums every height from the beginning, which costs twenty thousand for each height.
/// </remarks>
internal sealed class HarmonicWalker : TideWalker
{
    private readonly HarmonicSum _sum;
    private double[]? _cos;
    private double[]? _sin;
    private readonly double _perStride;
    private long _seconds;
    private int _stepSeconds;
    private long _until;
    // The last knot, and the sum there.
    private long _knot;
    private long _placed;
    private double _height;
    private double _rate;
    private double _bend;
    // The coefficients of the polynomial. Its variable runs from 0 at the knot before to 1 at the last knot.
    private double _a0, _a1, _a2, _a3, _a4, _a5;
    private double _heightHere;
    private double _rateHere;

    internal HarmonicWalker(HarmonicSum sum)
    {
        _sum = sum;
        // divisor: a stride is ten minutes or more
        _perStride = 1.0 / sum.StrideSeconds;
    }

    public override UtcInstant Time => new UtcInstant(_seconds);

    public override double HeightMetres => _heightHere;

    public override double RateMetresPerHour => _rateHere;

    public override bool IsSlow => _sum.Spares;

    public override int BytesToCome => _cos != null || _sum.Spares ? 0 : 2 * HarmonicSum.ArrayBytes(_sum.Used) + _sum.StrideBytesToCome;

    public override void Start(UtcInstant time, int stepSeconds)
    {
        _stepSeconds = Elementary.Clamp(stepSeconds, 1, 3600);
        _seconds = time.Seconds;
        if (_sum.Spares)
        {
            Sum();
            return;
        }
        Place(_seconds);
        _heightHere = _height;
        _rateHere = _rate;
    }

    public override void Advance() => MoveTo(_seconds + _stepSeconds);

    /// <summary>Goes on to a time that is not before the present one and less than a day after it, seconds since 2000.</summary>
    internal void MoveTo(long now)
    {
        _seconds = now;
        if (_cos == null || _sum.Spares)
        {
            Sum();
            return;
        }
        if (now >= _until)
        {
            Place(_until);
            // The polynomial of the day before ends here. At midnight itself the sum of the new day counts.
            _heightHere = _height;
            _rateHere = _rate;
        }
        if (now == _knot && _knot == _placed) return;
        while (now > _knot) Turn();
        double perStride = _perStride;
        double x = 1.0 - (_knot - now) * perStride;
        double a5 = _a5, a4 = _a4, a3 = _a3, a2 = _a2, a1 = _a1;
        _heightHere = _a0 + (a1 + (a2 + (a3 + (a4 + a5 * x) * x) * x) * x) * x;
        _rateHere = (a1 + (2 * a2 + (3 * a3 + (4 * a4 + 5 * a5 * x) * x) * x) * x) * perStride * 3600.0;
    }

    // Sums the constituents at this very time.
    private void Sum()
    {
        _cos = null;
        _sin = null;
        _sum.Evaluate(new UtcInstant(_seconds), out _heightHere, out _rateHere, out _bend);
    }

    // Goes on by one knot and fits the polynomial in between.
    private void Turn()
    {
        TideStep stride = _sum.Stride();
        double hours = stride.Seconds / 3600.0;
        _a0 = _height;
        _a1 = _rate * hours;
        _a2 = _bend * hours * hours / 2;
        double[] cos = _cos!, sin = _sin!, stepCos = stride.Cos, stepSin = stride.Sin, speed = _sum.Speed;
        double height = _sum.MeanLevelMetres, rate = 0, bend = 0;
        int count = cos.Length;
        for (int k = 0; k < count; k++)
        {
            double c = cos[k];
            double s = sin[k];
            double m = stepCos[k];
            double n = stepSin[k];
            double w = speed[k];
            double turned = s * m + c * n;
            c = c * m - s * n;
            cos[k] = c;
            sin[k] = turned;
            height += c;
            rate -= w * turned;
            bend -= w * w * c;
        }
        _height = height;
        _rate = rate;
        _bend = bend;
        _knot += stride.Seconds;
        Fit(hours);
    }

    // This is a method of its own, so that the stack frame of the other holds fewer numbers at once.
    private void Fit(double hours)
    {
        double a1 = _a1, a2 = _a2;
        double d = _height - _a0 - a1 - a2;
        double e = _rate * hours - a1 - 2 * a2;
        double f = (_bend * hours * hours - 2 * a2) / 2;
        _a3 = 10 * d - 4 * e + f;
        _a4 = 7 * e - 15 * d - 2 * f;
        _a5 = 6 * d - 3 * e + f;
    }

    // Sets the phasors for a time, which becomes the knot.
    private void Place(long seconds)
    {
        UtcInstant time = new UtcInstant(seconds);
        _sum.Prepare(time.DayNumber);
        _until = _sum.SteadyUntil;
        _knot = _placed = seconds;
        double hours = time.SecondOfDay / 3600.0;
        if (_cos == null || _sin == null)
        {
            _cos = new double[_sum.Used];
            _sin = new double[_sum.Used];
        }
        double[] cos = _cos, sin = _sin, amplitude = _sum.Amplitude, phase = _sum.Phase, speed = _sum.Speed;
        double height = _sum.MeanLevelMetres, rate = 0, bend = 0;
        for (int k = 0; k < cos.Length; k++)
        {
            double w = speed[k];
            Elementary.SinCos(phase[k] + w * hours, out double s, out double c);
            c *= amplitude[k];
            s *= amplitude[k];
            cos[k] = c;
            sin[k] = s;
            height += c;
            rate -= w * s;
            bend -= w * w * c;
        }
        _height = height;
        _rate = rate;
        _bend = bend;
    }
}

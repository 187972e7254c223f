using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>
/// Walks a harmonic tide: sums the constituents at knots one to three hours apart, by turning each phasor through a fixed angle, and
/// reads every height between two knots from the polynomial of fifth degree that has the sum's height, rise and bend at both.
/// </summary>
/// <remarks>
/// <see cref="HarmonicSum.StrideSeconds"/> holds the distance between the sum and the polynomial below half a millimetre. Between two workings of
/// the node factors the phasors are turned on and on: (c, s) becomes (c k - s m, s k + c m) with k and m the cosine and sine of speed
/// times stride, and rounding grows by about 1e-16 a turn. Where the node factors change, at a UTC midnight, it is placed anew. Holds
/// two numbers a constituent from its first start on; the rest is shared with the other walkers of the tide. Cost by counting IL, calls weighed in, 60
/// constituents: 4 thousand a knot, 0.1 thousand a height read between, 20 thousand to be placed, 30 thousand more where the node
/// factors change. A tide that spares memory (<see cref="TideSource.SpareMemory"/>) sums every height anew: without those numbers, and
/// for twenty thousand a height.
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
    // The last knot and what the sum is there.
    private long _knot;
    private long _placed;
    private double _height;
    private double _rate;
    private double _bend;
    // The polynomial in the part of a stride since the knot before.
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

    /// <summary>Goes on to a time that is not before the present one and less than a day behind it, seconds since 2000.</summary>
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
            // The polynomial of the day before ends here: at midnight itself the sum of the new one counts.
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

    // The height here from the constituents themselves.
    private void Sum()
    {
        _cos = null;
        _sin = null;
        _sum.Evaluate(new UtcInstant(_seconds), out _heightHere, out _rateHere, out _bend);
    }

    // One knot on, and the polynomial between.
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

    // In a method of its own: fewer numbers at once in the frame of the other.
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

    // The phasors at a time, which becomes the knot.
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

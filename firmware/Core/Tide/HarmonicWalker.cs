using Intervalometer.Core.Numerics;
using Intervalometer.Core.Time;

namespace Intervalometer.Core.Tide;

/// <summary>
/// Walks a harmonic tide by turning each constituent's phasor through a fixed angle a step: no cosine inside a day.
/// </summary>
/// <remarks>
/// (c, s) becomes (c k - s m, s k + c m) with k and m the cosine and sine of speed times step. Rounding grows by about
/// 1e-16 a step and is thrown away at each UTC midnight, where the day is prepared anew. Cost by counting IL, 37
/// constituents: 2.2 thousand a step, 20 thousand at a midnight.
/// </remarks>
internal sealed class HarmonicWalker : TideWalker
{
    private readonly HarmonicSum _sum;
    private readonly double[] _cos;
    private readonly double[] _sin;
    private readonly double[] _stepCos;
    private readonly double[] _stepSin;
    private UtcInstant _time;
    private int _stepSeconds;
    private double _height;
    private double _rate;

    internal HarmonicWalker(HarmonicConstants constants, NodeSchedule schedule)
    {
        _sum = new HarmonicSum(constants, schedule);
        _cos = new double[_sum.Used];
        _sin = new double[_sum.Used];
        _stepCos = new double[_sum.Used];
        _stepSin = new double[_sum.Used];
    }

    public override UtcInstant Time => _time;

    public override double HeightMetres => _height;

    public override double RateMetresPerHour => _rate;

    public override void Start(UtcInstant time, int stepSeconds)
    {
        stepSeconds = Elementary.Clamp(stepSeconds, 1, 3600);
        if (stepSeconds != _stepSeconds)
        {
            _stepSeconds = stepSeconds;
            double hours = stepSeconds / 3600.0;
            for (int k = 0; k < _cos.Length; k++)
            {
                double angle = _sum.Speed[k] * hours;
                _stepCos[k] = Elementary.Cos(angle);
                _stepSin[k] = Elementary.Sin(angle);
            }
        }
        _time = time;
        Place();
        Add();
    }

    public override void Advance()
    {
        _time = _time.PlusSeconds(_stepSeconds);
        if (_time.DayNumber != _sum.Day)
        {
            Place();
            Add();
            return;
        }
        double[] cos = _cos, sin = _sin, stepCos = _stepCos, stepSin = _stepSin, speed = _sum.Speed;
        double height = _sum.MeanLevelMetres;
        double rate = 0;
        for (int k = 0; k < cos.Length; k++)
        {
            double c = cos[k];
            double s = sin[k];
            double m = stepCos[k];
            double n = stepSin[k];
            double turned = s * m + c * n;
            c = c * m - s * n;
            cos[k] = c;
            sin[k] = turned;
            height += c;
            rate -= speed[k] * turned;
        }
        _height = height;
        _rate = rate;
    }

    private void Place()
    {
        _sum.Prepare(_time.DayNumber);
        double hours = _time.SecondOfDay / 3600.0;
        for (int k = 0; k < _cos.Length; k++)
        {
            double angle = _sum.Phase[k] + _sum.Speed[k] * hours;
            _cos[k] = _sum.Amplitude[k] * Elementary.Cos(angle);
            _sin[k] = _sum.Amplitude[k] * Elementary.Sin(angle);
        }
    }

    private void Add()
    {
        double height = _sum.MeanLevelMetres;
        double rate = 0;
        double[] cos = _cos, sin = _sin, speed = _sum.Speed;
        for (int k = 0; k < cos.Length; k++)
        {
            height += cos[k];
            rate -= speed[k] * sin[k];
        }
        _height = height;
        _rate = rate;
    }
}

using Intervalometer.Core.Numerics;
using Intervalometer.Core.Tide;
using Intervalometer.Core.Time;

namespace Intervalometer.Benchmarks;

/// <summary>
/// The plain way to a day of heights: one cosine for each constituent at each step, with the device's own cosine. Phases and
/// node factors are ready beforehand, and no turn is looked for, which favours it.
/// </summary>
internal sealed class CosineLoop
{
    private readonly double[] _amplitudes = new double[Constituents.Count];
    private readonly double[] _phases = new double[Constituents.Count];
    private readonly double[] _speeds = new double[Constituents.Count];
    private readonly double[] _heights = new double[Work.CurvePoints];
    private readonly double _meanLevel;

    public CosineLoop(HarmonicConstants constants, UtcInstant midnight, double meanLevel)
    {
        _meanLevel = meanLevel;
        var orbit = new LunarOrbit();
        orbit.SetAll(midnight.PlusHours(12));
        orbit.SetLongitudes(midnight);
        for (int i = 0; i < Constituents.Count; i++)
        {
            int power = Constituents.M2Power(i);
            NodeTerm term = Constituents.Term(i);
            double angle = Constituents.Argument(i, 0) * 180.0 + Constituents.Argument(i, 1) * orbit.MoonDegrees + Constituents.Argument(i, 2) * orbit.SunDegrees
                + Constituents.Argument(i, 3) * orbit.PerigeeDegrees + Constituents.Argument(i, 4) * orbit.SolarPerigeeDegrees + Constituents.Argument(i, 5) * 90.0
                + orbit.AngleDegrees(term) * Constituents.TermSign(i) + power * orbit.M2AngleDegrees - constants.PhaseLagDegrees(i);
            _phases[i] = Elementary.Wrap(angle, 360.0) * Elementary.RadiansPerDegree;
            _amplitudes[i] = constants.AmplitudeMetres(i) * orbit.Factor(term) * Math.Pow(orbit.M2Factor, Math.Abs(power));
            _speeds[i] = Constituents.SpeedDegreesPerHour(i) * Elementary.RadiansPerDegree;
        }
    }

    public double HeightMetres(int index) => _heights[index];

    public double Day(int points, int stepSeconds)
    {
        for (int n = 0; n < points; n++)
        {
            double hours = n * stepSeconds / 3600.0;
            double height = _meanLevel;
            for (int i = 0; i < _phases.Length; i++) height += _amplitudes[i] * Elementary.Cos(_phases[i] + _speeds[i] * hours);
            _heights[n] = height;
        }
        return _heights[0];
    }
}

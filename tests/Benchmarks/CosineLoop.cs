using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Benchmarks;

/// <summary>
/// The plain calculation of a day of heights: one cosine for each constituent at each step, with the device's own cosine. Phases and
/// node factors are worked out before the timing begins, and no turns are searched, which makes it look faster.
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
            int recipe = Constituents.Recipe(i), terms = ConstituentRecipe.Terms(ConstituentRecipe.TermsOf(recipe)), times = (terms >> 4 & 15) - 4;
            var term = (NodeTerm)(terms & 15);
            double angle = ConstituentRecipe.T(recipe) * 180.0 + ConstituentRecipe.S(recipe) * orbit.MoonDegrees + ConstituentRecipe.H(recipe) * orbit.SunDegrees
                + ConstituentRecipe.P(recipe) * orbit.PerigeeDegrees + ConstituentRecipe.P1(recipe) * orbit.SolarPerigeeDegrees + ConstituentRecipe.Quarters(recipe) * 90.0
                + orbit.AngleDegrees(term) * times + ConstituentRecipe.M2(recipe) * orbit.M2AngleDegrees - constants.PhaseLagDegrees(i);
            _phases[i] = Elementary.Wrap(angle, 360.0) * Elementary.RadiansPerDegree;
            _amplitudes[i] = constants.AmplitudeMetres(i) * orbit.Factor(term) * Math.Pow(orbit.M2Factor, ConstituentRecipe.M2Factors(recipe));
            _speeds[i] = ConstituentRecipe.SpeedDegreesPerHour(recipe) * Elementary.RadiansPerDegree;
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

using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Tide;

/// <summary>
/// Harmonic constants of one place: amplitude in metres and Greenwich phase lag (UTC) in degrees for each of the 37
/// constituents, and the height of mean sea level above the place's datum.
/// </summary>
/// <remarks>
/// Kept in whole micrometres and ten-thousandths of a degree, finer than constants are published, so that these come back bit
/// for bit; whole numbers of 32 bits take half of the device's heap.
/// </remarks>
public sealed class HarmonicConstants
{
    private const double MicrometresPerMetre = 1e6;
    private const double PhaseUnitsPerDegree = 1e4;

    private readonly int[] _amplitudes = new int[Constituents.Count];
    private readonly int[] _phases = new int[Constituents.Count];

    /// <summary>Constants with every amplitude zero.</summary>
    /// <param name="meanLevelMetres">Mean sea level above the datum that heights are given from, metres.</param>
    public HarmonicConstants(double meanLevelMetres) => MeanLevelMetres = meanLevelMetres;

    /// <summary>Mean sea level above the datum, metres.</summary>
    public double MeanLevelMetres { get; }

    /// <summary>Sets one constituent by its index in <see cref="Constituents"/>. Returns this.</summary>
    /// <param name="index">0 to 36.</param>
    /// <param name="amplitudeMetres">0 to 2000 metres.</param>
    /// <param name="phaseLagDegrees">Greenwich phase lag, degrees, -200000 to 200000.</param>
    public HarmonicConstants Set(int index, double amplitudeMetres, double phaseLagDegrees)
    {
        _amplitudes[index] = (int)Elementary.Round(Elementary.Clamp(amplitudeMetres, -2000, 2000) * MicrometresPerMetre);
        _phases[index] = (int)Elementary.Round(Elementary.Clamp(phaseLagDegrees, -200_000, 200_000) * PhaseUnitsPerDegree);
        return this;
    }

    /// <summary>Sets one constituent by name. False when the name is none of the 37.</summary>
    public bool TrySet(string name, double amplitudeMetres, double phaseLagDegrees)
    {
        int index = Constituents.IndexOf(name);
        if (index < 0) return false;
        Set(index, amplitudeMetres, phaseLagDegrees);
        return true;
    }

    /// <summary>Amplitude in metres, for an index of 0 to 36.</summary>
    public double AmplitudeMetres(int index) => _amplitudes[index] / MicrometresPerMetre;

    /// <summary>Greenwich phase lag in degrees, for an index of 0 to 36.</summary>
    public double PhaseLagDegrees(int index) => _phases[index] / PhaseUnitsPerDegree;

    /// <summary>How many constituents have an amplitude above zero.</summary>
    public int Used
    {
        get
        {
            int used = 0;
            for (int i = 0; i < _amplitudes.Length; i++)
                if (_amplitudes[i] > 0) used++;
            return used;
        }
    }
}

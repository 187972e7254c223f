namespace Intervalometer.Core.Tide;

/// <summary>
/// Harmonic constants of one place: amplitude in metres and Greenwich phase lag (UTC) in degrees for each of the 37
/// constituents, and the height of mean sea level above the place's datum.
/// </summary>
public sealed class HarmonicConstants
{
    private readonly double[] _amplitudes = new double[Constituents.Count];
    private readonly double[] _phases = new double[Constituents.Count];

    /// <summary>Constants with every amplitude zero.</summary>
    /// <param name="meanLevelMetres">Mean sea level above the datum that heights are given from, metres.</param>
    public HarmonicConstants(double meanLevelMetres) => MeanLevelMetres = meanLevelMetres;

    /// <summary>Mean sea level above the datum, metres.</summary>
    public double MeanLevelMetres { get; }

    /// <summary>Sets one constituent by its index in <see cref="Constituents"/>. Returns this.</summary>
    /// <param name="index">0 to 36.</param>
    /// <param name="amplitudeMetres">0 or above, metres.</param>
    /// <param name="phaseLagDegrees">Greenwich phase lag, degrees.</param>
    public HarmonicConstants Set(int index, double amplitudeMetres, double phaseLagDegrees)
    {
        _amplitudes[index] = amplitudeMetres;
        _phases[index] = phaseLagDegrees;
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
    public double AmplitudeMetres(int index) => _amplitudes[index];

    /// <summary>Greenwich phase lag in degrees, for an index of 0 to 36.</summary>
    public double PhaseLagDegrees(int index) => _phases[index];

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

using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>
/// Harmonic constants of one place: amplitude in metres and Greenwich phase lag (UTC) in degrees for up to 60 constituents, and the
/// height of mean sea level above the place's datum.
/// </summary>
/// <remarks>
/// The values are stored in whole micrometres and ten-thousandths of a degree. That is finer than constants are published, so they come
/// back bit for bit, and 32-bit whole numbers take half of the heap that doubles would on the device.
/// </remarks>
public sealed class HarmonicConstants
{
    /// <summary>The most constituents that a place can have.</summary>
    public const int Most = 60;

    private const double MicrometresPerMetre = 1e6;
    private const double PhaseUnitsPerDegree = 1e4;

    // One more than the index in the NOAA set; 0 for a constituent outside it.
    private byte[] _noaa;
    private int[] _recipes;
    private int[] _amplitudes;
    private int[] _phases;

    /// <summary>Creates an empty set of constants with room for those of the NOAA set.</summary>
    /// <param name="meanLevelMetres">Mean sea level above the datum that heights are given from, metres.</param>
    public HarmonicConstants(double meanLevelMetres)
        : this(meanLevelMetres, Constituents.Count)
    {
    }

    /// <summary>Creates an empty set of constants.</summary>
    /// <param name="meanLevelMetres">Mean sea level above the datum that heights are given from, metres.</param>
    /// <param name="room">How many constituents are expected. For more of them the room grows by itself.</param>
    public HarmonicConstants(double meanLevelMetres, int room)
    {
        MeanLevelMetres = meanLevelMetres;
        room = Elementary.Clamp(room, 1, Most);
        _noaa = new byte[room];
        _recipes = new int[room];
        _amplitudes = new int[room];
        _phases = new int[room];
    }

    /// <summary>Mean sea level above the datum, metres.</summary>
    public double MeanLevelMetres { get; }

    /// <summary>How many constituents were set, including those with an amplitude of zero.</summary>
    public int Count { get; private set; }

    /// <summary>Sets one constituent of the NOAA set by its index in <see cref="Constituents"/>, and returns this object.</summary>
    /// <param name="index">0 to 36.</param>
    /// <param name="amplitudeMetres">0 to 2000 metres.</param>
    /// <param name="phaseLagDegrees">Greenwich phase lag, degrees, -200000 to 200000.</param>
    public HarmonicConstants Set(int index, double amplitudeMetres, double phaseLagDegrees)
    {
        TrySet(index + 1, FindNoaa(index), Constituents.Recipe(index), amplitudeMetres, phaseLagDegrees);
        return this;
    }

    /// <summary>Sets one constituent by the name that NOAA prints. Returns false when the name is not one of the 37.</summary>
    public bool TrySet(string name, double amplitudeMetres, double phaseLagDegrees)
    {
        int index = Constituents.IndexOf(name);
        return index >= 0 && TrySet(index + 1, FindNoaa(index), Constituents.Recipe(index), amplitudeMetres, phaseLagDegrees);
    }

    /// <summary>Sets one constituent by its recipe, as one outside the NOAA set. Returns false when there are <see cref="Most"/> others already.</summary>
    public bool TrySet(int recipe, double amplitudeMetres, double phaseLagDegrees)
    {
        int at = Count - 1;
        while (at >= 0 && _recipes[at] != recipe) at--;
        return TrySet(0, at, recipe, amplitudeMetres, phaseLagDegrees);
    }

    private bool TrySet(int noaa, int at, int recipe, double amplitudeMetres, double phaseLagDegrees)
    {
        if (at < 0)
        {
            if (Count >= Most) return false;
            if (Count >= _recipes.Length) MakeRoom();
            at = Count++;
        }
        _noaa[at] = (byte)noaa;
        _recipes[at] = recipe;
        _amplitudes[at] = (int)Elementary.Round(Elementary.Clamp(amplitudeMetres, -2000, 2000) * MicrometresPerMetre);
        _phases[at] = (int)Elementary.Round(Elementary.Clamp(phaseLagDegrees, -200_000, 200_000) * PhaseUnitsPerDegree);
        return true;
    }

    /// <summary>The recipe of a constituent, 0 to <see cref="Count"/> - 1, in the order in which they were set.</summary>
    public int RecipeAt(int at) => _recipes[at];

    /// <summary>The amplitude in metres, in the same order.</summary>
    public double AmplitudeMetresAt(int at) => _amplitudes[at] / MicrometresPerMetre;

    /// <summary>The Greenwich phase lag in degrees, in the same order.</summary>
    public double PhaseLagDegreesAt(int at) => _phases[at] / PhaseUnitsPerDegree;

    /// <summary>The amplitude in metres of a constituent of the NOAA set, by its index of 0 to 36; 0 when it was not set.</summary>
    public double AmplitudeMetres(int index)
    {
        int at = FindNoaa(index);
        return at < 0 ? 0 : AmplitudeMetresAt(at);
    }

    /// <summary>The Greenwich phase lag in degrees of a constituent of the NOAA set, by its index of 0 to 36; 0 when it was not set.</summary>
    public double PhaseLagDegrees(int index)
    {
        int at = FindNoaa(index);
        return at < 0 ? 0 : PhaseLagDegreesAt(at);
    }

    /// <summary>How many constituents have an amplitude above zero.</summary>
    public int Used
    {
        get
        {
            int used = 0;
            for (int i = 0; i < Count; i++)
                if (_amplitudes[i] > 0) used++;
            return used;
        }
    }

    /// <summary>True when every constituent belongs to the NOAA set.</summary>
    public bool AllOfNoaa
    {
        get
        {
            for (int i = 0; i < Count; i++)
                if (_noaa[i] == 0) return false;
            return true;
        }
    }

    private int FindNoaa(int index)
    {
        for (int i = 0; i < Count; i++)
            if (_noaa[i] == index + 1) return i;
        return -1;
    }

    private void MakeRoom()
    {
        byte[] noaa = new byte[Most];
        int[] recipes = new int[Most], amplitudes = new int[Most], phases = new int[Most];
        for (int i = 0; i < Count; i++)
        {
            noaa[i] = _noaa[i];
            recipes[i] = _recipes[i];
            amplitudes[i] = _amplitudes[i];
            phases[i] = _phases[i];
        }
        _noaa = noaa;
        _recipes = recipes;
        _amplitudes = amplitudes;
        _phases = phases;
    }
}

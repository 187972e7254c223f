using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>
/// Searches the ways to reach a wanted exposure time: which neutral-density filters of the kit, together with which aperture, bring the
/// exposure nearest to it. Grads and the polariser stay as they are, because they are there for the sky. The ISO stays as well.
/// </summary>
/// <remarks>
/// Every stack is tried with every aperture of the range, a few stacks in each step, and nothing is allocated after construction. Only the
/// best aperture of each stack is kept. Two ways count as equal when they miss by the same tenth of a stop (own choice: the light of a dawn
/// changes by more in a minute). Among equals the one with the fewest changes comes first, then the one that misses by less.
/// </remarks>
public sealed class WaysToTime
{
    /// <summary>How many ways are kept.</summary>
    public const int Most = 3;

    private const int StacksAStep = 32;

    // The film's correction is inverted by bisection, from a span of 20 stops down to 2^-40 of it.
    private const int Halvings = 40;

    private readonly double[] _stops = new double[FilterKit.Capacity];
    private readonly int[] _bit = new int[FilterKit.Capacity];
    private readonly int[] _stacks = new int[Most];
    private readonly int[] _apertures = new int[Most];
    private readonly int[] _changes = new int[Most];
    private readonly double[] _off = new double[Most];
    private int _count;
    private int _next;
    private int _onNow;
    private int _apertureNow;
    private int _shutter;
    private int _widest;
    private int _narrowest;
    private double _short;

    /// <summary>How many ways were found, best first, 0 to <see cref="Most"/>.</summary>
    public int Found { get; private set; }

    /// <summary>True when every stack has been tried.</summary>
    public bool Done => _next >= 1 << _count;

    /// <summary>The stack of a way: one bit for each place of the kit, set for each neutral-density filter that goes on the lens.</summary>
    public int Stack(int way) => _stacks[way];

    /// <summary>The aperture of a way, as an index of <see cref="ApertureSetting"/>.</summary>
    public int Aperture(int way) => _apertures[way];

    /// <summary>How many changes a way takes: each filter put on or taken off counts one, and so does another aperture.</summary>
    public int Changes(int way) => _changes[way];

    /// <summary>How far the way misses the wanted time, in stops; positive is longer. With a film these are stops of light before the film's correction.</summary>
    public double Off(int way) => _off[way];

    /// <summary>Begins a search.</summary>
    /// <param name="metered">The reading without filters.</param>
    /// <param name="kit">The filters in the bag.</param>
    /// <param name="film">The film's correction.</param>
    /// <param name="wantedSeconds">The wanted time in seconds, above 0.</param>
    /// <param name="widest">The widest aperture allowed, as an index.</param>
    /// <param name="narrowest">The narrowest aperture allowed, as an index.</param>
    public void Begin(in MeteredBase metered, FilterKit kit, FilmCurve film, double wantedSeconds, int widest, int narrowest)
    {
        _count = 0;
        _next = 0;
        _onNow = 0;
        Found = 0;
        double others = 0;
        for (int i = 0; i < kit.Count; i++)
        {
            Filter filter = kit[i];
            double stops = filter.EffectiveStops.Value;
            if (filter.Kind == FilterKind.Nd)
            {
                _stops[_count] = stops;
                _bit[_count] = 1 << i;
                if (filter.On) _onNow |= 1 << _count;
                _count++;
            }
            else if (filter.On) others += stops;
        }
        _apertureNow = metered.Aperture.Index;
        _shutter = metered.Shutter.Index;
        _widest = widest;
        _narrowest = narrowest;
        // The stops that are missing to the wanted time without any neutral density, at the present aperture.
        _short = BeforeFilm(film, wantedSeconds) - (_shutter + metered.HandThirds) / 3.0 - others;
    }

    /// <summary>Tries the next few stacks. Returns true when all have been tried.</summary>
    public bool Step()
    {
        for (int n = 0; n < StacksAStep && !Done; n++) Try(_next++);
        return Done;
    }

    private void Try(int stack)
    {
        double missing = _short;
        int toggles = 0, bits = 0;
        for (int i = 0; i < _count; i++)
        {
            bool on = (stack >> i & 1) != 0;
            if (on)
            {
                missing -= _stops[i];
                bits |= _bit[i];
            }
            if (on != ((_onNow >> i & 1) != 0)) toggles++;
        }
        int best = -1, bestChanges = 0;
        double bestOff = 0;
        for (int aperture = _widest; aperture <= _narrowest; aperture++)
        {
            int thirds = aperture - _apertureNow;
            // The metered time changes with the aperture, and it must stay on the dial.
            if (_shutter + thirds < ShutterSetting.MinIndex || _shutter + thirds > ShutterSetting.MaxIndex) continue;
            double off = thirds / 3.0 - missing;
            int changes = thirds == 0 ? toggles : toggles + 1;
            if (best >= 0 && !Better(off, changes, bestOff, bestChanges)) continue;
            best = aperture;
            bestOff = off;
            bestChanges = changes;
        }
        if (best >= 0) Keep(bits, best, bestOff, bestChanges);
    }

    private void Keep(int stack, int aperture, double off, int changes)
    {
        int at = Found;
        while (at > 0 && Better(off, changes, _off[at - 1], _changes[at - 1])) at--;
        if (at >= Most) return;
        if (Found < Most) Found++;
        for (int i = Found - 1; i > at; i--)
        {
            _stacks[i] = _stacks[i - 1];
            _apertures[i] = _apertures[i - 1];
            _off[i] = _off[i - 1];
            _changes[i] = _changes[i - 1];
        }
        _stacks[at] = stack;
        _apertures[at] = aperture;
        _off[at] = off;
        _changes[at] = changes;
    }

    private static bool Better(double off, int changes, double thanOff, int thanChanges)
    {
        double size = off < 0 ? -off : off, than = thanOff < 0 ? -thanOff : thanOff;
        int tenths = Tenths(size), thanTenths = Tenths(than);
        if (tenths != thanTenths) return tenths < thanTenths;
        return changes != thanChanges ? changes < thanChanges : size < than;
    }

    private static int Tenths(double stops) => (int)(stops * 10 + 0.5);

    // The exposure, in stops from 1 s, which the film's correction turns into the wanted time.
    private static double BeforeFilm(FilmCurve film, double seconds)
    {
        double high = Elementary.Log2(seconds);
        if (film.Index == 0) return high;
        double low = high - 20;
        for (int i = 0; i < Halvings; i++)
        {
            double middle = (low + high) / 2;
            if (film.Corrected(Elementary.Exp2(middle)) < seconds) low = middle;
            else high = middle;
        }
        return high;
    }
}

using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Swash;

/// <summary>
/// How often one turn followed another after so many periods. This shape is more than a mean and a spread can express: real seas have two
/// humps where small waves are swallowed. It is a histogram with slow forgetting, with constant time and memory.
/// </summary>
internal sealed class TurnDensity
{
    /// <summary>The longest time from turn to turn that is kept, in periods.</summary>
    public const double LongestPeriods = 2.5;

    private const int BinsPerPeriod = 10;
    private const int Bins = 25;
    private const double Forgetting = 0.985;

    private readonly double[] _next = new double[Bins];
    private readonly double[] _second = new double[Bins];
    private double _earlierGap;

    /// <summary>The number of marks behind the histogram, after forgetting.</summary>
    public double Weight { get; private set; }

    public void Reset()
    {
        for (int i = 0; i < Bins; i++)
        {
            _next[i] = 0;
            _second[i] = 0;
        }
        Weight = 0;
        _earlierGap = 0;
    }

    /// <summary>Learns from a gap, in periods. Together with the gap before it, if there is one, it also gives the second turn ahead.</summary>
    public void Learn(double gap)
    {
        double[] next = _next, second = _second;
        for (int i = 0; i < Bins; i++)
        {
            // Most bins are empty.
            if (next[i] != 0) next[i] *= Forgetting;
            if (second[i] != 0) second[i] *= Forgetting;
        }
        Weight = Forgetting * Weight + 1;
        Add(_next, gap);
        if (_earlierGap > 0) Add(_second, gap + _earlierGap);
        _earlierGap = gap;
    }

    /// <summary>Forgets the gap before, because a pause went by.</summary>
    public void Break() => _earlierGap = 0;

    /// <summary>The share of turns that the next turn followed within a range of times, in periods.</summary>
    public double Next(double from, double to) => Between(_next, from, to);

    /// <summary>The share of turns that the second turn after it followed within a range of times, in periods.</summary>
    public double Second(double from, double to) => Between(_second, from, to);

    private double Between(double[] counts, double from, double to)
    {
        if (Weight <= 0 || to <= from) return 0;
        double first = Elementary.Clamp(from * BinsPerPeriod, 0, Bins);
        double last = Elementary.Clamp(to * BinsPerPeriod, 0, Bins);
        double sum = 0;
        double low = first;
        for (int i = (int)first; i < Bins && i < last; i++)
        {
            double high = i + 1;
            sum += ((last < high ? last : high) - low) * counts[i];
            low = high;
        }
        return sum / Weight;
    }

    // Each turn is shared between the two bins whose centres are nearest.
    private static void Add(double[] counts, double lead)
    {
        double place = lead * BinsPerPeriod - 0.5;
        if (place < 0 || place >= Bins) return;
        int bin = (int)place;
        double share = place - bin;
        counts[bin] += 1 - share;
        if (bin + 1 < Bins) counts[bin + 1] += share;
    }
}

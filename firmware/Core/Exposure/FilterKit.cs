using System;

namespace Intervalometer.Core.Exposure;

/// <summary>The filters in the bag in the order shown: up to thirteen, with names that differ by more than letter case.</summary>
public sealed class FilterKit
{
    /// <summary>Most filters in a kit.</summary>
    public const int Capacity = 13;

    private readonly Filter[] _filters = new Filter[Capacity];

    /// <summary>How many filters there are, 0 to 13.</summary>
    public int Count { get; private set; }

    /// <summary>The filter at a place, 0 to Count - 1. Throws for any other place.</summary>
    public Filter this[int index]
    {
        get
        {
            CheckPlace(index);
            return _filters[index];
        }
    }

    /// <summary>The stacks of filters that were used last, and those that have a name.</summary>
    public FilterStacks Stacks { get; } = new FilterStacks();

    /// <summary>The filters that are on the lens, as one bit for each place.</summary>
    public int FiltersOn
    {
        get
        {
            int filters = 0;
            for (int i = 0; i < Count; i++)
            {
                if (_filters[i].On) filters |= 1 << i;
            }
            return filters;
        }
    }

    /// <summary>The light that the filters on the lens take from the metered part of the frame, in stops.</summary>
    public Stops EffectiveStops => StopsOf(FiltersOn);

    /// <summary>The light that the neutral-density filters on the lens take, in stops.</summary>
    public Stops NdStops
    {
        get
        {
            double sum = 0;
            for (int i = 0; i < Count; i++)
            {
                if (_filters[i].On && _filters[i].Kind == FilterKind.Nd) sum += _filters[i].EffectiveStops.Value;
            }
            return new Stops(sum);
        }
    }

    /// <summary>
    /// The kit of a new box, with all filters off and named as the trade does: density, then H for a hard, S for a soft and R for a reverse
    /// grad. It holds what is commonly carried: 3, 6 and 10 stops, grads of three densities, and a polariser (common practice, no source).
    /// The filters that are used most come first.
    /// </summary>
    public static FilterKit Starter()
    {
        FilterKit kit = new FilterKit();
        kit.AddStarter("ND 0.9", FilterKind.Nd, 90);
        kit.AddStarter("ND 1.8", FilterKind.Nd, 180);
        kit.AddStarter("ND 3.0", FilterKind.Nd, 300);
        kit.AddGrads("GRAD 0.9", 90);
        kit.AddGrads("GRAD 0.6", 60);
        kit.AddGrads("GRAD 1.2", 120);
        kit.AddStarter("POL", FilterKind.Polariser, 0);
        return kit;
    }

    /// <summary>The light that these filters together take from the metered part of the frame, in stops.</summary>
    /// <param name="filters">One bit for each place.</param>
    public Stops StopsOf(int filters)
    {
        double sum = 0;
        for (int i = 0; i < Count; i++)
        {
            if ((filters >> i & 1) != 0) sum += _filters[i].EffectiveStops.Value;
        }
        return new Stops(sum);
    }

    /// <summary>The names of these filters, joined by plus signs; empty when there is none.</summary>
    /// <param name="filters">One bit for each place.</param>
    public string NamesOf(int filters)
    {
        string names = "";
        for (int i = 0; i < Count; i++)
        {
            if ((filters >> i & 1) != 0) names += (names.Length > 0 ? "+" : "") + _filters[i].Name;
        }
        return names;
    }

    /// <summary>Puts these filters on the lens and takes all others off.</summary>
    /// <param name="filters">One bit for each place.</param>
    public void PutOn(int filters)
    {
        for (int i = 0; i < Count; i++) _filters[i].On = (filters >> i & 1) != 0;
    }

    /// <summary>Adds a filter at the end. Throws when the kit is full or the name is taken.</summary>
    public void Add(Filter filter)
    {
        if (Count >= Capacity) throw new ArgumentException("Filter kit: full at 13. Remove one before adding " + filter.Name + ".");
        if (Find(filter.Name) >= 0) throw new ArgumentException("Filter kit: " + filter.Name + " is there already. Choose another name.");
        _filters[Count] = filter;
        Count++;
    }

    /// <summary>Removes the filter at a place. Throws for a place outside 0 to Count - 1.</summary>
    public void RemoveAt(int index)
    {
        CheckPlace(index);
        for (int i = index; i < Count - 1; i++) _filters[i] = _filters[i + 1];
        Count--;
        _filters[Count] = null!;
        Stacks.Removed(index);
    }

    /// <summary>Removes the filter with this name. Throws when there is none.</summary>
    public void Remove(string name)
    {
        int index = Find(name);
        if (index < 0) throw new ArgumentException("Filter kit: no filter called " + name + ". Check the name.");
        RemoveAt(index);
    }

    /// <summary>Moves a filter to another place and shifts those in between. Throws when either place is outside 0 to Count - 1.</summary>
    public void Move(int from, int to)
    {
        CheckPlace(from);
        CheckPlace(to);
        Filter moved = _filters[from];
        int step = from < to ? 1 : -1;
        for (int i = from; i != to; i += step) _filters[i] = _filters[i + step];
        _filters[to] = moved;
        Stacks.Moved(from, to);
    }

    /// <summary>Renames the filter at a place. Throws when the name is not allowed or another filter has it.</summary>
    public void Rename(int index, string name)
    {
        CheckPlace(index);
        Filter.CheckName(name);
        int holder = Find(name);
        if (holder >= 0 && holder != index) throw new ArgumentException("Filter kit: " + name + " is there already. Choose another name.");
        _filters[index].Name = name;
    }

    /// <summary>The place of the filter with this name, ignoring letter case; -1 when there is none.</summary>
    public int Find(string name)
    {
        for (int i = 0; i < Count; i++)
        {
            if (SameName(_filters[i].Name, name)) return i;
        }
        return -1;
    }

    private static bool SameName(string a, string b)
    {
        if (a.Length != b.Length) return false;
        for (int i = 0; i < a.Length; i++)
        {
            if (Lower(a[i]) != Lower(b[i])) return false;
        }
        return true;
    }

    private static int Lower(char c) => c >= 'A' && c <= 'Z' ? c + 32 : c;

    private void AddGrads(string name, int densityHundredths)
    {
        AddStarter(name + "H", FilterKind.HardGrad, densityHundredths);
        AddStarter(name + "S", FilterKind.SoftGrad, densityHundredths);
        AddStarter(name + "R", FilterKind.ReverseGrad, densityHundredths);
    }

    private void AddStarter(string name, FilterKind kind, int densityHundredths)
    {
        Filter filter = new Filter(name, kind);
        filter.SetStrength(FilterScale.Density, densityHundredths);
        Add(filter);
    }

    private void CheckPlace(int index)
    {
        if (index < 0 || index >= Count)
            throw new ArgumentException("Filter kit: no place " + (index + 1).ToString() + " among " + Count.ToString() + ". Choose one that is listed.");
    }
}

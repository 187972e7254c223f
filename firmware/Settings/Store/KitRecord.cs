using System;
using Intervalometer.Core.Exposure;

namespace Intervalometer.Settings.Store;

/// <summary>The stored form of the filter kit: a count, 17 bytes for each filter, then 2 bytes for each slot of its stacks, which older firmware does not write.</summary>
public static class KitRecord
{
    /// <summary>The version of the stored form.</summary>
    public const int Version = 1;

    /// <summary>Writes the kit.</summary>
    public static void Put(FilterKit kit, Bytes bytes)
    {
        bytes.Put(kit.Count, 1);
        for (int i = 0; i < kit.Count; i++)
        {
            Filter filter = kit[i];
            for (int k = 0; k < Filter.LongestName; k++) bytes.Put(k < filter.Name.Length ? filter.Name[k] : 0, 1);
            bytes.Put((int)filter.Kind | ((int)filter.Scale << 4), 1);
            bytes.Put(filter.Figure, 3);
            bytes.Put(filter.TrimTenths, 1);
            bytes.Put(filter.EffectTenths, 1);
            bytes.Put(filter.SharePercent | (filter.On ? 0x80 : 0), 1);
        }
        for (int slot = 0; slot < FilterStacks.Slots; slot++) bytes.Put(kit.Stacks.Kept(slot), 2);
    }

    /// <summary>Reads a kit. Returns null when a filter or a stack is not valid.</summary>
    public static FilterKit? Take(Bytes bytes)
    {
        FilterKit kit = new FilterKit();
        int count = bytes.TakeInt(1, 0, FilterKit.Capacity, -1);
        if (count < 0) return null;
        try
        {
            for (int i = 0; i < count; i++) kit.Add(TakeFilter(bytes));
        }
        catch (ArgumentException)
        {
            // The kit itself refuses what it cannot hold, such as a name that is not allowed or a figure out of range.
            return null;
        }
        for (int slot = 0; slot < FilterStacks.Slots; slot++)
        {
            if (!kit.Stacks.TryPutBack(slot, bytes.TakeInt(2, 0, 0xFFFF, 0), count)) return null;
        }
        return bytes.Bad ? null : kit;
    }

    private static Filter TakeFilter(Bytes bytes)
    {
        string name = "";
        for (int k = 0; k < Filter.LongestName; k++)
        {
            int letter = bytes.TakeInt(1, 0, 126, 0);
            if (letter > 0) name += (char)letter;
        }
        int sort = bytes.TakeInt(1, 0, 0x2F, 0);
        if ((sort & 15) >= FilterKinds.Count) throw new ArgumentException("Filter kit: unknown kind in memory.");
        Filter filter = new Filter(name, (FilterKind)(sort & 15));
        filter.SetStrength((FilterScale)(sort >> 4), bytes.TakeInt(3, 0, Filter.MaxFactor, 0));
        filter.TrimTenths = bytes.TakeInt(1, -Filter.MaxTrimTenths, Filter.MaxTrimTenths, 0);
        filter.EffectTenths = bytes.TakeInt(1, 0, Filter.MaxEffectTenths, 0);
        int share = bytes.TakeInt(1, 0, 0xFF, 0);
        filter.SharePercent = share & 0x7F;
        filter.On = (share & 0x80) != 0;
        return filter;
    }
}

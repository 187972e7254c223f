using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A memory in plain bytes that may lose its power in the middle of a write, or go silent.</summary>
public sealed class PlainMemory : IPageMemory
{
    /// <summary>All bytes.</summary>
    public byte[] Cells { get; } = new byte[StoreMap.Pages * StoreMap.PageBytes];

    /// <summary>Page writes so far.</summary>
    public int Writes { get; private set; }

    /// <summary>Writes that still succeed; the next one stops at <see cref="CutAt"/> bytes and the memory is silent from then on.</summary>
    public int WritesLeft { get; set; } = int.MaxValue;

    /// <summary>Bytes of the last write that arrive.</summary>
    public int CutAt { get; set; }

    /// <summary>True while it answers nothing.</summary>
    public bool Silent { get; set; }

    /// <summary>Pages of which one bit always comes out wrong.</summary>
    public bool[] Worn { get; } = new bool[StoreMap.Pages];

    /// <summary>Writes of each page.</summary>
    public int[] Wear { get; } = new int[StoreMap.Pages];

    /// <summary>Creates a blank memory.</summary>
    public PlainMemory()
    {
        for (int i = 0; i < Cells.Length; i++) Cells[i] = 0xFF;
    }

    /// <inheritdoc/>
    public bool ReadPage(int page, byte[] into, int offset)
    {
        if (Silent) return false;
        for (int i = 0; i < StoreMap.PageBytes; i++) into[offset + i] = Cells[page * StoreMap.PageBytes + i];
        return true;
    }

    /// <inheritdoc/>
    public bool WritePage(int page, byte[] from, int offset)
    {
        if (Silent) return false;
        Writes++;
        Wear[page]++;
        int bytes = WritesLeft > 0 ? StoreMap.PageBytes : CutAt;
        for (int i = 0; i < bytes; i++) Cells[page * StoreMap.PageBytes + i] = from[offset + i];
        if (Worn[page]) Cells[page * StoreMap.PageBytes + StoreMap.PageBytes - 3] ^= 8;
        if (WritesLeft == 0) Silent = true;
        WritesLeft--;
        return true;
    }
}

/// <summary>Store, settings and run desk over one memory; made again on the same memory it is the box after a reset.</summary>
public sealed class StoreBench
{
    /// <summary>Switches on, with a place in the firmware or without.</summary>
    public StoreBench(PlainMemory memory, BuiltInSite? builtIn = null)
    {
        Memory = memory;
        Settings = new BoxSettings();
        Shore = new ShoreDesk(new ShoreSettings(), Settings);
        Health = new BoxHealth();
        Keeper = new StoreKeeper(memory, Settings, Shore, Bench.Link, Health);
        if (builtIn != null) Assert.IsTrue(builtIn.Use(Shore.Settings));
        Keeper.Load(0);
    }

    /// <summary>The shore side.</summary>
    public ShoreDesk Shore { get; }

    /// <summary>The memory.</summary>
    public PlainMemory Memory { get; }

    /// <summary>The settings.</summary>
    public BoxSettings Settings { get; }

    /// <summary>The run desk.</summary>
    public Bench Bench { get; } = new Bench();

    /// <summary>What is reported to the user.</summary>
    public BoxHealth Health { get; }

    /// <summary>The keeper.</summary>
    public StoreKeeper Keeper { get; }

    /// <summary>Lets time pass, a keeper's step every tick, no button touched.</summary>
    public void Pass(long us)
    {
        long until = Bench.NowUs + us;
        while (Bench.NowUs < until)
        {
            Bench.RunTo(Bench.NowUs + Bench.TickUs);
            Keeper.Step(Bench.NowUs, Bench.Desk.NextEdgeUs - Bench.NowUs > 1_200_000, Bench.NowUs);
        }
    }
}

using System;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>Makes a part of the board fail, as the script says.</summary>
public static class Faults
{
    /// <summary>Nothing fails.</summary>
    public const int None = 0;

    /// <summary>Every transfer to the display throws.</summary>
    public const int DisplayThrows = 1;

    /// <summary>Every transfer to the memory throws.</summary>
    public const int MemoryThrows = 2;

    /// <summary>Every transfer to the clock chip throws.</summary>
    public const int ClockThrows = 3;

    /// <summary>Opening an input pin throws.</summary>
    public const int PinThrows = 4;

    /// <summary>Every transfer to the display asks for more heap than there is.</summary>
    public const int HeapFull = 5;

    /// <summary>The display acknowledges nothing.</summary>
    public const int DisplaySilent = 6;

    /// <summary>The memory acknowledges nothing.</summary>
    public const int MemorySilent = 7;

    private const int MoreThanThereIs = 16 * 1024 * 1024;

    private static byte[]? _waste;

    /// <summary>An allocation that is too large for the heap.</summary>
    public static bool Wasted => _waste != null;

    /// <summary>What fails now.</summary>
    public static int Now { get; set; }

    /// <summary>Throws when a transfer to a chip must.</summary>
    public static void OnTransfer(int address)
    {
        if (Now == None) return;
        if (Now == HeapFull && address == Bench.DisplayAddress) _waste = new byte[MoreThanThereIs];
        int failing = Now == DisplayThrows ? Bench.DisplayAddress : Now == MemoryThrows ? Bench.MemoryAddress : Now == ClockThrows ? Bench.ClockAddress : -1;
        if (address == failing) throw new InvalidOperationException("forced fault");
    }

    /// <summary>True when a chip must not acknowledge.</summary>
    public static bool Silent(int address) =>
        (Now == DisplaySilent && address == Bench.DisplayAddress) || (Now == MemorySilent && address == Bench.MemoryAddress);

    /// <summary>Throws when opening an input must.</summary>
    public static void OnInput()
    {
        if (Now == PinThrows) throw new InvalidOperationException("forced fault");
    }
}

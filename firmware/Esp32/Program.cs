using System;
using System.Threading;
using Intervalometer.Drivers.Box;
using Intervalometer.Settings.Faults;
using nanoFramework.Hardware.Esp32;
using nanoFramework.Runtime.Native;
using Heap = nanoFramework.Runtime.Native.GC;

namespace Intervalometer.Esp32;

/// <summary>
/// Puts the box together on the ESP32 and keeps it running. A fatal error opens both contacts, is kept, and starts the board
/// again; three in a row, or one that cannot be kept, end in the safe state.
/// </summary>
public static class Program
{
    private const int TickMs = 10;

    /// <summary>Never returns on a board: the runtime has no watchdog and would wait for a debugger.</summary>
    public static void Main()
    {
        Wiring wiring = new Wiring();
        FaultWatch watch = new FaultWatch(wiring.ClockChip);
        watch.Read();
        bool restarts = false;
        if (!watch.Note.MustStayDown)
        {
            FaultKind kind = Run(wiring, watch, out FaultPlace place);
            // The box is gone by now: its memory is free for what is left to do.
            restarts = watch.Keep(kind, place);
        }
        if (!restarts) StayDown(wiring, watch);
        Power.RebootDevice();
    }

    // Returns after a fatal error only, with both contacts open.
    private static FaultKind Run(Wiring wiring, FaultWatch watch, out FaultPlace place)
    {
        Box? box = null;
        place = FaultPlace.Start;
        try
        {
            box = Compose(wiring, watch);
            box.Start();
            // What starting up left behind is collected now and not at the first release.
            Heap.Run(true);
            place = FaultPlace.Release;
            return new BoardThreads(box).RunUntilReleaseEnds();
        }
        catch (Exception fault)
        {
            return FaultNote.KindOf(fault);
        }
        finally
        {
            if (box != null) box.OpenLines();
        }
    }

    private static void StayDown(Wiring wiring, FaultWatch watch)
    {
        SafeState safe = new SafeState(wiring.Gpio, PinMap.ForBox(), wiring.Display, watch);
        safe.Enter();
        EspClock clock = new EspClock();
        while (true)
        {
            safe.Turn(clock.NowUs);
            Thread.Sleep(TickMs);
        }
    }

    private static Box Compose(Wiring wiring, FaultWatch watch)
    {
        Box box = new Box(wiring.Gpio, PinMap.ForBox(), wiring.Display, new EspClock(), wiring.Memory);
        box.ClockChip = wiring.ClockChip;
        box.Faults = watch;
        box.HeapGauge = new EspHeapGauge();
        box.BatteryGauge = new EspBatteryGauge();
        box.Woken = Sleep.GetWakeupCause() == Sleep.WakeupCause.Ext0;
        box.BuiltIn = CompiledSite.Make();
        return box;
    }
}

using System;
using System.Threading;
using Intervalometer.Drivers.Composition;
using Intervalometer.Settings.Faults;
using nanoFramework.Hardware.Esp32;
using nanoFramework.Runtime.Native;
using Heap = nanoFramework.Runtime.Native.GC;

namespace Intervalometer.Esp32;

/// <summary>
/// Puts the box together on the ESP32 and keeps it running. A fatal error opens both contacts, is noted in the clock chip, and restarts the
/// board. Three errors in a row, or one that cannot be noted, end in the safe state.
/// </summary>
public static class Program
{
    private const int TickMs = 10;

    /// <summary>Never returns on a board, because the runtime has no watchdog and would wait for a debugger.</summary>
    public static void Main()
    {
        Wiring wiring = new Wiring();
        FaultWatch watch = new FaultWatch(wiring.ClockChip);
        watch.Read();
        bool restarts = false;
        if (!watch.Note.MustStayDown)
        {
            FaultKind kind = Run(wiring, watch, out FaultPlace place);
            // The box is gone by now, so its memory is free for what is left to do.
            restarts = watch.Keep(kind, place);
        }
        if (!restarts) StayDown(wiring, watch);
        Power.RebootDevice();
    }

    // Returns only after a fatal error, with both contacts open.
    private static FaultKind Run(Wiring wiring, FaultWatch watch, out FaultPlace place)
    {
        Box? box = null;
        place = FaultPlace.Start;
        try
        {
            box = Compose(wiring, watch);
            box.Start();
            // The garbage of starting up is collected now and not at the first release.
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
            safe.Pass(clock.NowUs);
            Thread.Sleep(TickMs);
        }
    }

    private static Box Compose(Wiring wiring, FaultWatch watch)
    {
        Box box = new Box(wiring.Gpio, PinMap.ForBox(), wiring.Display, new EspClock(), wiring.Memory);
        box.ClockChip = wiring.ClockChip;
        box.LightSensor = wiring.LightSensor;
        box.Faults = watch;
        box.HeapGauge = new EspHeapGauge();
        box.BatteryGauge = new EspBatteryGauge();
        box.Woken = Sleep.GetWakeupCause() == Sleep.WakeupCause.Ext0;
        box.BuiltIn = CompiledSite.Make();
        return box;
    }
}

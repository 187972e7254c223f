using System;
using System.Device.Gpio;
using System.Device.I2c;
using System.Diagnostics;
using Intervalometer.Drivers;
using Intervalometer.Drivers.At24c32;
using Intervalometer.Drivers.Box;
using nanoFramework.Hardware.Esp32;
using nanoFramework.Runtime.Native;
using Heap = nanoFramework.Runtime.Native.GC;

namespace Intervalometer.Esp32;

/// <summary>Puts the box together on the ESP32 and keeps it running; a fatal error opens both contacts and starts the board again.</summary>
public static class Program
{
    /// <summary>Never returns on a board: the runtime has no watchdog and would wait for a debugger.</summary>
    public static void Main()
    {
        Box? box = null;
        try
        {
            box = Compose();
            box.Start();
            // What starting up left behind is collected now and not at the first release.
            Heap.Run(true);
            new BoardThreads(box).RunUntilReleaseEnds();
        }
        catch (Exception fault)
        {
            Debug.WriteLine("fatal: " + fault.Message);
        }
        finally
        {
            if (box != null) box.OpenLines();
            Power.RebootDevice();
        }
    }

    private static Box Compose()
    {
        Configuration.SetPinFunction(PinMap.Sda, DeviceFunction.I2C1_DATA);
        Configuration.SetPinFunction(PinMap.Scl, DeviceFunction.I2C1_CLOCK);
        I2cConnectionSettings settings = new I2cConnectionSettings(PinMap.BusId, PinMap.DisplayAddress, I2cBusSpeed.FastMode);
        I2cWire display = new I2cWire(I2cDevice.Create(settings));
        I2cConnectionSettings keeping = new I2cConnectionSettings(PinMap.BusId, PinMap.MemoryAddress, I2cBusSpeed.FastMode);
        I2cWire memory = new I2cWire(I2cDevice.Create(keeping));
        I2cConnectionSettings clock = new I2cConnectionSettings(PinMap.BusId, PinMap.ClockAddress, I2cBusSpeed.FastMode);
        Box box = new Box(new GpioController(), PinMap.ForBox(), display, new EspClock(), memory);
        box.ClockChip = new I2cWire(I2cDevice.Create(clock));
        box.BatteryGauge = new EspBatteryGauge();
        box.Woken = Sleep.GetWakeupCause() == Sleep.WakeupCause.Ext0;
        box.BuiltIn = CompiledSite.Make();
        return box;
    }
}

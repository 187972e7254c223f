using System.Device.Gpio;
using System.Device.I2c;
using Intervalometer.Drivers;
using nanoFramework.Hardware.Esp32;

namespace Intervalometer.Esp32;

/// <summary>What is connected to the ESP32: the pins, and the chips on the bus. It opens no pin.</summary>
public sealed class Wiring
{
    /// <summary>Assigns the bus to its pins and opens the chips on it.</summary>
    public Wiring()
    {
        Configuration.SetPinFunction(PinMap.Sda, DeviceFunction.I2C1_DATA);
        Configuration.SetPinFunction(PinMap.Scl, DeviceFunction.I2C1_CLOCK);
        Display = On(PinMap.DisplayAddress);
        Memory = On(PinMap.MemoryAddress);
        ClockChip = On(PinMap.ClockAddress);
        LightSensor = On(PinMap.LightAddress);
    }

    /// <summary>The pins.</summary>
    public GpioController Gpio { get; } = new GpioController();

    /// <summary>The display.</summary>
    public I2cWire Display { get; }

    /// <summary>The memory.</summary>
    public I2cWire Memory { get; }

    /// <summary>The clock chip.</summary>
    public I2cWire ClockChip { get; }

    /// <summary>The light sensor, an optional part.</summary>
    public I2cWire LightSensor { get; }

    private static I2cWire On(int address) => new I2cWire(I2cDevice.Create(new I2cConnectionSettings(PinMap.BusId, address, I2cBusSpeed.FastMode)));
}

using System;
using System.Device.Adc;
using System.Device.Gpio;
using System.Device.I2c;
using nanoFramework.Hardware.Esp32;

namespace Intervalometer.Tests.DeviceBoard.Alone;

/// <summary>Opens what the box opens and does nothing with it.</summary>
public static class Program
{
    private const int Outputs = 5;
    private const int Inputs = 6;

    /// <summary>Prints "free 0 N" with every pin, chip and thread of the stand-ins in place.</summary>
    public static void Main()
    {
        Configuration.SetPinFunction(21, DeviceFunction.I2C1_DATA);
        I2cDevice display = Open(Bench.DisplayAddress);
        I2cDevice memory = Open(Bench.MemoryAddress);
        I2cDevice clock = Open(Bench.ClockAddress);
        AdcChannel gauge = new AdcController().OpenChannel(6);
        GpioController gpio = new GpioController();
        GpioPin[] pins = new GpioPin[Outputs + Inputs];
        int[] numbers = new int[] { 18, 19, 23, 4, 13, 25, 26, 27, 33, 32, 35 };
        for (int i = 0; i < pins.Length; i++)
        {
            pins[i] = gpio.OpenPin(numbers[i], i < Outputs ? PinMode.Output : PinMode.Input);
            if (i >= Outputs) pins[i].ValueChanged += Nothing;
        }
        display.Write(new byte[] { 0x00, 0xAE });
        memory.Write(new byte[] { 0, 0 });
        clock.Write(new byte[] { 0 });
        int count = gauge.ReadValue();
        nanoFramework.Runtime.Native.GC.Run(true);
        Console.WriteLine("free 0 " + nanoFramework.Runtime.Native.GC.Run(false).ToString());
        Console.WriteLine("counted " + count.ToString() + " at " + HighResTimer.GetCurrent().ToString() + " with " + pins.Length.ToString() + " pins");
        Bench.End("ended");
    }

    private static I2cDevice Open(int address) => I2cDevice.Create(new I2cConnectionSettings(1, address, I2cBusSpeed.FastMode));

    private static void Nothing(object sender, PinValueChangedEventArgs change)
    {
    }
}

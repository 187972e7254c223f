using System.Device.Adc;
using System.Device.Gpio;
using System.Device.I2c;
using System.Threading;
using nanoFramework.Hardware.Esp32;

namespace Intervalometer.Tests.DeviceBoard.Alone;

/// <summary>Opens what the box opens and does nothing with it, so that the heap of the stand-ins alone can be read by the player.</summary>
public static class Program
{
    private const int Outputs = 5;
    private const int Inputs = 6;

    private static GpioController? s_gpio;
    private static I2cDevice? s_display;
    private static I2cDevice? s_memory;
    private static I2cDevice? s_clock;
    private static I2cDevice? s_light;
    private static AdcChannel? s_gauge;

    /// <summary>Never returns: the script ends the program.</summary>
    public static void Main()
    {
        OpenAll();
        Thread.Sleep(Timeout.Infinite);
    }

    private static void OpenAll()
    {
        Configuration.SetPinFunction(21, DeviceFunction.I2C1_DATA);
        s_display = Open(Bench.DisplayAddress);
        s_memory = Open(Bench.MemoryAddress);
        s_clock = Open(Bench.ClockAddress);
        s_light = Open(Bench.LightAddress);
        s_gauge = new AdcController().OpenChannel(6);
        s_gpio = new GpioController();
        int[] numbers = new int[] { 18, 19, 23, 4, 13, 25, 26, 27, 33, 32, 35 };
        for (int i = 0; i < Outputs + Inputs; i++)
        {
            GpioPin pin = s_gpio.OpenPin(numbers[i], i < Outputs ? PinMode.Output : PinMode.Input);
            if (i >= Outputs) pin.ValueChanged += Nothing;
        }
        s_display.Write(new byte[] { 0x00, 0xAE });
        s_memory.Write(new byte[] { 0, 0 });
        s_clock.Write(new byte[] { 0 });
        s_light.Write(new byte[] { 0 });
        if (s_gauge.ReadValue() < 0) Bench.Fault("the converter counts below zero");
    }

    private static I2cDevice Open(int address) => I2cDevice.Create(new I2cConnectionSettings(1, address, I2cBusSpeed.FastMode));

    private static void Nothing(object sender, PinValueChangedEventArgs change)
    {
    }
}

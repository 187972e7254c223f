namespace System.Device.Gpio;

public class GpioController
{
}

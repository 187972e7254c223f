namespace System.Device.Gpio;

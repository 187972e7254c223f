namespace System.Device.I2c;

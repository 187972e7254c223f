namespace nanoFramework.Hardware.Esp32;

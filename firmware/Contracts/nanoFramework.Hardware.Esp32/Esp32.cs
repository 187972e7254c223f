// This contract is declaration-only: it never runs and is not for flashing. See ../README.md.
#nullable disable

using System;

namespace nanoFramework.Hardware.Esp32;

public enum DeviceFunction
{
    I2C1_DATA = 0x00020100,
    I2C1_CLOCK = 0x00020101,
    I2C2_DATA = 0x00020200,
    I2C2_CLOCK = 0x00020201,
}

public class Configuration
{
    public static void SetPinFunction(int pin, DeviceFunction value) => throw new NotImplementedException();
    public static int GetFunctionPin(DeviceFunction function) => throw new NotImplementedException();
}

public delegate void HighResTimerExpiredEventHandler(HighResTimer sender, object e);

public class HighResTimer : IDisposable
{
    public HighResTimer() => throw new NotImplementedException();
    public event HighResTimerExpiredEventHandler OnHighResTimerExpired { add => throw new NotImplementedException(); remove => throw new NotImplementedException(); }
    public static ulong GetCurrent() => throw new NotImplementedException();
    public void Stop() => throw new NotImplementedException();
    public void StartOneShot(ulong timeout_us) => throw new NotImplementedException();
    public void StartOnePeriodic(ulong period_us) => throw new NotImplementedException();
    protected virtual void Dispose(bool disposing) => throw new NotImplementedException();
    public void Dispose() => throw new NotImplementedException();
}

public enum EspNativeError
{
    OK = 0,
    FAIL = -1,
    NO_MEM = 0x101,
    INVALID_ARG = 0x102,
    INVALID_STATE = 0x103,
}

public class Sleep
{
    public enum WakeupMode
    {
        AllLow = 0,
        AnyHigh = 1,
    }

    public enum WakeupCause
    {
        Undefined = 0,
        Ext0 = 2,
        Ext1 = 3,
        Timer = 4,
    }

    [Flags]
    public enum WakeupGpioPin : ulong
    {
        None = 0,
        Pin25 = 1ul << 25,
        Pin26 = 1ul << 26,
        Pin27 = 1ul << 27,
        Pin32 = 1ul << 32,
        Pin33 = 1ul << 33,
        Pin35 = 1ul << 35,
    }

    public static EspNativeError EnableWakeupByTimer(TimeSpan time) => throw new NotImplementedException();
    public static EspNativeError EnableWakeupByPin(WakeupGpioPin pin, int level) => throw new NotImplementedException();
    public static EspNativeError EnableWakeupByMultiPins(WakeupGpioPin pins, WakeupMode mode) => throw new NotImplementedException();
    public static EspNativeError StartLightSleep() => throw new NotImplementedException();
    public static void StartDeepSleep() => throw new NotImplementedException();
    public static WakeupCause GetWakeupCause() => throw new NotImplementedException();
    public static WakeupGpioPin GetWakeupGpioPin() => throw new NotImplementedException();
}

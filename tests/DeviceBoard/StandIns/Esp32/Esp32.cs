using System;
using Intervalometer.Tests.DeviceBoard;

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
    public static void SetPinFunction(int pin, DeviceFunction value) => Bench.PowerOn();
    public static int GetFunctionPin(DeviceFunction function) => -1;
}

public delegate void HighResTimerExpiredEventHandler(HighResTimer sender, object e);

/// <summary>Only the clock is there: the firmware uses no timer of this kind.</summary>
public class HighResTimer : IDisposable
{
    public HighResTimer() => throw new NotSupportedException();
    public event HighResTimerExpiredEventHandler OnHighResTimerExpired { add => throw new NotSupportedException(); remove => throw new NotSupportedException(); }

    public static ulong GetCurrent()
    {
        long now = BoardClock.NowUs;
        return (ulong)now;
    }

    public void Stop() => throw new NotSupportedException();
    public void StartOneShot(ulong timeout_us) => throw new NotSupportedException();
    public void StartOnePeriodic(ulong period_us) => throw new NotSupportedException();

    protected virtual void Dispose(bool disposing)
    {
    }

    public void Dispose()
    {
    }
}

public enum EspNativeError
{
    OK = 0,
    FAIL = -1,
    NO_MEM = 0x101,
    INVALID_ARG = 0x102,
    INVALID_STATE = 0x103,
}

/// <summary>Deep sleep ends the program, as waking is a restart.</summary>
public class Sleep
{
    private static bool s_canWake;

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

    public static EspNativeError EnableWakeupByTimer(TimeSpan time)
    {
        s_canWake = true;
        return EspNativeError.OK;
    }

    public static EspNativeError EnableWakeupByPin(WakeupGpioPin pin, int level)
    {
        s_canWake = true;
        return EspNativeError.OK;
    }

    public static EspNativeError EnableWakeupByMultiPins(WakeupGpioPin pins, WakeupMode mode)
    {
        s_canWake = true;
        return EspNativeError.OK;
    }

    public static EspNativeError StartLightSleep() => EspNativeError.INVALID_STATE;

    public static void StartDeepSleep()
    {
        if (!s_canWake) Bench.Fault("deep sleep, and nothing can wake the chip");
        Bench.End("asleep");
    }

    public static WakeupCause GetWakeupCause()
    {
        Bench.PowerOn();
        return Script.Woken() ? WakeupCause.Ext0 : WakeupCause.Undefined;
    }

    public static WakeupGpioPin GetWakeupGpioPin() => WakeupGpioPin.None;
}

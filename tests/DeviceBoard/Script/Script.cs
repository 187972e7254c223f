namespace Intervalometer.Tests.DeviceBoard;

/// <summary>What a start of the board does and finds. This script is empty: the board does nothing for a minute and ends.</summary>
public static class Script
{
    /// <summary>How many steps there are.</summary>
    public static int Count() => 1;

    /// <summary>One step.</summary>
    /// <param name="index">From 0.</param>
    /// <param name="atMs">When, ms since the start.</param>
    /// <param name="value">What the kind of step says.</param>
    /// <returns>A kind of step (<c>StepKind</c>).</returns>
    public static int Step(int index, out int atMs, out int value)
    {
        atMs = 60_000;
        value = 0;
        return 0;
    }

    /// <summary>What the memory holds, from its first byte on; the rest is erased.</summary>
    public static byte[] Memory() => new byte[0];

    /// <summary>What the clock chip's alarm registers hold, from the first on.</summary>
    public static byte[] ClockHolds() => new byte[0];

    /// <summary>What the battery's converter counts.</summary>
    public static int BatteryCount() => 2600;

    /// <summary>Date and time of the clock chip at the start, YYYYMMDD.</summary>
    public static int StartDate() => 20310314;

    /// <summary>Time of day of the clock chip at the start, s.</summary>
    public static int StartSecond() => 0;

    /// <summary>True when this start is a waking from deep sleep by a pin.</summary>
    public static bool Woken() => false;

    /// <summary>What fails from the start on (<c>Fault</c>).</summary>
    public static int Fault() => 0;

    /// <summary>The light on the sensor at the start, in thousandths of the lx that its counts stand for; 0 when no sensor is on the bus.</summary>
    public static int Light() => 0;

    /// <summary>True to print every picture bit by bit.</summary>
    public static bool PrintPictures() => false;

    /// <summary>Pins whose changes are printed.</summary>
    public static bool Watches(int pin) => pin == 18 || pin == 19;
}

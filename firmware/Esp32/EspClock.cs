using Intervalometer.Core;
using nanoFramework.Hardware.Esp32;

namespace Intervalometer.Esp32;

/// <summary>The ESP32's 64-bit microsecond counter, running since the board started.</summary>
public sealed class EspClock : IMicrosClock
{
    /// <inheritdoc/>
    public long NowUs
    {
        get
        {
            // The counter is unsigned. Only a typed local makes the device treat it as signed from here on.
            ulong counter = HighResTimer.GetCurrent();
            long now = (long)counter;
            return now;
        }
    }
}

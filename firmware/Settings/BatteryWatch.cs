namespace Intervalometer.Settings;

/// <summary>What the battery still allows.</summary>
public enum BatteryState
{
    /// <summary>There is no reading: no gauge is fitted, or it shows a voltage too low for a cell that runs the box. Nothing is blocked.</summary>
    Unread = 0,

    /// <summary>There is enough, or the box is on USB power.</summary>
    Good = 1,

    /// <summary>Below <see cref="BatteryWatch.WarnMillivolts"/>: the person is warned, and runs still start.</summary>
    Low = 2,

    /// <summary>Below <see cref="BatteryWatch.RefuseMillivolts"/>: no new run starts, and a running exposure is finished.</summary>
    Empty = 3,
}

/// <summary>
/// Judges the battery by its filtered voltage. The state goes down at its threshold, but up again only
/// <see cref="RiseMillivolts"/> above it, so that a cell whose voltage sags under load and recovers does not switch to and fro. It does not
/// read the gauge itself; readings are handed in.
/// </summary>
public sealed class BatteryWatch
{
    /// <summary>Below this voltage the person is warned, mV (hardware/power.md).</summary>
    public const int WarnMillivolts = 3600;

    /// <summary>
    /// Below this voltage no new run starts, mV. At 3400 mV the regulator begins to drop out, and the voltage of a cell at -10 °C sags by
    /// 100 mV or more under load (hardware/power.md).
    /// </summary>
    public const int RefuseMillivolts = 3500;

    /// <summary>The state improves only when the voltage is this far above its threshold, mV: the sag of a cold cell (hardware/power.md).</summary>
    public const int RiseMillivolts = 100;

    /// <summary>
    /// A reading below this cannot come from a cell, mV: the charger's protection cuts a cell off at 2500 mV (common practice, no
    /// source), and the regulator stops well above that. A gauge that is not wired reads about 0.
    /// </summary>
    public const int LeastMillivolts = 2500;

    /// <summary>What the battery allows.</summary>
    public BatteryState State { get; private set; }

    /// <summary>The last voltage judged, mV; -1 while there is no reading.</summary>
    public int Millivolts { get; private set; } = -1;

    /// <summary>True when no new run may start.</summary>
    public bool Refuses => State == BatteryState.Empty;

    /// <summary>True when the battery is low or empty.</summary>
    public bool Troubles => State == BatteryState.Low || State == BatteryState.Empty;

    /// <summary>The voltage as text, such as "3.58 V"; empty while there is no reading.</summary>
    public string Volts => Millivolts < 0 ? "" : (Millivolts / 1000.0).ToString("F2") + " V";

    /// <summary>Takes a filtered reading.</summary>
    /// <param name="millivolts">The voltage at the battery's terminals, mV; -1 when it could not be read.</param>
    public void Take(int millivolts)
    {
        if (millivolts < LeastMillivolts)
        {
            Millivolts = -1;
            State = BatteryState.Unread;
            return;
        }
        Millivolts = millivolts;
        int refuse = RefuseMillivolts + (State == BatteryState.Empty ? RiseMillivolts : 0);
        int warn = WarnMillivolts + (Troubles ? RiseMillivolts : 0);
        State = millivolts < refuse ? BatteryState.Empty : millivolts < warn ? BatteryState.Low : BatteryState.Good;
    }
}

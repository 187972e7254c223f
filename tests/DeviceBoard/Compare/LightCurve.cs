using Intervalometer.Drivers.Veml7700;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>The light on the sensor from a time on.</summary>
/// <param name="AtMs">From when, ms; the first one is 0.</param>
/// <param name="Milli">Thousandths of the lx that the sensor's counts stand for; 0 where it acknowledges nothing.</param>
public sealed record LightStep(int AtMs, int Milli);

/// <summary>
/// A light that stays the same between a few steps, so that both boards see the same one. The chip counts too little in bright light, and the
/// stand-in knows nothing of that. So the steps say what the chip counts, and on the virtual board the light is what the driver makes of it.
/// </summary>
public sealed class LightCurve(params LightStep[] steps)
{
    /// <summary>
    /// The light of the script "light". It doubles between metering and the first frame, so this frame ends after half of its planned time. Then it fades
    /// in two steps that a sky could take, to 0.4 of the metered light. There the second frame would need more than the longest time allowed, and the sensor falls silent in it.
    /// </summary>
    public static LightCurve OfScript { get; } = new(new LightStep(0, 30_000), new LightStep(17_000, 60_000), new LightStep(38_000, 30_000), new LightStep(41_000, 12_000), new LightStep(55_000, 0));

    /// <summary>The steps, in order.</summary>
    public IReadOnlyList<LightStep> Steps => steps;

    /// <summary>What the stand-in is told at a time, ms.</summary>
    public int MilliAt(long ms) => steps.Last(s => s.AtMs <= ms).Milli;

    /// <summary>The light on the virtual board at a time, lx.</summary>
    public double LuxAt(long us) => Veml7700Sensor.Corrected(MilliAt(us / 1000) / 1000.0);

    /// <summary>Makes the sensor of the virtual board answer and fall silent in time.</summary>
    public void Follow(Board board)
    {
        foreach (LightStep step in steps.Skip(1)) board.Time.At(step.AtMs * 1000L, () => board.LightSensor.Connected = step.Milli > 0);
    }
}

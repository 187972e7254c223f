namespace Intervalometer.Core.Swash;

/// <summary>How a run on the waves decides when to fire.</summary>
public enum FiringWay
{
    /// <summary>Fires at once when Mark is pressed.</summary>
    OnMark = 0,

    /// <summary>Fires a set delay after Mark is pressed.</summary>
    AfterMark = 1,

    /// <summary>Fires on the forecast of the rhythm learned from marks.</summary>
    OnRhythm = 2,

    /// <summary>Mark is pressed as the wave arrives, and the shutter fires at the learned turn of that same wave.</summary>
    OnArrival = 3,
}

/// <summary>When a run on the waves fires: the way of firing and its numbers, as a person sets them.</summary>
public sealed class WaveOrder
{
    /// <summary>The way of firing.</summary>
    public FiringWay Way { get; set; } = FiringWay.AfterMark;

    /// <summary>The delay after the mark for <see cref="FiringWay.AfterMark"/>, 0 to 20000 ms.</summary>
    public int DelayMs { get; set; } = 1000;

    /// <summary>
    /// True to open at the moment that is likeliest to keep the whole exposure on the backwash; false to use
    /// <see cref="DelayMs"/> or <see cref="FromTurnMs"/>.
    /// </summary>
    public bool BestMoment { get; set; } = true;

    /// <summary>When the shutter opens relative to the turn for the two forecasting ways, -3000 to 5000 ms.</summary>
    public int FromTurnMs { get; set; } = 300;

    /// <summary>Frames on each wave, 1 to 9.</summary>
    public int FramesPerWave { get; set; } = 1;

    /// <summary>From the end of one frame to the start of the next on the same wave, 0 to 5000 ms.</summary>
    public int GapMs { get; set; } = 300;

    /// <summary>The run fires on every wave of this number, 1 to 9; with 2, on every second one.</summary>
    public int EveryWave { get; set; } = 1;

    /// <summary>The run stops after this many waves, 1 to 99; with 0 it goes on until it is stopped.</summary>
    public int Waves { get; set; } = 5;

    /// <summary>The run stops after this long, 1 to 240 minutes; with 0 there is no limit of time.</summary>
    public int Minutes { get; set; }

    /// <summary>How late this photographer presses Mark at a turn on average, -1000 to 1500 ms; assumed until the drill has measured it.</summary>
    public int HandLagMs { get; set; } = (int)(FiringAdvice.PressLagSeconds * 1000);

    /// <summary>The spread (standard deviation) of this photographer's presses, 150 to 1500 ms; assumed until the drill has measured it.</summary>
    public int HandSpreadMs { get; set; } = (int)(FiringAdvice.PressSpreadSeconds * 1000);

    /// <summary>Copies every value of another order. Allocates nothing.</summary>
    public void CopyFrom(WaveOrder other)
    {
        Way = other.Way;
        DelayMs = other.DelayMs;
        BestMoment = other.BestMoment;
        FromTurnMs = other.FromTurnMs;
        FramesPerWave = other.FramesPerWave;
        GapMs = other.GapMs;
        EveryWave = other.EveryWave;
        Waves = other.Waves;
        Minutes = other.Minutes;
        HandLagMs = other.HandLagMs;
        HandSpreadMs = other.HandSpreadMs;
    }
}

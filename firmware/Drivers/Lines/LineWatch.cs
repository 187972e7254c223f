using Intervalometer.Core.Release;

namespace Intervalometer.Drivers.Lines;

/// <summary>
/// Judges both release drivers by what is read back of them: each must conduct while its line is told to be high, and only then.
/// A line that is stuck, or a driver that is shorted, is found while both contacts are still without their supply. One caller, the
/// release thread; allocates nothing. Trouble stays until the box is switched off.
/// </summary>
public sealed class LineWatch
{
    // A look that disagrees may have met an edge; the second one in a row with the same command has not.
    private const int Sure = 2;

    // By the number of the line.
    private readonly bool[] _told = new bool[2];
    private readonly int[] _wrong = new int[2];

    /// <summary>What is wrong.</summary>
    public LimiterTrouble Trouble { get; private set; }

    /// <summary>One look at a driver.</summary>
    /// <param name="line">Which line it drives.</param>
    /// <param name="told">True while its contact is told to be closed.</param>
    /// <param name="conducts">True when the driver is read as conducting.</param>
    public void Look(ReleaseLine line, bool told, bool conducts)
    {
        int at = (int)line;
        _wrong[at] = told == conducts ? 0 : told == _told[at] ? _wrong[at] + 1 : 1;
        _told[at] = told;
        if (_wrong[at] < Sure || Trouble != LimiterTrouble.None) return;
        if (line == ReleaseLine.Shutter) Trouble = told ? LimiterTrouble.ShutterDead : LimiterTrouble.ShutterStuck;
        else Trouble = told ? LimiterTrouble.HalfPressDead : LimiterTrouble.HalfPressStuck;
    }
}

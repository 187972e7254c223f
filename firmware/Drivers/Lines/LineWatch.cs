using Intervalometer.Core.Release;

namespace Intervalometer.Drivers.Lines;

/// <summary>
/// Judges both release drivers by what is read back of them: each must conduct while its line is told to be high, and only then.
/// A line that is stuck or a driver that is shorted is found while the contacts have no supply yet. Only the release thread calls it, and it
/// allocates nothing. A trouble stays until the box is switched off.
/// </summary>
public sealed class LineWatch
{
    // A single wrong reading may have met an edge. A second one in a row under the same command has not.
    private const int Sure = 2;

    // Both arrays are indexed by the number of the line.
    private readonly bool[] _told = new bool[2];
    private readonly int[] _wrong = new int[2];

    /// <summary>What is wrong.</summary>
    public LimiterTrouble Trouble { get; private set; }

    /// <summary>Takes one reading of a driver.</summary>
    /// <param name="line">The line that it drives.</param>
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

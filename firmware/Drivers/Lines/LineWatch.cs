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

    private bool _halfPress;
    private bool _shutter;
    private int _halfPressWrong;
    private int _shutterWrong;

    /// <summary>What is wrong.</summary>
    public LimiterTrouble Trouble { get; private set; }

    /// <summary>One look at the half-press driver.</summary>
    /// <param name="told">True while its contact is told to be closed.</param>
    /// <param name="conducts">True when the driver is read as conducting.</param>
    public void LookAtHalfPress(bool told, bool conducts)
    {
        _halfPressWrong = told == conducts ? 0 : told == _halfPress ? _halfPressWrong + 1 : 1;
        _halfPress = told;
        if (_halfPressWrong >= Sure && Trouble == LimiterTrouble.None) Trouble = told ? LimiterTrouble.HalfPressDead : LimiterTrouble.HalfPressStuck;
    }

    /// <summary>One look at the shutter driver.</summary>
    /// <param name="told">True while its contact is told to be closed.</param>
    /// <param name="conducts">True when the driver is read as conducting.</param>
    public void LookAtShutter(bool told, bool conducts)
    {
        _shutterWrong = told == conducts ? 0 : told == _shutter ? _shutterWrong + 1 : 1;
        _shutter = told;
        if (_shutterWrong >= Sure && Trouble == LimiterTrouble.None) Trouble = told ? LimiterTrouble.ShutterDead : LimiterTrouble.ShutterStuck;
    }
}

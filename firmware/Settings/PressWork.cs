using Intervalometer.Core.Link;

namespace Intervalometer.Settings;

/// <summary>What a press does where it is sampled, in the release thread, before the panel thread hears of it.</summary>
public static class PressWork
{
    /// <summary>A button went down: Fire starts or stops, Back stops when it is held, Mark marks; the panel thread is told what was done.</summary>
    /// <param name="link">The link.</param>
    /// <param name="button">Which.</param>
    /// <param name="atUs">When it went down, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public static void Down(RunLink link, Button button, long atUs, long nowUs)
    {
        int done = 0;
        if (button == Button.Fire) done = link.Fire(nowUs);
        else if (button == Button.Back) done = link.Back(nowUs) ? PressRing.Spent : 0;
        else if (button == Button.Mark)
        {
            done = link.Desk.Running ? PressRing.Spent : 0;
            if (Marks(link)) link.Mark(atUs, nowUs);
        }
        bool asks = button != Button.Mark && button != Button.Fire;
        link.Presses.Add((int)button | PressRing.Down | done, atUs, asks);
    }

    /// <summary>A button came up.</summary>
    /// <param name="link">The link.</param>
    /// <param name="button">Which.</param>
    /// <param name="heldUs">How long it was down, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public static void Up(RunLink link, Button button, long heldUs, long nowUs)
    {
        if (button == Button.Mark && Marks(link)) link.MarkReleased(heldUs);
        if (button == Button.Back) link.BackReleased();
        link.Presses.Add((int)button, nowUs, button == Button.Select);
    }

    // A locked button teaches nothing at rest, nor does one that drills; a run that waits for its marks gets them.
    private static bool Marks(RunLink link) => link.Desk.Running || !(link.Locked || link.Drilling);
}

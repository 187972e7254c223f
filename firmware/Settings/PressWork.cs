using Intervalometer.Core.Link;

namespace Intervalometer.Settings;

/// <summary>What the release thread does with a press at the moment it is sampled, before the panel thread receives it.</summary>
public static class PressWork
{
    /// <summary>Handles a button that went down: Fire starts or stops a run, Back begins to be held, Mark marks a wave. The panel thread receives the press and what it has done.</summary>
    /// <param name="link">The link between the threads.</param>
    /// <param name="button">The button.</param>
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

    /// <summary>Handles a button that came up.</summary>
    /// <param name="link">The link between the threads.</param>
    /// <param name="button">The button.</param>
    /// <param name="heldUs">How long it was down, µs.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public static void Up(RunLink link, Button button, long heldUs, long nowUs)
    {
        if (button == Button.Mark && Marks(link)) link.MarkReleased(heldUs);
        if (button == Button.Back) link.BackReleased();
        link.Presses.Add((int)button, nowUs, button == Button.Select);
    }

    // Outside a run, a press of Mark on a locked box or in a drill must not teach the rhythm. A run that waits for marks always gets them.
    private static bool Marks(RunLink link) => link.Desk.Running || !(link.Locked || link.Drilling);
}

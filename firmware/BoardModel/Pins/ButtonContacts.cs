using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Pins;

/// <summary>The six push buttons: contacts to ground that bounce, the same way for the same seed.</summary>
public sealed class ButtonContacts(VirtualClock clock, VirtualGpioDriver gpio, LineLog log, int[] pins, int bounceUs, Dice dice)
{
    private readonly int[] _generation = new int[pins.Length];

    /// <summary>A finger goes down now.</summary>
    public void Down(Button button) => Move(button, true);

    /// <summary>The finger lets go now.</summary>
    public void Up(Button button) => Move(button, false);

    private void Move(Button button, bool closed)
    {
        int generation = ++_generation[(int)button];
        Set(button, closed);
        if (bounceUs <= 0) return;
        // One to three false contacts, in order; the last of them ends before bounceUs.
        long at = clock.NowUs;
        long left = bounceUs;
        int times = (int)dice.Whole(1, 3);
        for (int i = 0; i < times * 2; i++)
        {
            long step = dice.Whole(1, Math.Max(1, left / 3));
            at += step;
            left -= step;
            bool state = i % 2 == 0 ? !closed : closed;
            clock.At(at, () => { if (_generation[(int)button] == generation) Set(button, state); });
        }
    }

    private void Set(Button button, bool closed)
    {
        gpio.Ground(pins[(int)button], closed);
        log.Set(Line.Up + (int)button, closed);
    }
}

using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>
/// How the random presses behave for a while: how likely each button is, how long it is held, and how long the pauses are. One mood follows another
/// at random, so that deep fields, long waits and plain chaos all occur.
/// </summary>
internal sealed class Mood
{
    // In the order of Button: Up, Down, Back, Select, Mark, Fire; sums to 100.
    private readonly int[] _weights;

    private Mood(int held, int patient, params int[] weights)
    {
        HeldPercent = held;
        PatientPercent = patient;
        _weights = weights;
    }

    /// <summary>Goes round the cards and changes a few fields.</summary>
    private static readonly Mood Browse = new(4, 2, 34, 34, 12, 12, 4, 4);

    /// <summary>Walks deep into the fields of one card.</summary>
    private static readonly Mood Fields = new(2, 1, 22, 20, 1, 55, 1, 1);

    /// <summary>Holds Up and Down until they take larger steps, and Select until a filter opens.</summary>
    private static readonly Mood Hold = new(60, 1, 34, 34, 2, 28, 1, 1);

    /// <summary>Fires and lets runs go on.</summary>
    private static readonly Mood Shoot = new(3, 60, 10, 12, 2, 2, 44, 30);

    /// <summary>Marks waves and waits for them.</summary>
    private static readonly Mood Watch = new(10, 30, 2, 3, 1, 1, 91, 2);

    /// <summary>Presses every button equally often.</summary>
    private static readonly Mood Chaos = new(15, 8, 17, 17, 16, 17, 16, 17);

    private static readonly Mood[] All = [Browse, Browse, Fields, Fields, Fields, Hold, Shoot, Shoot, Watch, Chaos];

    /// <summary>Share of presses that are long, percent.</summary>
    public int HeldPercent { get; }

    /// <summary>Share of waits that are long, percent.</summary>
    public int PatientPercent { get; }

    public static Mood Any(Dice dice) => All[(int)dice.Whole(0, All.Length - 1)];

    public Button Pick(Dice dice)
    {
        int left = (int)dice.Whole(0, 99);
        for (int i = 0; i < _weights.Length; i++)
        {
            left -= _weights[i];
            if (left < 0) return (Button)i;
        }
        return Button.Fire;
    }
}

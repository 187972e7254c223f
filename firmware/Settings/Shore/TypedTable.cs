using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Settings.Shore;

/// <summary>
/// High and low waters as a person types them in from a printed table: up to 8, alternately high and low. Times stay as printed, in the
/// local time of the table's day, even when the offset is changed later. A turn whose time or height is only a guess is not used.
/// </summary>
public sealed class TypedTable
{
    /// <summary>The most turns that can be typed in: four on each of two days.</summary>
    public const int Capacity = 8;

    // A quarter of a lunar day: near enough for a first guess at the next turn.
    private const int GuessMinutes = 372;

    private readonly long[] _seconds = new long[Capacity];
    private readonly int[] _centimetres = new int[Capacity];
    // One bit for each time that was typed, and above these one bit for each height.
    private int _typed;

    /// <summary>How many turns are typed in.</summary>
    public int Count { get; private set; }

    /// <summary>True when the first turn is a high water.</summary>
    public bool FirstIsHigh { get; set; } = true;

    /// <summary>True when a turn is a high water.</summary>
    public bool IsHigh(int turn) => (turn & 1) == 0 ? FirstIsHigh : !FirstIsHigh;

    /// <summary>The time as printed. It is given as the instant at which a clock in universal time would show it.</summary>
    public UtcInstant Printed(int turn) => new UtcInstant(_seconds[turn]);

    /// <summary>True when the time of a turn was typed or confirmed; false when it is a guess.</summary>
    public bool HasTime(int turn) => (_typed >> turn & 1) != 0;

    /// <summary>True when the height of a turn was typed or confirmed; false when it is a guess.</summary>
    public bool HasHeight(int turn) => (_typed >> turn >> Capacity & 1) != 0;

    /// <summary>What was typed: one bit for each time, and eight bits higher one bit for each height.</summary>
    public int Typed => _typed & Mask(Count);

    /// <summary>True when a turn is still a guess.</summary>
    public bool Guesses => Typed != Mask(Count);

    /// <summary>The height of a turn, centimetres above the place's datum.</summary>
    public int Centimetres(int turn) => _centimetres[turn];

    /// <summary>Adds one more turn, guessed from those before it, or removes the last one.</summary>
    /// <param name="direction">+1 to add, -1 to remove.</param>
    /// <param name="near">The first guess for the first turn: the present time, as the clocks of the place show it.</param>
    public void Resize(int direction, UtcInstant near)
    {
        if (direction < 0)
        {
            if (Count > 0) Count--;
            return;
        }
        if (Count >= Capacity) return;
        int n = Count;
        _seconds[n] = n == 0 ? near.Seconds / 60 * 60 : _seconds[n - 1] + GuessMinutes * 60;
        _centimetres[n] = n >= 2 ? _centimetres[n - 2] : IsHigh(n) ? 500 : 100;
        _typed &= Mask(n);
        Count++;
    }

    /// <summary>The lowest height of a turn, centimetres.</summary>
    public const int LeastCentimetres = -500;

    /// <summary>The greatest height of a turn, centimetres.</summary>
    public const int MostCentimetres = 2000;

    /// <summary>Starts a new table with that many turns, 0 to <see cref="Capacity"/>, each of which is then to be set.</summary>
    public void Restart(int count, bool firstIsHigh)
    {
        Count = Elementary.Clamp(count, 0, Capacity);
        FirstIsHigh = firstIsHigh;
        _typed = 0;
    }

    /// <summary>Changes the time of a turn, which counts as typed from now on.</summary>
    public void MoveTime(int turn, int minutes)
    {
        _seconds[turn] += minutes * 60;
        _typed |= 1 << turn;
    }

    /// <summary>Sets the height of a turn, which counts as typed from now on.</summary>
    public void SetHeight(int turn, int centimetres)
    {
        _centimetres[turn] = Elementary.Clamp(centimetres, LeastCentimetres, MostCentimetres);
        _typed |= 1 << turn << Capacity;
    }

    /// <summary>Confirms that every turn is as printed, including those whose guess was right.</summary>
    public void Confirm() => Confirm(Mask(Count));

    /// <summary>Says which times and heights count as typed; see <see cref="Typed"/>.</summary>
    public void Confirm(int typed) => _typed = typed;

    /// <summary>Sets the time and the height of a turn.</summary>
    /// <param name="turn">The turn.</param>
    /// <param name="printed">The time as printed; see <see cref="Printed"/>.</param>
    /// <param name="centimetres">The height in centimetres.</param>
    public void Set(int turn, UtcInstant printed, int centimetres)
    {
        _seconds[turn] = printed.Seconds;
        _typed |= 1 << turn;
        SetHeight(turn, centimetres);
    }

    /// <summary>Creates the tide between the turns, up to the first turn that does not fit.</summary>
    /// <param name="shape">How the tide rises and falls, as a person has said.</param>
    /// <param name="local">Local time at the place.</param>
    /// <param name="sum">The sum that the tide follows between the turns, when the shape says so; or null.</param>
    /// <param name="fault">Why a turn does not fit; empty when all do.</param>
    public PrintedTide Build(TideShape shape, LocalTime local, HarmonicTide? sum, out string fault)
    {
        PrintedTide tide = new PrintedTide();
        fault = "";
        for (int i = 0; i < Count; i++)
        {
            string? refused = !HasTime(i) || !HasHeight(i) ? "guessed; set its time and height." : tide.Add(local.FromLocal(Printed(i)), _centimetres[i] / 100.0, IsHigh(i));
            if (refused == null) continue;
            fault = "Turn " + (i + 1).ToString() + ": " + refused;
            break;
        }
        int doubtful = tide.Doubtful(shape);
        if (doubtful > 0)
        {
            fault = "Turn " + (doubtful + 1).ToString() + ": over 16 h after; 2 missing, or shape once a day?";
            tide.CutAt(doubtful);
        }
        if (shape >= TideShape.AsSum && sum != null && tide.Count >= 2) tide.TakeShape(sum);
        return tide;
    }

    private static int Mask(int count) => (1 << count) - 1 | (1 << count) - 1 << Capacity;
}

using Intervalometer.Core.Numerics;
using Intervalometer.Core.Tide;
using Intervalometer.Core.Time;

namespace Intervalometer.Settings.Shore;

/// <summary>High and low waters as a person types them from a printed table: up to 8, high and low in turn.</summary>
public sealed class TypedTable
{
    /// <summary>The most turns that can be typed in: two days of four.</summary>
    public const int Capacity = 8;

    // Half a lunar day less a little: near enough for the first guess at the next turn.
    private const int GuessMinutes = 372;

    private readonly long[] _seconds = new long[Capacity];
    private readonly int[] _centimetres = new int[Capacity];

    /// <summary>How many turns are typed in.</summary>
    public int Count { get; private set; }

    /// <summary>True when the first turn is a high water.</summary>
    public bool FirstIsHigh { get; set; } = true;

    /// <summary>True when a turn is a high water.</summary>
    public bool IsHigh(int turn) => (turn & 1) == 0 ? FirstIsHigh : !FirstIsHigh;

    /// <summary>When a turn is.</summary>
    public UtcInstant Time(int turn) => new UtcInstant(_seconds[turn]);

    /// <summary>Height of a turn, centimetres above the place's datum.</summary>
    public int Centimetres(int turn) => _centimetres[turn];

    /// <summary>Takes one more turn in, guessed from those before, or takes the last one out.</summary>
    /// <param name="direction">+1 or -1.</param>
    /// <param name="near">Where the first turn begins: the present.</param>
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
        Count++;
    }

    /// <summary>The lowest height of a turn, centimetres.</summary>
    public const int LeastCentimetres = -500;

    /// <summary>The greatest height of a turn, centimetres.</summary>
    public const int MostCentimetres = 2000;

    /// <summary>Begins anew with that many turns, 0 to <see cref="Capacity"/>, each to be set.</summary>
    public void Restart(int count, bool firstIsHigh)
    {
        Count = Elementary.Clamp(count, 0, Capacity);
        FirstIsHigh = firstIsHigh;
    }

    /// <summary>Sets a turn.</summary>
    public void Set(int turn, UtcInstant time, int centimetres)
    {
        _seconds[turn] = time.Seconds;
        _centimetres[turn] = Elementary.Clamp(centimetres, LeastCentimetres, MostCentimetres);
    }

    /// <summary>The tide between the turns, up to the first that does not fit.</summary>
    /// <param name="shape">How the tide is said to rise and fall.</param>
    /// <param name="fault">Why a turn does not fit, or an empty string.</param>
    public PrintedTide Build(TideShape shape, out string fault)
    {
        PrintedTide tide = new PrintedTide();
        fault = "";
        for (int i = 0; i < Count; i++)
        {
            string? refused = tide.Add(Time(i), _centimetres[i] / 100.0, IsHigh(i));
            if (refused == null) continue;
            fault = "Turn " + (i + 1).ToString() + ": " + refused;
            break;
        }
        int doubtful = tide.Doubtful(shape);
        if (doubtful > 0)
        {
            fault = "Turn " + (doubtful + 1).ToString() + ": over 16 h after; a pair missing, or shape: daily?";
            tide.CutAt(doubtful);
        }
        return tide;
    }
}

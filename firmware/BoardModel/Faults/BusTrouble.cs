using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Faults;

/// <summary>What can go wrong on the two-wire bus. Everything is off by default; switch it on and off while the board runs.</summary>
public sealed class BusTrouble(ulong seed = 1)
{
    private readonly Dice _dice = new(seed);

    /// <summary>The data line is held low: every transfer blocks for <see cref="HangUs"/> and then fails.</summary>
    public bool StuckData { get; set; }

    /// <summary>How long a transfer on a stuck bus blocks, µs (platform's public sources: up to 1 s).</summary>
    public long HangUs { get; set; } = 1_000_000;

    /// <summary>Addresses of chips that acknowledge nothing.</summary>
    public ISet<int> Deaf { get; } = new HashSet<int>();

    /// <summary>Transfers to these addresses throw an error of the runtime itself, such as a full memory.</summary>
    public IDictionary<int, Exception> Throwing { get; } = new Dictionary<int, Exception>();

    /// <summary>The clock runs this many times slower, as with a chip that stretches it.</summary>
    public int Slower { get; set; } = 1;

    /// <summary>Share of the bytes that arrive changed, in both directions, 0 to 1.</summary>
    public double GarbledShare { get; set; }

    /// <summary>How many transfers the trouble has affected.</summary>
    public long Hits { get; private set; }

    /// <summary>True when a transfer to an address goes unanswered.</summary>
    public bool Refuses(int address)
    {
        if (Throwing.TryGetValue(address, out Exception? error))
        {
            Hits++;
            throw error;
        }
        if (!Deaf.Contains(address)) return false;
        Hits++;
        return true;
    }

    /// <summary>True when the bus is stuck.</summary>
    public bool Hangs()
    {
        if (StuckData) Hits++;
        return StuckData;
    }

    /// <summary>Changes bytes on their way.</summary>
    public void Garble(Span<byte> bytes)
    {
        if (GarbledShare <= 0) return;
        for (int i = 0; i < bytes.Length; i++)
        {
            if (_dice.Fraction() >= GarbledShare) continue;
            bytes[i] ^= (byte)_dice.Whole(1, 255);
            Hits++;
        }
    }
}

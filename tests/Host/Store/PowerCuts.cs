using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.Tests.Host.Store;

/// <summary>The power is cut at every byte of a page write, in every way that the chip may take it.</summary>
internal static class PowerCuts
{
    private static readonly CutKind[] Kinds = Enum.GetValues<CutKind>();

    /// <summary>Makes each cut in turn on a second chip. When it returns, that chip has power again and holds what the cut has left.</summary>
    /// <param name="message">The write: two bytes of the address, then the data.</param>
    /// <param name="cells">What the chip held before.</param>
    /// <param name="trial">The second chip.</param>
    /// <returns>Where and how the power was cut, in words.</returns>
    public static IEnumerable<string> Each(byte[] message, byte[] cells, At24c32Model trial)
    {
        for (int at = 0; at <= message.Length; at++)
            foreach (CutKind kind in Kinds)
            {
                // Before the first data byte no write cycle can have begun, whatever the kind.
                if (at <= 2 && kind != CutKind.Old) continue;
                trial.PowerOn();
                trial.Fill(cells);
                if (at < message.Length) trial.CutAfter(at, kind);
                trial.Write(message);
                if (at == message.Length) trial.PowerOff(kind);
                trial.PowerOn();
                yield return $"byte {at}, {kind}";
            }
    }
}

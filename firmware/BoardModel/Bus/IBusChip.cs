namespace Intervalometer.VirtualBoard.Bus;

/// <summary>A chip model on the two-wire bus. False means that it did not acknowledge.</summary>
public interface IBusChip
{
    /// <summary>Takes the bytes of one transfer after the address.</summary>
    bool Write(ReadOnlySpan<byte> data);

    /// <summary>Gives the bytes of one transfer.</summary>
    bool Read(Span<byte> data);
}

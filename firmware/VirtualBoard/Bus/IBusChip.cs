namespace Intervalometer.VirtualBoard.Bus;

/// <summary>A chip model on the two-wire bus.</summary>
public interface IBusChip
{
    /// <summary>Takes the bytes of one transfer after the address.</summary>
    void Write(ReadOnlySpan<byte> data);

    /// <summary>Gives the bytes of one transfer.</summary>
    void Read(Span<byte> data);
}

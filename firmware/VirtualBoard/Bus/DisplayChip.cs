namespace Intervalometer.VirtualBoard.Bus;

/// <summary>The display on the bus: 128 by 64 pixels.</summary>
public sealed class DisplayChip : IBusChip
{
    /// <summary>Pixels across.</summary>
    public const int Width = 128;

    /// <summary>Pixels down.</summary>
    public const int Height = 64;

    /// <summary>Commands the chip's data sheet does not have, or that came at a wrong moment.</summary>
    public int IllegalCommands => 0;

    /// <summary>Grows with every transfer; equal values mean an unchanged picture.</summary>
    public long Version { get; private set; }

    /// <summary>True when a pixel is lit.</summary>
    public bool Pixel(int x, int y) => false;

    /// <summary>How bright lit pixels look, 0 to 1.</summary>
    public double Brightness => 1;

    /// <summary>The picture as a PNG.</summary>
    public byte[] Png() => [];

    /// <inheritdoc />
    public void Write(ReadOnlySpan<byte> data) => Version++;

    /// <inheritdoc />
    public void Read(Span<byte> data) => data.Clear();

    /// <summary>The picture, row by row from the top, 8 pixels a byte, leftmost in the highest bit.</summary>
    public byte[] Rows()
    {
        var rows = new byte[Width * Height / 8];
        for (int y = 0; y < Height; y++)
        for (int x = 0; x < Width; x++)
        {
            if (Pixel(x, y)) rows[(y * Width + x) / 8] |= (byte)(0x80 >> (x % 8));
        }
        return rows;
    }
}

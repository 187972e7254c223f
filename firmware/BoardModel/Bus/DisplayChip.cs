using Intervalometer.Drivers.Ssd1306;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.VirtualBoard.Bus;

/// <summary>The display on the bus.</summary>
public sealed class DisplayChip(DisplayKind kind) : IBusChip
{
    private static readonly byte[] Dark = new byte[Ssd1306Model.Width * Ssd1306Model.Height / 8];

    /// <summary>The chip and its panel.</summary>
    public Ssd1306Model Model { get; } = new(kind);

    /// <summary>Grows with every transfer; equal values mean an unchanged picture.</summary>
    public long Version { get; private set; }

    /// <inheritdoc />
    public bool Write(ReadOnlySpan<byte> data)
    {
        Version++;
        return Model.Write(data.ToArray());
    }

    /// <inheritdoc />
    public bool Read(Span<byte> data)
    {
        var bytes = new byte[data.Length];
        bool acknowledged = Model.Read(bytes);
        bytes.CopyTo(data);
        return acknowledged;
    }

    /// <summary>How bright lit pixels look, 0 to 1, by the chip's contrast.</summary>
    public double Brightness => Model.Contrast / 255.0;

    /// <summary>The picture, row by row from the top, 8 pixels a byte, leftmost in the highest bit.</summary>
    public byte[] Rows()
    {
        var rows = (byte[])Dark.Clone();
        for (int y = 0; y < Ssd1306Model.Height; y++)
            for (int x = 0; x < Ssd1306Model.Width; x++)
            {
                if (Model.Pixel(x, y)) rows[(y * Ssd1306Model.Width + x) / 8] |= (byte)(0x80 >> (x % 8));
            }
        return rows;
    }
}

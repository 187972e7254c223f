using Intervalometer.Drivers;
using Intervalometer.Drivers.Ssd1306;

namespace Intervalometer.VirtualBoard.Display;

/// <summary>
/// An SSD1306 or SSD1309 with a panel of 128 x 64 pixels, driven by the bytes of its bus: Solomon Systech, SSD1306 data sheet rev 1.1 (April
/// 2008). Whatever the data sheet forbids or leaves undefined is recorded in words in <see cref="Complaints"/>.
/// </summary>
/// <remarks>
/// The glass is that of the common module: fed by the chip's own charge pump alone (SSD1306) or by a converter on the module (SSD1309), COM lines wired alternately,
/// and upright with segment and COM re-map both set. Sections and tables are named where they are used; the numbers of
/// tables 10-1 and 10-2 are from memory.
/// </remarks>
public sealed class Ssd1306Model : ITwoWireDevice
{
    /// <summary>Columns of the glass.</summary>
    public const int Width = 128;

    /// <summary>Rows of the glass.</summary>
    public const int Height = 64;

    private const int MostComplaints = 1000;

    private readonly Lock _lock = new();
    private readonly Ssd1306Registers _registers;
    private readonly List<string> _complaints = [];

    /// <summary>A chip that has just been given power: registers at their reset values, memory full of noise.</summary>
    public Ssd1306Model(DisplayKind kind = DisplayKind.Ssd1306)
    {
        _registers = new Ssd1306Registers(Complain, kind);
        PowerCycle();
    }

    /// <summary>False while the plug is out: nothing is acknowledged, and nothing lights.</summary>
    public bool Connected { get; set; } = true;

    /// <summary>How many of the next writes are refused, as on a disturbed bus; each one counts it down.</summary>
    public int WritesToRefuse { get; set; }

    /// <summary>Bytes taken after the address, control bytes included, since construction.</summary>
    public long BytesReceived { get; private set; }

    /// <summary>Bytes written into the display memory since construction.</summary>
    public long DataBytesReceived => _registers.DataBytes;

    /// <summary>Transfers taken since construction.</summary>
    public long Transfers { get; private set; }

    /// <summary>Contrast, 0..255.</summary>
    public int Contrast => _registers.Contrast;

    /// <summary>The registers, for a closer look.</summary>
    public Ssd1306Registers Registers => _registers;

    /// <summary>What was sent against the data sheet, in words, oldest first; at most 1000.</summary>
    public IReadOnlyList<string> Complaints
    {
        get { lock (_lock) return _complaints.ToArray(); }
    }

    /// <summary>Takes the power away and gives it back: registers at their reset values, memory full of noise. Complaints and counts stay.</summary>
    public void PowerCycle()
    {
        lock (_lock) _registers.Reset();
    }

    /// <inheritdoc/>
    public bool Write(byte[] data)
    {
        lock (_lock)
        {
            if (!Connected) return false;
            if (WritesToRefuse > 0)
            {
                WritesToRefuse--;
                return false;
            }
            Transfers++;
            BytesReceived += data.Length;
            Decode(data);
            return true;
        }
    }

    /// <summary>Reads the status register into every byte: D6 is set while the display is off (table 9-2).</summary>
    public bool Read(byte[] data)
    {
        if (!Connected) return false;
        Array.Fill(data, (byte)(_registers.DisplayOn ? 0x00 : 0x40));
        return true;
    }

    /// <inheritdoc/>
    public bool WriteRead(byte[] output, byte[] input) => Write(output) && Read(input);

    /// <summary>Whether the eye sees the pixel lit; x from the left, y from the top.</summary>
    public bool Pixel(int x, int y)
    {
        if (x < 0 || y < 0 || x >= Width || y >= Height) throw new ArgumentOutOfRangeException(nameof(x), $"Pixel ({x}, {y}) is not on the glass of {Width} x {Height}.");
        return Connected && _registers.Glass(Width - 1 - x, Height - 1 - y);
    }

    /// <summary>A copy of the visible picture, row by row from the top, for threads other than the one that draws.</summary>
    public bool[] Picture()
    {
        lock (_lock)
        {
            var picture = new bool[Width * Height];
            for (int y = 0; y < Height; y++)
                for (int x = 0; x < Width; x++) picture[y * Width + x] = Pixel(x, y);
            return picture;
        }
    }

    // Section 8.1.5.2: a control byte (Co, D/C#, six zeros), then one byte (Co = 1) or all the rest (Co = 0).
    private void Decode(byte[] data)
    {
        if (data.Length == 0) return;
        int i = 0;
        while (i < data.Length)
        {
            byte control = data[i++];
            if ((control & 0x3F) != 0)
            {
                Complain($"control byte 0x{control:X2}: its low six bits must be 0; the rest of the transfer is ignored");
                return;
            }
            bool isData = (control & 0x40) != 0;
            int end = (control & 0x80) != 0 ? i + 1 : data.Length;
            if (i >= data.Length)
            {
                Complain($"control byte 0x{control:X2} at the end of a transfer: nothing follows it");
                return;
            }
            for (; i < end; i++)
            {
                if (isData) _registers.Data(data[i]);
                else _registers.Command(data[i]);
            }
        }
    }

    private void Complain(string words)
    {
        if (_complaints.Count < MostComplaints) _complaints.Add(words);
    }
}

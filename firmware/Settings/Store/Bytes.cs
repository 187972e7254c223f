namespace Intervalometer.Settings.Store;

/// <summary>Writes numbers as bytes and reads them back, lowest byte first. Writing past the end is refused and remembered; reading past the end gives the fallback that the reader names.</summary>
public sealed class Bytes
{
    private byte[] _data;
    private int _end;

    /// <summary>Creates a reader and writer at the start of an array.</summary>
    /// <param name="data">The array.</param>
    /// <param name="end">How many of its bytes may be used.</param>
    public Bytes(byte[] data, int end)
    {
        _data = data;
        _end = end;
    }

    /// <summary>The index of the next byte; after writing, it is the number of bytes written.</summary>
    public int At { get; private set; }

    /// <summary>True when something did not fit, or a value that was read lay outside its range.</summary>
    public bool Bad { get; private set; }

    /// <summary>True when something was read past the end.</summary>
    public bool Ended { get; private set; }

    /// <summary>True when every value was sound and the bytes were read exactly to their end.</summary>
    public bool Whole => !Bad && !Ended && At == _end;

    /// <summary>Starts again at the beginning of an array.</summary>
    public void Restart(byte[] data, int end)
    {
        _data = data;
        _end = end;
        At = 0;
        Bad = false;
        Ended = false;
    }

    /// <summary>Skips a number of bytes.</summary>
    public void Skip(int bytes) => At += bytes;

    /// <summary>Writes the lowest bytes of a number; a number below zero goes in two's complement.</summary>
    /// <param name="value">The number.</param>
    /// <param name="size">How many bytes, 1 to 8.</param>
    public void Put(long value, int size)
    {
        if (At + size > _end)
        {
            Bad = true;
            return;
        }
        for (int i = 0; i < size; i++)
        {
            _data[At] = (byte)(value & 0xFF);
            value >>= 8;
            At++;
        }
    }

    /// <summary>Writes true as 1 and false as 0.</summary>
    public void PutFlag(bool value) => Put(value ? 1 : 0, 1);

    /// <summary>
    /// Reads a number that was written with <see cref="Put"/>. Past the end it returns the fallback, so that a field which was added
    /// later keeps its value when an older record is read.
    /// </summary>
    /// <param name="size">How many bytes, 1 to 8.</param>
    /// <param name="low">Lowest value allowed.</param>
    /// <param name="high">Highest value allowed.</param>
    /// <param name="fallback">The result when the record ends here, or when the value is outside its range.</param>
    public long Take(int size, long low, long high, long fallback)
    {
        if (At + size > _end)
        {
            if (At < _end) Bad = true;
            At = _end;
            Ended = true;
            return fallback;
        }
        long value = 0;
        for (int i = size - 1; i >= 0; i--)
        {
            long part = _data[At + i];
            value = (value << 8) | part;
        }
        At += size;
        bool signed = low < 0;
        if (signed && size < 8)
        {
            long half = 1L << (size * 8 - 1);
            if (value >= half) value -= half << 1;
        }
        if (value >= low && value <= high) return value;
        Bad = true;
        return fallback;
    }

    /// <summary>Reads a number that fits an int.</summary>
    public int TakeInt(int size, int low, int high, int fallback)
    {
        long value = Take(size, low, high, fallback);
        return (int)value;
    }

    /// <summary>Writes text into a fixed number of bytes: one byte a character, then zeros. A character outside 32 to 126 becomes a question mark.</summary>
    /// <param name="text">The text, which is cut when it is too long.</param>
    /// <param name="room">How many bytes it takes.</param>
    public void PutText(string text, int room)
    {
        for (int i = 0; i < room; i++)
        {
            int letter = i >= text.Length ? 0 : text[i] >= ' ' && text[i] <= '~' ? text[i] : '?';
            Put(letter, 1);
        }
    }

    /// <summary>Reads text that was written with <see cref="PutText"/>. Text that is empty or has other characters counts as bad.</summary>
    public string TakeText(int room)
    {
        string text = "";
        bool over = false;
        for (int i = 0; i < room; i++)
        {
            int letter = TakeInt(1, 0, '~', 0);
            if (letter > 0 && (over || letter < ' ')) Bad = true;
            if (letter == 0) over = true;
            else text += (char)letter;
        }
        if (text.Length == 0) Bad = true;
        return text;
    }

    /// <summary>Reads a flag.</summary>
    public bool TakeFlag(bool fallback) => TakeInt(1, 0, 1, fallback ? 1 : 0) == 1;
}

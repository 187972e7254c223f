namespace Intervalometer.Settings.Store;

/// <summary>Numbers to and from bytes, lowest byte first. Writing past the end is refused and remembered, reading past it gives what the reader asks for.</summary>
public sealed class Bytes
{
    private byte[] _data;
    private int _end;

    /// <summary>Works on an array from its start.</summary>
    /// <param name="data">The array.</param>
    /// <param name="end">How many of its bytes may be used.</param>
    public Bytes(byte[] data, int end)
    {
        _data = data;
        _end = end;
    }

    /// <summary>Where the next byte goes or comes from; after writing, the number of bytes written.</summary>
    public int At { get; private set; }

    /// <summary>True when something did not fit, or a value that was read lay outside its range.</summary>
    public bool Bad { get; private set; }

    /// <summary>True when something was read past the end.</summary>
    public bool Ended { get; private set; }

    /// <summary>True when everything was sound and every byte was read, none twice and none left over.</summary>
    public bool Whole => !Bad && !Ended && At == _end;

    /// <summary>Begins anew on an array.</summary>
    public void Restart(byte[] data, int end)
    {
        _data = data;
        _end = end;
        At = 0;
        Bad = false;
        Ended = false;
    }

    /// <summary>Goes on a number of bytes further.</summary>
    public void Skip(int bytes) => At += bytes;

    /// <summary>Writes the lowest bytes of a number; below zero in two's complement.</summary>
    /// <param name="value">The number.</param>
    /// <param name="size">Bytes, 1 to 8.</param>
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
    /// Reads a number that was written with <see cref="Put"/>. Past the end it gives the fallback: a field that was added
    /// later keeps its value when an older record is read.
    /// </summary>
    /// <param name="size">Bytes, 1 to 8.</param>
    /// <param name="low">Lowest value allowed.</param>
    /// <param name="high">Highest value allowed.</param>
    /// <param name="fallback">Given when the record ends here, and for a value outside its range.</param>
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

    /// <summary>Writes text in a fixed room: one byte a letter, then zeros. A letter that is not plain (32 to 126) becomes a question mark.</summary>
    /// <param name="text">The text; cut to the room.</param>
    /// <param name="room">Bytes.</param>
    public void PutText(string text, int room)
    {
        for (int i = 0; i < room; i++)
        {
            int letter = i >= text.Length ? 0 : text[i] >= ' ' && text[i] <= '~' ? text[i] : '?';
            Put(letter, 1);
        }
    }

    /// <summary>Reads text written with <see cref="PutText"/>. Text that is empty or not plain is bad.</summary>
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

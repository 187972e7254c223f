namespace Intervalometer.Screens;

/// <summary>A line of up to 40 characters that is put together without allocating: clear it, add to it, draw it.</summary>
public sealed class FrameText
{
    /// <summary>The most characters a line can hold; more are dropped and counted in <see cref="Dropped"/>.</summary>
    public const int Capacity = 40;

    /// <summary>How many characters the line has.</summary>
    public int Length { get; private set; }

    /// <summary>How many characters found no room since construction. A test should see none.</summary>
    public int Dropped { get; private set; }

    /// <summary>The character at an index from 0 to <see cref="Length"/> - 1.</summary>
    public char this[int index] => Characters[index];

    internal char[] Characters { get; } = new char[Capacity];

    private readonly char[] _digits = new char[32];

    /// <summary>Empties the line.</summary>
    /// <returns>This line.</returns>
    public FrameText Clear()
    {
        Length = 0;
        return this;
    }

    /// <summary>Adds one character.</summary>
    /// <returns>This line.</returns>
    public FrameText Add(char c)
    {
        if (Length >= Capacity) Dropped++;
        else Characters[Length++] = c;
        return this;
    }

    /// <summary>Adds a string.</summary>
    /// <returns>This line.</returns>
    public FrameText Add(string text)
    {
        for (int i = 0; i < text.Length; i++) Add(text[i]);
        return this;
    }

    /// <summary>Adds a whole number divided by ten to the power <paramref name="decimals"/>: 1234 with 2 is 12.34.</summary>
    /// <param name="value">The digits; a negative value gets a minus.</param>
    /// <param name="decimals">Digits after the point, 0..9.</param>
    /// <param name="wholeDigits">The fewest digits before the point, 1..20; missing ones are filled with zeros.</param>
    /// <returns>This line.</returns>
    public FrameText AddNumber(long value, int decimals = 0, int wholeDigits = 1)
    {
        if (decimals < 0) decimals = 0;
        if (decimals > 9) decimals = 9;
        if (wholeDigits > 20) wholeDigits = 20;
        if (value < 0) Add('-');
        int least = decimals + (wholeDigits < 1 ? 1 : wholeDigits);
        int count = 0;
        while (value != 0 || count < least)
        {
            // The remainder has the sign of the value, so long.MinValue needs no special care.
            int digit = (int)(value % 10);
            if (digit < 0) digit = -digit;
            _digits[count++] = (char)('0' + digit);
            value /= 10;
        }
        while (count > 0)
        {
            if (count == decimals) Add('.');
            Add(_digits[--count]);
        }
        return this;
    }

    /// <summary>Adds a duration in whole seconds as s, m:ss or h:mm:ss: 7 is "7", 75 is "1:15", 3600 is "1:00:00".</summary>
    /// <returns>This line.</returns>
    public FrameText AddSeconds(long seconds)
    {
        if (seconds < 0)
        {
            Add('-');
            seconds = -seconds;
        }
        if (seconds < 60) return AddNumber(seconds);
        return AddClock(seconds, seconds >= 3600);
    }

    /// <summary>Adds seconds as m:ss, or as h:mm:ss with <paramref name="hours"/>. A value below 0 shows as 0.</summary>
    /// <returns>This line.</returns>
    public FrameText AddClock(long seconds, bool hours)
    {
        if (seconds < 0) seconds = 0;
        if (hours)
        {
            AddNumber(seconds / 3600);
            Add(':');
            AddNumber(seconds / 60 % 60, 0, 2);
        }
        else
        {
            AddNumber(seconds / 60);
        }
        Add(':');
        return AddNumber(seconds % 60, 0, 2);
    }
}

using System;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>Changes of the watched outputs, kept until there is time to print them. Recording one allocates nothing.</summary>
public sealed class EdgeLog
{
    private const int Room = 64;

    private readonly long[] _atUs = new long[Room];
    private readonly byte[] _what = new byte[Room];
    private int _written;
    private int _printed;

    /// <summary>Keeps a change.</summary>
    public void Note(int pin, bool high)
    {
        if (!Script.Watches(pin)) return;
        if (_written - _printed == Room)
        {
            Bench.Fault("more edges than there is room for");
            return;
        }
        int at = _written % Room;
        _atUs[at] = BoardClock.NowUs;
        _what[at] = (byte)(pin * 2 + (high ? 1 : 0));
        _written++;
    }

    /// <summary>Prints what is kept: time in µs, pin, level.</summary>
    public void Print()
    {
        while (_printed < _written)
        {
            int at = _printed % Room;
            Console.WriteLine("edge " + _atUs[at].ToString() + " " + (_what[at] / 2).ToString() + " " + (_what[at] % 2).ToString());
            _printed++;
        }
    }
}

using System;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>
/// The light sensor (VEML7700, data sheet 84286, command register format): shut down at power-on, words of 16 bits with the low byte
/// first, and a data register that holds the mean of the last whole measurement. While the script lets no light fall on it, it acknowledges nothing.
/// </summary>
public sealed class LightChip
{
    private const int AlsConf0 = 0;
    private const int Als = 4;
    private const int Codes = 8;
    private const int ShutDown = 1;
    private const int Reserved = 0xE40C;

    // From the end of the shut-down to the first measurement, as on the virtual board, µs.
    private const int SettleUs = 4_000;

    private readonly object _turn = new object();
    private int _command;
    private int _conf = ShutDown;
    private long _beganUs;
    private int _counts;
    private int _before;
    private int _milli;
    private long _changedUs;

    /// <summary>A new light falls on the sensor, in thousandths of the lx that its counts stand for; 0 makes it silent. It changes at most once in a measurement.</summary>
    public void Shine(int milli)
    {
        lock (_turn)
        {
            _before = _milli;
            _changedUs = BoardClock.NowUs;
            _milli = milli;
        }
    }

    /// <summary>Takes one message. False when it is not acknowledged.</summary>
    public bool Write(SpanByte message)
    {
        int length = message.Length;
        if (_milli == 0) return false;
        if (length == 0) return true;
        _command = message[0];
        if (length == 1) return true;
        if (length != 3 || _command >= Als) Bench.Fault("the light sensor has no such register to write");
        else if (_command == AlsConf0) Set(message[1] | (message[2] << 8));
        return true;
    }

    /// <summary>Fills a buffer. False when it is not acknowledged.</summary>
    public bool Read(SpanByte into)
    {
        int length = into.Length;
        if (_milli == 0) return false;
        if (length != 2 || _command >= Codes) Bench.Fault("the light sensor has no such register to read");
        int word = _command == AlsConf0 ? _conf : _command == Als ? Measured() : 0;
        for (int i = 0; i < length; i++) into[i] = (byte)(word >> (8 * (i & 1)));
        return true;
    }

    private void Set(int word)
    {
        if ((word & Reserved) != 0 || LightScale.IntegrationMs(word) == 0) Bench.Fault("the light sensor does not know the settings " + word.ToString());
        _beganUs = BoardClock.NowUs + ((_conf & ShutDown) != 0 ? SettleUs : 0);
        _conf = word;
    }

    private int Measured()
    {
        long eachUs = LightScale.IntegrationMs(_conf) * 1000;
        long pastUs = BoardClock.NowUs - _beganUs;
        if ((_conf & ShutDown) != 0 || eachUs == 0 || pastUs < eachUs)
        {
            Bench.Fault("the light sensor was read before it had measured");
            return _counts;
        }
        lock (_turn)
        {
            // How much of the last whole measurement lay after the change of the light.
            long afterUs = _beganUs + pastUs / eachUs * eachUs - _changedUs;
            if (afterUs < 0) afterUs = 0;
            if (afterUs > eachUs) afterUs = eachUs;
            _counts = LightScale.Counts((_before * (eachUs - afterUs) + _milli * afterUs) / eachUs, _conf);
        }
        return _counts;
    }
}

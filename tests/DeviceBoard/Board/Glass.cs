using System;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>
/// The display as the firmware drives it, with page addressing and whole pages. It keeps a checksum of each page and not the page (unless a script
/// wants pictures printed). Command codes: Solomon Systech, SSD1306 data sheet rev 1.1, table 9-1.
/// </summary>
public sealed class Glass
{
    /// <summary>Pages of eight rows.</summary>
    public const int Pages = 8;

    private const int Columns = 128;
    private const int CommandStream = 0x00;
    private const int OneCommand = 0x80;
    private const int DataStream = 0x40;

    private readonly int[] _sums = new int[Pages];
    private readonly byte[]? _bits;
    private readonly Sums _shown = new Sums();
    private bool _recording;
    private int _page;
    private int _column;
    private int _argumentOf = -1;

    /// <summary>A display that has just been given power.</summary>
    public Glass(bool keepBits)
    {
        if (keepBits) _bits = new byte[Pages * Columns];
    }

    /// <summary>Lit.</summary>
    public bool On { get; private set; }

    /// <summary>Dark as lit.</summary>
    public bool Inverse { get; private set; }

    /// <summary>Contrast.</summary>
    public int Contrast { get; private set; } = 0x7F;

    /// <summary>One number for the visible picture.</summary>
    public int Sum
    {
        get
        {
            int sum = (Contrast << 2) | (Inverse ? 2 : 0) | (On ? 1 : 0);
            for (int i = 0; i < Pages; i++) sum = sum * 31 + _sums[i];
            return sum;
        }
    }

    /// <summary>Records what is shown from now on, after every page that arrives, so that no whole picture is missed.</summary>
    public void Record()
    {
        _shown.Clear();
        _shown.Add(Sum);
        _recording = true;
    }

    /// <summary>Ends a recording: the numbers of what was shown, the newest first, each after a space.</summary>
    public string Recorded()
    {
        _recording = false;
        return _shown.Words();
    }

    /// <summary>The numbers of the pages, for people who look for a difference.</summary>
    public string PageSums()
    {
        string text = "";
        for (int i = 0; i < Pages; i++) text += " " + _sums[i].ToString("X8");
        return text;
    }

    /// <summary>One page in hexadecimal digits, column by column; empty when pictures are not kept.</summary>
    public string PageBits(int page)
    {
        if (_bits == null) return "";
        char[] text = new char[Columns * 2];
        for (int i = 0; i < Columns; i++) Hex.Put(_bits[page * Columns + i], text, i * 2);
        return new string(text);
    }

    /// <summary>Takes one message from the bus.</summary>
    public void Write(SpanByte message)
    {
        int length = message.Length;
        int i = 0;
        while (i < length)
        {
            int control = message[i];
            i++;
            if (control == DataStream)
            {
                TakePage(message, i, length);
                return;
            }
            if (control == OneCommand)
            {
                if (i < length) Command(message[i]);
                i++;
            }
            else if (control == CommandStream)
            {
                for (; i < length; i++) Command(message[i]);
            }
            else
            {
                Bench.Fault("display: control byte " + control.ToString());
                return;
            }
        }
    }

    private void TakePage(SpanByte message, int from, int length)
    {
        if (_column != 0 || length - from != Columns)
        {
            Bench.Fault("display: not a whole page");
            return;
        }
        // FNV-1a with 32 bits (Fowler, Noll, Vo; offset and prime from memory).
        int sum = -2128831035;
        for (int i = from; i < length; i++) sum = (sum ^ message[i]) * 16777619;
        _sums[_page] = sum;
        if (_recording) _shown.Add(Sum);
        if (_bits == null) return;
        for (int i = 0; i < Columns; i++) _bits[_page * Columns + i] = message[from + i];
    }

    private void Command(int code)
    {
        int argumentOf = _argumentOf;
        _argumentOf = -1;
        if (argumentOf >= 0)
        {
            if (argumentOf == 0x81) Contrast = code;
            if (argumentOf == 0xDB && code != 0x00 && code != 0x34 && code != 0x3C) Bench.Fault("display: level " + code.ToString());
            if (argumentOf == 0x20 && code != 2) Bench.Fault("display: not in page addressing");
        }
        else if (code <= 0x0F) _column = (_column & 0xF0) | code;
        else if (code <= 0x1F) _column = (_column & 0x0F) | ((code & 0x0F) << 4);
        else if (code >= 0xB0 && code <= 0xB7) _page = code & 7;
        else if (code == 0xAE || code == 0xAF) On = code == 0xAF;
        else if (code == 0xA6 || code == 0xA7) Inverse = code == 0xA7;
        else if (code == 0x20 || code == 0x81 || code == 0xA8 || code == 0xD3 || code == 0xD5 || code == 0xD9 || code == 0xDA || code == 0xDB) _argumentOf = code;
        // The chip of the 2.42 inch module, SSD1309: it has no charge pump, so 8Dh is refused; E3h is no operation.
        else if (code != 0xE3 && code != 0x2E && code != 0xA1 && code != 0xA4 && code != 0xC8 && (code < 0x40 || code > 0x7F)) Bench.Fault("display: command " + code.ToString());
    }
}

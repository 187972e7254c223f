using Intervalometer.Drivers.Ssd1306;

namespace Intervalometer.VirtualBoard.Display;

/// <summary>How the memory pointer moves (command 20h, section 10.1.3).</summary>
public enum Ssd1306Addressing
{
    /// <summary>Along the column window, then to the next page of the page window.</summary>
    Horizontal = 0,

    /// <summary>Down the page window, then to the next column of the column window.</summary>
    Vertical = 1,

    /// <summary>Along all columns of one page, and round again.</summary>
    Page = 2,
}

/// <summary>The chip behind its bus: commands (table 9-1), registers, memory, and what they drive on the glass.</summary>
public sealed class Ssd1306Registers
{
    private readonly byte[] _memory = new byte[8 * 128];
    private readonly Action<string> _complain;
    private readonly byte[] _message = new byte[8];
    private int _have;
    private int _need;
    private int _page;
    private int _column;
    private int _pageModeColumn;
    private bool _scrollSetUp;

    private readonly bool _is1309;

    internal Ssd1306Registers(Action<string> complain, DisplayKind kind)
    {
        _complain = complain;
        _is1309 = kind == DisplayKind.Ssd1309;
    }

    /// <summary>Commands are locked out (FDh 16h; SSD1309 alone).</summary>
    public bool Locked { get; private set; }

    /// <summary>Contrast, 0..255 (81h).</summary>
    public int Contrast { get; private set; }

    /// <summary>Display on (AFh) or asleep (AEh).</summary>
    public bool DisplayOn { get; private set; }

    /// <summary>Inverse display (A7h).</summary>
    public bool Inverse { get; private set; }

    /// <summary>Every pixel lit whatever the memory holds (A5h).</summary>
    public bool EntireOn { get; private set; }

    /// <summary>Charge pump enabled (8Dh 14h).</summary>
    public bool ChargePump { get; private set; }

    /// <summary>Addressing mode (20h).</summary>
    public Ssd1306Addressing Addressing { get; private set; }

    /// <summary>First column of the window (21h).</summary>
    public int ColumnStart { get; private set; }

    /// <summary>Last column of the window (21h).</summary>
    public int ColumnEnd { get; private set; }

    /// <summary>First page of the window (22h).</summary>
    public int PageStart { get; private set; }

    /// <summary>Last page of the window (22h).</summary>
    public int PageEnd { get; private set; }

    /// <summary>Memory row shown first (40h..7Fh).</summary>
    public int StartLine { get; private set; }

    /// <summary>Rows driven, 16..64 (A8h).</summary>
    public int Multiplex { get; private set; }

    /// <summary>Vertical shift in COM lines (D3h).</summary>
    public int Offset { get; private set; }

    /// <summary>Column 127 is SEG0 (A1h); holds for data written afterwards.</summary>
    public bool SegmentRemap { get; private set; }

    /// <summary>COM lines scanned downwards (C8h).</summary>
    public bool ComRemap { get; private set; }

    /// <summary>COM lines brought out alternately (DAh, A[4]).</summary>
    public bool AlternativeComPins { get; private set; }

    /// <summary>Left and right COM lines exchanged (DAh, A[5]).</summary>
    public bool ComLeftRight { get; private set; }

    /// <summary>A scroll runs (2Fh).</summary>
    public bool Scrolling { get; private set; }

    /// <summary>The last scroll that was set up, as its bytes (26h, 27h, 29h, 2Ah); empty when none was.</summary>
    public byte[] ScrollSetup { get; private set; } = [];

    /// <summary>Fixed rows at the top, and rows that scroll (A3h).</summary>
    public (int Fixed, int Scrolled) VerticalScrollArea { get; private set; }

    /// <summary>Clock divide ratio and oscillator frequency (D5h).</summary>
    public int Clock { get; private set; }

    /// <summary>Pre-charge period (D9h).</summary>
    public int Precharge { get; private set; }

    /// <summary>V_COMH deselect level (DBh).</summary>
    public int VcomhLevel { get; private set; }

    internal long DataBytes { get; private set; }

    /// <summary>A byte of memory as it lies: page 0..7, segment 0..127.</summary>
    public byte Memory(int page, int segment) => _memory[page * 128 + segment];

    // The reset values of table 9-1 and section 8.5.
    internal void Reset()
    {
        new Random(1306).NextBytes(_memory);
        Contrast = 0x7F;
        DisplayOn = Inverse = EntireOn = ChargePump = SegmentRemap = ComRemap = ComLeftRight = Scrolling = _scrollSetUp = false;
        AlternativeComPins = true;
        Addressing = Ssd1306Addressing.Page;
        ColumnStart = PageStart = StartLine = Offset = 0;
        ColumnEnd = 127;
        PageEnd = 7;
        Multiplex = 64;
        ScrollSetup = [];
        VerticalScrollArea = (0, 64);
        Clock = _is1309 ? 0x70 : 0x80;
        Precharge = 0x22;
        VcomhLevel = _is1309 ? 0x34 : 0x20;
        Locked = false;
        _have = _need = _page = _column = _pageModeColumn = 0;
    }

    internal void Command(byte value)
    {
        if (_have == 0) _need = 1 + Arguments(value);
        _message[_have++] = value;
        if (_have < _need) return;
        _have = 0;
        Execute();
    }

    internal void Data(byte value)
    {
        if (_have != 0)
        {
            _complain($"data while command {Name(_message[0])} still waits for {_need - _have} argument(s); the command is dropped");
            _have = 0;
        }
        if (Scrolling) _complain("data written while a scroll runs: its place in memory is undefined");
        DataBytes++;
        _memory[_page * 128 + (SegmentRemap ? 127 - _column : _column)] = value;
        switch (Addressing)
        {
            case Ssd1306Addressing.Page:
                _column = (_column + 1) & 127;
                break;
            case Ssd1306Addressing.Horizontal:
                if (NextColumn()) NextPage();
                break;
            default:
                if (NextPage()) NextColumn();
                break;
        }
    }

    /// <summary>Whether the chip drives the glass where a segment line crosses a COM line of the alternately wired glass, counted from line 0.</summary>
    internal bool Glass(int segment, int line)
    {
        if (!DisplayOn || (!ChargePump && !_is1309)) return false;
        int pin = (line >> 1) + (line & 1) * 32;
        if (ComLeftRight) pin ^= 32;
        int com = AlternativeComPins ? (pin & 31) * 2 + (pin >> 5) : pin;
        // Tables 10-1 and 10-2: which row of memory a COM line shows, given multiplex, offset and start line.
        int row = (ComRemap ? Multiplex - 1 + Offset - com : com + Offset) & 63;
        if (row >= Multiplex) return false;
        if (EntireOn) return true;
        int line0 = (row + StartLine) & 63;
        bool bit = (_memory[(line0 >> 3) * 128 + segment] >> (line0 & 7) & 1) != 0;
        return bit != Inverse;
    }

    private bool NextColumn()
    {
        bool wrap = _column == ColumnEnd;
        _column = wrap ? ColumnStart : (_column + 1) & 127;
        return wrap;
    }

    private bool NextPage()
    {
        bool wrap = _page == PageEnd;
        _page = wrap ? PageStart : (_page + 1) & 7;
        return wrap;
    }

    private int Arguments(byte command) => command switch
    {
        0x8D when _is1309 => 0,
        0xFD or 0xDC when _is1309 => 1,
        0x20 or 0x81 or 0x8D or 0xA8 or 0xD3 or 0xD5 or 0xD9 or 0xDA or 0xDB => 1,
        0x21 or 0x22 or 0xA3 => 2,
        0x29 or 0x2A => 5,
        0x26 or 0x27 => 6,
        _ => 0,
    };

    private static string Name(byte command) => $"{command:X2}h";

    private void Execute()
    {
        byte command = _message[0];
        int a = _message[1], b = _message[2];
        if (Locked && command != 0xFD)
        {
            Bad(command, "commands are locked (FDh 16h)");
            return;
        }
        switch (command)
        {
            case 0x8D when _is1309:
                Bad(command, "the SSD1309 has no charge pump");
                break;
            case 0xFD when _is1309:
                if (a is not (0x12 or 0x16)) Bad(command, $"command lock {a:X2}h does not exist (12h, 16h)");
                else Locked = a == 0x16;
                break;
            case 0xDC when _is1309:
                if (a > 3) Bad(command, $"GPIO setting {a:X2}h does not exist (00h to 03h)");
                break;
            case (>= 0x26 and <= 0x2A) or 0x2F when _is1309:
                Bad(command, "scrolling has other arguments on the SSD1309; this model has none");
                break;
            case <= 0x0F:
                if (PageMode(command)) SetColumn((_pageModeColumn & 0x70) | command);
                break;
            case <= 0x1F:
                if ((command & 0x08) != 0) Bad(command, $"column bits {command & 0x0F:X}0h lie beyond column 127");
                else if (PageMode(command)) SetColumn((command & 0x07) << 4 | (_pageModeColumn & 0x0F));
                break;
            case 0x20:
                if (a > 2) Bad(command, $"addressing mode {a:X2}h does not exist (00h, 01h, 02h)");
                else Addressing = (Ssd1306Addressing)a;
                break;
            case 0x21:
                if (!WindowMode(command)) break;
                if (a > 127 || b > 127 || a > b) { Bad(command, $"column window {a}..{b} is not within 0..127"); break; }
                (ColumnStart, ColumnEnd, _column) = (a, b, a);
                break;
            case 0x22:
                if (!WindowMode(command)) break;
                if (a > 7 || b > 7 || a > b) { Bad(command, $"page window {a}..{b} is not within 0..7"); break; }
                (PageStart, PageEnd, _page) = (a, b, a);
                break;
            case 0x26 or 0x27 or 0x29 or 0x2A: SetUpScroll(command); break;
            case 0x2E: Scrolling = false; break;
            case 0x2F:
                if (_scrollSetUp) Scrolling = true;
                else Bad(command, "scroll activated before any scroll was set up");
                break;
            case >= 0x40 and <= 0x7F: StartLine = command & 0x3F; break;
            case 0x81: Contrast = a; break;
            case 0x8D:
                if (a is not (0x10 or 0x14)) Bad(command, $"charge pump setting {a:X2}h does not exist (10h, 14h)");
                else ChargePump = a == 0x14;
                break;
            case 0xA0 or 0xA1: SegmentRemap = command == 0xA1; break;
            case 0xA3:
                if (a > 63 || b > 127 || a + b > Multiplex) Bad(command, $"vertical scroll area of {a} fixed and {b} scrolled rows exceeds {Multiplex} rows");
                else VerticalScrollArea = (a, b);
                break;
            case 0xA4 or 0xA5: EntireOn = command == 0xA5; break;
            case 0xA6 or 0xA7: Inverse = command == 0xA7; break;
            case 0xA8:
                if (a is < 15 or > 63) Bad(command, $"multiplex ratio {a} is not within 15..63");
                else Multiplex = a + 1;
                break;
            case 0xAE or 0xAF: DisplayOn = command == 0xAF; break;
            case >= 0xB0 and <= 0xB7:
                if (PageMode(command)) _page = command & 7;
                break;
            case 0xC0 or 0xC8: ComRemap = command == 0xC8; break;
            case 0xD3:
                if (a > 63) Bad(command, $"display offset {a} is not within 0..63");
                else Offset = a;
                break;
            case 0xD5: Clock = a; break;
            case 0xD9:
                if ((a & 0x0F) == 0 || (a & 0xF0) == 0) Bad(command, $"pre-charge period {a:X2}h has a phase of 0 clocks");
                else Precharge = a;
                break;
            case 0xDA:
                if ((a & 0xCF) != 0x02) Bad(command, $"COM pins configuration {a:X2}h does not exist (02h, 12h, 22h, 32h)");
                else (AlternativeComPins, ComLeftRight) = ((a & 0x10) != 0, (a & 0x20) != 0);
                break;
            case 0xDB:
                if (_is1309 && a is not (0x00 or 0x34 or 0x3C)) Bad(command, $"V_COMH level {a:X2}h does not exist (00h, 34h, 3Ch)");
                else if (!_is1309 && a is not (0x00 or 0x20 or 0x30)) Bad(command, $"V_COMH level {a:X2}h does not exist (00h, 20h, 30h)");
                else VcomhLevel = a;
                break;
            case 0xE3: break;
            default: Bad(command, "no such command"); break;
        }
    }

    private void SetColumn(int column) => _column = _pageModeColumn = column;

    private bool PageMode(byte command)
    {
        if (Addressing == Ssd1306Addressing.Page) return true;
        Bad(command, "works in page addressing mode only");
        return false;
    }

    private bool WindowMode(byte command)
    {
        if (Addressing != Ssd1306Addressing.Page) return true;
        Bad(command, "works in horizontal or vertical addressing mode only");
        return false;
    }

    private void SetUpScroll(byte command)
    {
        bool vertical = command is 0x29 or 0x2A;
        int start = _message[2], interval = _message[3], end = _message[4], last = _message[5];
        if (_message[1] != 0) Bad(command, $"dummy byte {_message[1]:X2}h must be 00h");
        else if (start > 7 || end > 7 || end < start) Bad(command, $"scrolled pages {start}..{end} are not within 0..7");
        else if (interval > 7) Bad(command, $"scroll interval {interval} is not within 0..7");
        else if (vertical && last is < 1 or > 63) Bad(command, $"vertical scroll of {last} rows is not within 1..63");
        else if (!vertical && (last != 0x00 || _message[6] != 0xFF)) Bad(command, $"dummy bytes {last:X2}h {_message[6]:X2}h must be 00h FFh");
        else if (Scrolling) Bad(command, "scroll set up while a scroll runs: deactivate it (2Eh) first");
        else
        {
            ScrollSetup = _message[.._need];
            _scrollSetUp = true;
        }
    }

    private void Bad(byte command, string why) => _complain($"command {Name(command)}: {why}");
}

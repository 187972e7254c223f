namespace Intervalometer.Drivers.Ssd1306;

/// <summary>
/// The bytes that the display chip takes, apart from how they are sent. Names and codes are from Solomon Systech, SSD1306 data sheet
/// rev 1.1 (April 2008), table 9-1 "Command table"; those of the charge pump from its application note; and what differs on the SSD1309
/// from its data sheet rev 1.0 (from memory). Every message starts with the
/// control byte of section 8.1.5.2.
/// </summary>
public static class Ssd1306Commands
{
    /// <summary>Co = 0, D/C# = 0: every byte that follows is a command or its argument.</summary>
    public const byte CommandStream = 0x00;

    /// <summary>Co = 1, D/C# = 0: one command byte follows, then another control byte.</summary>
    public const byte OneCommand = 0x80;

    /// <summary>Co = 0, D/C# = 1: every byte that follows is display data.</summary>
    public const byte DataStream = 0x40;

    /// <summary>Set lower column start address for page addressing mode; the low four bits are the value.</summary>
    public const byte SetLowerColumnStart = 0x00;

    /// <summary>Set higher column start address for page addressing mode; the low four bits are the value.</summary>
    public const byte SetHigherColumnStart = 0x10;

    /// <summary>Set memory addressing mode; an argument follows.</summary>
    public const byte SetMemoryAddressingMode = 0x20;

    /// <summary>Argument of <see cref="SetMemoryAddressingMode"/>: page addressing.</summary>
    public const byte PageAddressing = 0x02;

    /// <summary>Deactivate scroll.</summary>
    public const byte DeactivateScroll = 0x2E;

    /// <summary>Set display start line; the low six bits are the line.</summary>
    public const byte SetDisplayStartLine = 0x40;

    /// <summary>Set contrast control; an argument 0..255 follows, 0x7F after reset.</summary>
    public const byte SetContrast = 0x81;

    /// <summary>Charge pump setting; an argument follows.</summary>
    public const byte ChargePumpSetting = 0x8D;

    /// <summary>Argument of <see cref="ChargePumpSetting"/>: pump on while the display is on.</summary>
    public const byte EnableChargePump = 0x14;

    /// <summary>Set segment re-map: column 127 is SEG0, for a panel mounted with its flexible cable at the top.</summary>
    public const byte SetSegmentRemap = 0xA1;

    /// <summary>Entire display on: show the memory's contents again.</summary>
    public const byte FollowMemory = 0xA4;

    /// <summary>Set normal display: a 1 in memory is a lit pixel.</summary>
    public const byte SetNormalDisplay = 0xA6;

    /// <summary>Set inverse display: a 0 in memory is a lit pixel.</summary>
    public const byte SetInverseDisplay = 0xA7;

    /// <summary>Set multiplex ratio; an argument of rows - 1 (15..63) follows.</summary>
    public const byte SetMultiplexRatio = 0xA8;

    /// <summary>Set display off (sleep).</summary>
    public const byte SetDisplayOff = 0xAE;

    /// <summary>Set display on.</summary>
    public const byte SetDisplayOn = 0xAF;

    /// <summary>Set page start address for page addressing mode; the low three bits are the page.</summary>
    public const byte SetPageStart = 0xB0;

    /// <summary>Set COM output scan direction: remapped, from COM[N-1] to COM0.</summary>
    public const byte SetComScanRemapped = 0xC8;

    /// <summary>Set display offset; an argument 0..63 follows.</summary>
    public const byte SetDisplayOffset = 0xD3;

    /// <summary>Set display clock divide ratio and oscillator frequency; an argument follows, 0x80 after reset.</summary>
    public const byte SetDisplayClock = 0xD5;

    /// <summary>Set pre-charge period; an argument follows, 0x22 after reset.</summary>
    public const byte SetPrechargePeriod = 0xD9;

    /// <summary>Set COM pins hardware configuration; an argument follows.</summary>
    public const byte SetComPins = 0xDA;

    /// <summary>Argument of <see cref="SetComPins"/>: alternative pins without left/right re-map, which is how panels of 64 rows are wired.</summary>
    public const byte AlternativeComPins = 0x12;

    /// <summary>Set V_COMH deselect level; an argument follows.</summary>
    public const byte SetVcomhLevel = 0xDB;

    /// <summary>Argument of <see cref="SetVcomhLevel"/>: 0.77 V_CC of the SSD1306, its reset value.</summary>
    public const byte VcomhOfSsd1306 = 0x20;

    /// <summary>Argument of <see cref="SetVcomhLevel"/>: 0.78 V_CC of the SSD1309, its reset value.</summary>
    public const byte VcomhOfSsd1309 = 0x34;

    /// <summary>No operation.</summary>
    public const byte NoOperation = 0xE3;

    /// <summary>The index of the contrast in <see cref="Initialisation"/>.</summary>
    public const int InitialisationContrast = 22;

    /// <summary>The index in <see cref="Initialisation"/> of the choice between normal and inverse display.</summary>
    public const int InitialisationInverse = 23;

    /// <summary>The index of the page command in <see cref="PageMessage"/>.</summary>
    public const int PageMessagePage = 1;

    /// <summary>The index in <see cref="PageMessage"/> at which the 128 bytes of the page begin.</summary>
    public const int PageMessageData = 7;

    /// <summary>
    /// One message that sets everything that matters, whatever the chip did before. It leaves the display off, because the
    /// memory holds noise until all pages have been sent. The order follows the software initialisation flow chart of the
    /// data sheet's application note. The two chips differ only here: in the levels of V_COMH, and in that the SSD1309 has no
    /// charge pump and no command for one.
    /// </summary>
    /// <param name="contrast">0..255: the current through a lit pixel.</param>
    /// <param name="kind">The chip.</param>
    public static byte[] Initialisation(byte contrast, DisplayKind kind) => new byte[]
    {
        CommandStream,
        SetDisplayOff,
        SetMultiplexRatio, 0x3F,
        SetDisplayOffset, 0x00,
        SetDisplayStartLine,
        SetSegmentRemap,
        SetComScanRemapped,
        SetComPins, AlternativeComPins,
        SetMemoryAddressingMode, PageAddressing,
        DeactivateScroll,
        SetDisplayClock, 0x80,
        SetPrechargePeriod, 0x22,
        SetVcomhLevel, kind == DisplayKind.Ssd1306 ? VcomhOfSsd1306 : VcomhOfSsd1309,
        FollowMemory,
        SetContrast, contrast,
        SetNormalDisplay,
        kind == DisplayKind.Ssd1306 ? ChargePumpSetting : NoOperation,
        kind == DisplayKind.Ssd1306 ? EnableChargePump : NoOperation,
    };

    /// <summary>A message for one page: its number, then 128 bytes of data. It is one transfer, which is acknowledged as a whole or not at all.</summary>
    public static byte[] PageMessage()
    {
        byte[] message = new byte[PageMessageData + 128];
        message[0] = OneCommand;
        message[1] = SetPageStart;
        message[2] = OneCommand;
        message[3] = SetLowerColumnStart;
        message[4] = OneCommand;
        message[5] = SetHigherColumnStart;
        message[6] = DataStream;
        return message;
    }

    /// <summary>A message of one command.</summary>
    public static byte[] Single(byte command) => new byte[] { CommandStream, command };

    /// <summary>A message of one command with one argument.</summary>
    public static byte[] Single(byte command, byte argument) => new byte[] { CommandStream, command, argument };
}

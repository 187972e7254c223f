// Generated from Large.txt by tests/Host/Panel/FontArt.cs; change the drawing, not this file.
namespace Intervalometer.Screens;

internal static class LargeFont
{
    internal const int Height = 24;
    internal const int Baseline = 24;
    internal const int Gap = 3;

    internal static readonly byte[] Map =
    {
    };

    internal static readonly ushort[] Signs =
    {
        0x0020, 0x002B, 0x002D, 0x002E, 0x002F, 0x0030, 0x0031, 0x0032, 0x0033, 0x0034, 0x0035, 0x0036,
        0x0037, 0x0038, 0x0039, 0x003A, 0x006D, 0x0073,
    };

    internal static readonly byte[] Widths =
    {
         6, 14, 10,  4, 11, 14, 14, 14, 14, 14, 14, 14, 14, 14, 14,  4, 20, 11,
    };

    internal static readonly ushort[] Starts =
    {
           0,   18,   60,   90,  102,  135,  177,  219,  261,  303,  345,  387,  429,  471,  513,  555,
         567,  627,
    };

    internal static readonly byte[] Bits =
    {
    };

    internal static long Word(int index) => index switch
    {
        2 => unchecked((long)0xE000000000000000),
        3 => 0x0000000000E0E0E0,
        4 => unchecked((long)0xFFFFFF3C3C3C3C3C),
        5 => 0x00003C3C3C3C3CFF,
        6 => 0x0007070707000000,
        8 => 0x3C3C000000000000,
        9 => 0x3C3C3C3C3C3C3C3C,
        12 => 0x0000F0F0F0F00000,
        13 => 0x1FFFFFFCE0000000,
        14 => 0x7FFFFEF000000001,
        15 => unchecked((long)0xFFFFF8800000000F),
        16 => unchecked((long)0xC00000000000073F),
        17 => 0x1F0F0F1F7FFEFCF8,
        18 => unchecked((long)0xFFFFFFC0F8FCFE7F),
        19 => unchecked((long)0xFF000000000000FF),
        20 => unchecked((long)0xFE7F3F1F03FFFFFF),
        21 => 0x1F3F7FFEF8F0F0F8,
        22 => unchecked((long)0xFFFF7EF8F0E00003),
        23 => 0x000000000000FFFF,
        24 => unchecked((long)0xFFFFFFFF00000101),
        25 => unchecked((long)0xF0F0000000000000),
        26 => unchecked((long)0xF0F0FFFFFFFFF0F0),
        27 => 0x1F7EFEFC7000F0F0,
        28 => unchecked((long)0xFCFEFE1F0F0F0F0F),
        29 => unchecked((long)0xF0E0C000000000F0),
        30 => unchecked((long)0xF003070F3F7FFCF8),
        31 => unchecked((long)0xF0F1F3FFFFFFFEFC),
        32 => 0x7E7800F0F0F0F0F0,
        33 => unchecked((long)0xFEFF0F0F0F0F3F7E),
        34 => 0x0000000000E0F8FE,
        35 => unchecked((long)0xF7FFFF7F3E3C3C3C),
        36 => unchecked((long)0xF0F0F87E7E3E0EC1),
        37 => 0x000F3F7F7FF8F0F0,
        38 => unchecked((long)0xFFFCF8E080000000),
        39 => unchecked((long)0xFCF0E000FFFFFFFF),
        40 => unchecked((long)0xFFFF8083879FFFFF),
        41 => 0x070707070780FFFF,
        42 => unchecked((long)0xFFFFFFFF07070707),
        43 => 0x0F0F0FFFFFFFFF07,
        44 => 0x07000F0F0F0F0F0F,
        45 => 0x3C3C3C3C3C3F3F3F,
        46 => 0x7E3E1EC0F0F8FC7C,
        47 => 0x7FF8F0F0F0F0F87E,
        48 => unchecked((long)0xF8E0C000000F3F7F),
        49 => 0x00070F0F1F3F7EFC,
        50 => 0x3C3D7FFFFFFFF800,
        51 => 0x0FC0F0F8FC7C3C3C,
        52 => unchecked((long)0xF0F0F0F0F87F7F3F),
        53 => 0x0F0F0F0F3F7F7FF8,
        54 => unchecked((long)0xFFFF8F0F0F0F0F0F),
        55 => 0x00000000000F7FFF,
        56 => 0x00073FFFFFFCC000,
        57 => unchecked((long)0xFFFEE00000000000),
        58 => 0x0000000000031FFF,
        59 => 0x0F0F0F0FFFFEFCF8,
        60 => unchecked((long)0xFFF7E000F8FCFEFF),
        61 => unchecked((long)0xFF3F3E3E3E3E3FFF),
        62 => unchecked((long)0xF87F7F3F0FE0F7FF),
        63 => 0x3F7F7FF8F0F0F0F0,
        64 => 0x0F0F1FFEFEFCF00F,
        65 => 0x03F0FCFEFE1F0F0F,
        66 => unchecked((long)0xBC3C3C3C3E3F1F0F),
        67 => unchecked((long)0xE000001FFFFFFFFE),
        68 => 0x071F3F7EFCF8F0F0,
        69 => 0x03C0C0C0C0000003,
        70 => 0x000F0F0F0F030303,
        73 => 0x1CFEFEFEFE000000,
        74 => 0x0EFCFCFEFE1E0E0E,
        75 => unchecked((long)0xFFF8FCFCFE1E0E0E),
        76 => unchecked((long)0xFF00000000FFFFFF),
        77 => unchecked((long)0xFF00000000FFFFFF),
        78 => 0x0000000000FFFFFF,
        79 => unchecked((long)0xFC78000000000000),
        80 => 0x1C9E8E8E8ECEFEFE,
        81 => unchecked((long)0xE3E3E3E3F3713018),
        82 => 0x000000003F7FFFEF,
        _ => 0,
    };
}

namespace Intervalometer.Core.Tide;

/// <summary>What the node factor f and angle u of a constituent are made from (Schureman 1958, Table 2, last columns).</summary>
public enum NodeTerm
{
    /// <summary>Solar: f = 1, u = 0.</summary>
    None,

    /// <summary>Lunar declinational diurnal O1, formula 75.</summary>
    O1,

    /// <summary>Luni-solar diurnal K1, formula 227.</summary>
    K1,

    /// <summary>Luni-solar semidiurnal K2, formula 235.</summary>
    K2,

    /// <summary>J1, formula 76.</summary>
    J1,

    /// <summary>OO1, formula 77.</summary>
    OO1,

    /// <summary>Mm, formula 73.</summary>
    Mm,

    /// <summary>Mf, formula 74.</summary>
    Mf,

    /// <summary>M3, formula 149.</summary>
    M3,

    /// <summary>L2, formulas 214 and 215.</summary>
    L2,

    /// <summary>M1, formulas 203 and 207.</summary>
    M1,
}

/// <summary>
/// The 37 constituents of the published NOAA set, in its order, with their equilibrium arguments.
/// </summary>
/// <remarks>
/// Source: P. Schureman, Manual of Harmonic Analysis and Prediction of Tides, US Coast and Geodetic Survey Special
/// Publication 98 (1958), Table 2 (arguments V and u, speeds). Speeds are printed there in degrees an hour.
/// V = T + s + h + p + p1 multiples + quarter turns, where T is the hour angle of the mean sun (180 deg at midnight UTC),
/// s, h and p the mean longitudes of the moon, the sun and the lunar perigee, and p1 that of the solar perigee.
/// Names follow the NOAA lists: LAM2 is lambda 2, RHO is rho 1, NU2 and MU2 likewise.
/// </remarks>
public static class Constituents
{
    /// <summary>How many constituents there are.</summary>
    public const int Count = 37;

    /// <summary>Place of M1 in the list; its argument holds the motion of the perigee inside u.</summary>
    public const int M1 = 17;

    /// <summary>The name as NOAA prints it, for an index of 0 to 36.</summary>
    public static string Name(int index) => index switch
    {
        0 => "M2",
        1 => "S2",
        2 => "N2",
        3 => "K1",
        4 => "M4",
        5 => "O1",
        6 => "M6",
        7 => "MK3",
        8 => "S4",
        9 => "MN4",
        10 => "NU2",
        11 => "S6",
        12 => "MU2",
        13 => "2N2",
        14 => "OO1",
        15 => "LAM2",
        16 => "S1",
        17 => "M1",
        18 => "J1",
        19 => "MM",
        20 => "SSA",
        21 => "SA",
        22 => "MSF",
        23 => "MF",
        24 => "RHO",
        25 => "Q1",
        26 => "T2",
        27 => "R2",
        28 => "2Q1",
        29 => "P1",
        30 => "2SM2",
        31 => "M3",
        32 => "L2",
        33 => "2MK3",
        34 => "K2",
        35 => "M8",
        _ => "MS4",
    };

    /// <summary>Speed in degrees an hour, for an index of 0 to 36.</summary>
    /// <remarks>This table and the next two are program and not arrays: the device keeps an array in its heap.</remarks>
    public static double SpeedDegreesPerHour(int index) => index switch
    {
        0 => 28.9841042,
        1 => 30.0,
        2 => 28.4397295,
        3 => 15.0410686,
        4 => 57.9682084,
        5 => 13.9430356,
        6 => 86.9523127,
        7 => 44.0251729,
        8 => 60.0,
        9 => 57.4238337,
        10 => 28.5125831,
        11 => 90.0,
        12 => 27.9682084,
        13 => 27.8953548,
        14 => 16.1391017,
        15 => 29.4556253,
        16 => 15.0,
        17 => 14.4966939,
        18 => 15.5854433,
        19 => 0.5443747,
        20 => 0.0821373,
        21 => 0.0410686,
        22 => 1.0158958,
        23 => 1.0980331,
        24 => 13.4715145,
        25 => 13.3986609,
        26 => 29.9589333,
        27 => 30.0410667,
        28 => 12.8542862,
        29 => 14.9589314,
        30 => 31.0158958,
        31 => 43.4761563,
        32 => 29.5284789,
        33 => 42.9271398,
        34 => 30.0821373,
        35 => 115.9364169,
        _ => 58.9841042,
    };

    /// <summary>A multiple in the argument V: part 0 T, 1 s, 2 h, 3 p, 4 p1, 5 quarter turns.</summary>
    public static int Argument(int index, int part) => Part(Arguments(index), part);

    /// <summary>All six multiples of a constituent, for <see cref="Part"/>: of T, s, h, p, p1, and of 90 degrees.</summary>
    internal static long Arguments(int index) => index switch
    {
        0 => Pack(2, -2, 2, 0, 0, 0), // M2
        1 => Pack(2, 0, 0, 0, 0, 0), // S2
        2 => Pack(2, -3, 2, 1, 0, 0), // N2
        3 => Pack(1, 0, 1, 0, 0, -1), // K1
        4 => Pack(4, -4, 4, 0, 0, 0), // M4
        5 => Pack(1, -2, 1, 0, 0, 1), // O1
        6 => Pack(6, -6, 6, 0, 0, 0), // M6
        7 => Pack(3, -2, 3, 0, 0, -1), // MK3
        8 => Pack(4, 0, 0, 0, 0, 0), // S4
        9 => Pack(4, -5, 4, 1, 0, 0), // MN4
        10 => Pack(2, -3, 4, -1, 0, 0), // NU2
        11 => Pack(6, 0, 0, 0, 0, 0), // S6
        12 => Pack(2, -4, 4, 0, 0, 0), // MU2
        13 => Pack(2, -4, 2, 2, 0, 0), // 2N2
        14 => Pack(1, 2, 1, 0, 0, -1), // OO1
        15 => Pack(2, -1, 0, 1, 0, 2), // LAM2
        16 => Pack(1, 0, 0, 0, 0, 0), // S1
        17 => Pack(1, -1, 1, 0, 0, -1), // M1, the perigee is in u
        18 => Pack(1, 1, 1, -1, 0, -1), // J1
        19 => Pack(0, 1, 0, -1, 0, 0), // MM
        20 => Pack(0, 0, 2, 0, 0, 0), // SSA
        21 => Pack(0, 0, 1, 0, 0, 0), // SA
        22 => Pack(0, 2, -2, 0, 0, 0), // MSF
        23 => Pack(0, 2, 0, 0, 0, 0), // MF
        24 => Pack(1, -3, 3, -1, 0, 1), // RHO
        25 => Pack(1, -3, 1, 1, 0, 1), // Q1
        26 => Pack(2, 0, -1, 0, 1, 0), // T2
        27 => Pack(2, 0, 1, 0, -1, 2), // R2
        28 => Pack(1, -4, 1, 2, 0, 1), // 2Q1
        29 => Pack(1, 0, -1, 0, 0, 1), // P1
        30 => Pack(2, 2, -2, 0, 0, 0), // 2SM2
        31 => Pack(3, -3, 3, 0, 0, 0), // M3
        32 => Pack(2, -1, 2, -1, 0, 2), // L2
        33 => Pack(3, -4, 3, 0, 0, 1), // 2MK3
        34 => Pack(2, 0, 2, 0, 0, 0), // K2
        35 => Pack(8, -8, 8, 0, 0, 0), // M8
        _ => Pack(4, -2, 2, 0, 0, 0), // MS4
    };

    /// <summary>One of the six multiples, 0 to 5.</summary>
    internal static int Part(long arguments, int part) => (sbyte)(arguments >> (8 * part));

    /// <summary>
    /// The power of M2's node factor in this constituent; u takes its sign, f its size, and there may be a further term with a
    /// sign of its own. MSF and 2SM2 are compound tides of S2 against M2.
    /// </summary>
    public static int M2Power(int index) => index switch
    {
        4 or 9 or 33 => 2,
        6 => 3,
        35 => 4,
        22 or 30 => -1,
        0 or 2 or 7 or 10 or 12 or 13 or 15 or 36 => 1,
        _ => 0,
    };

    /// <summary>The further node term of this constituent.</summary>
    public static NodeTerm Term(int index) => index switch
    {
        3 => NodeTerm.K1,
        5 => NodeTerm.O1,
        7 => NodeTerm.K1,
        14 => NodeTerm.OO1,
        17 => NodeTerm.M1,
        18 => NodeTerm.J1,
        19 => NodeTerm.Mm,
        23 => NodeTerm.Mf,
        24 => NodeTerm.O1,
        25 => NodeTerm.O1,
        28 => NodeTerm.O1,
        31 => NodeTerm.M3,
        32 => NodeTerm.L2,
        33 => NodeTerm.K1,
        34 => NodeTerm.K2,
        _ => NodeTerm.None,
    };

    /// <summary>-1 for 2MK3, whose u subtracts K1's; else 1.</summary>
    public static int TermSign(int index) => index == 33 ? -1 : 1;

    /// <summary>The index of a name as NOAA prints it (capitals), or -1. LAMBDA2, LDA2 and RHO1 are known too.</summary>
    public static int IndexOf(string name)
    {
        if (name == "LAMBDA2" || name == "LDA2") return 15;
        if (name == "RHO1") return 24;
        for (int i = 0; i < Count; i++)
            if (Name(i) == name) return i;
        return -1;
    }

    private static long Pack(int t, int s, int h, int p, int p1, int quarters) =>
        Byte(t, 0) | Byte(s, 8) | Byte(h, 16) | Byte(p, 24) | Byte(p1, 32) | Byte(quarters, 40);

    private static long Byte(long value, int shift) => (value & 0xFF) << shift;
}

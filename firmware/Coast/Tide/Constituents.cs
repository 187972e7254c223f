namespace Intervalometer.Coast.Tide;

/// <summary>The terms from which the node factor f and the angle u of a constituent are made (Schureman 1958, Table 2, last columns).</summary>
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
/// The 37 constituents of the published NOAA set, in its order, with their recipes. A place may use others as well
/// (<see cref="ConstituentRecipe"/>).
/// </summary>
/// <remarks>
/// Source: P. Schureman, Manual of Harmonic Analysis and Prediction of Tides, US Coast and Geodetic Survey Special
/// Publication 98 (1958), Table 2 (arguments V and u, speeds). Speeds are printed there in degrees an hour.
/// V = T + s + h + p + p1 multiples + quarter turns, where T is the hour angle of the mean sun (180 deg at midnight UTC),
/// s, h and p the mean longitudes of the moon, the sun and the lunar perigee, and p1 that of the solar perigee. 2MK3 subtracts K1's u.
/// MSF and 2SM2 are compound tides of S2 and M2, with M2 subtracted.
/// Names follow the NOAA lists: LAM2 is lambda 2, RHO is rho 1, NU2 and MU2 likewise.
/// </remarks>
public static class Constituents
{
    /// <summary>How many constituents there are.</summary>
    public const int Count = 37;

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

    /// <summary>The recipe, for an index of 0 to 36.</summary>
    /// <remarks>The table is code and not an array, because the device would keep an array in its heap.</remarks>
    public static int Recipe(int index)
    {
        int recipe = index switch
        {
            0 => ConstituentRecipe.Pack(2, -2, 2, 0, 0, 0, 1, 0, 0), // M2
            1 => ConstituentRecipe.Pack(2, 0, 0, 0, 0, 0, 0, 0, 0), // S2
            2 => ConstituentRecipe.Pack(2, -3, 2, 1, 0, 0, 1, 0, 0), // N2
            3 => ConstituentRecipe.Pack(1, 0, 1, 0, 0, -1, 0, 0, 4), // K1
            4 => ConstituentRecipe.Pack(4, -4, 4, 0, 0, 0, 2, 0, 0), // M4
            5 => ConstituentRecipe.Pack(1, -2, 1, 0, 0, 1, 0, 0, 1), // O1
            6 => ConstituentRecipe.Pack(6, -6, 6, 0, 0, 0, 3, 0, 0), // M6
            7 => ConstituentRecipe.Pack(3, -2, 3, 0, 0, -1, 1, 0, 4), // MK3
            8 => ConstituentRecipe.Pack(4, 0, 0, 0, 0, 0, 0, 0, 0), // S4
            9 => ConstituentRecipe.Pack(4, -5, 4, 1, 0, 0, 2, 0, 0), // MN4
            10 => ConstituentRecipe.Pack(2, -3, 4, -1, 0, 0, 1, 0, 0), // NU2
            11 => ConstituentRecipe.Pack(6, 0, 0, 0, 0, 0, 0, 0, 0), // S6
            12 => ConstituentRecipe.Pack(2, -4, 4, 0, 0, 0, 1, 0, 0), // MU2
            13 => ConstituentRecipe.Pack(2, -4, 2, 2, 0, 0, 1, 0, 0), // 2N2
            14 => ConstituentRecipe.Pack(1, 2, 1, 0, 0, -1, 0, 0, 13), // OO1
            15 => ConstituentRecipe.Pack(2, -1, 0, 1, 0, 2, 1, 0, 0), // LAM2
            16 => ConstituentRecipe.Pack(1, 0, 0, 0, 0, 0, 0, 0, 0), // S1
            17 => ConstituentRecipe.Pack(1, -1, 1, 0, 0, -1, 0, 0, 18), // M1
            18 => ConstituentRecipe.Pack(1, 1, 1, -1, 0, -1, 0, 0, 11), // J1
            19 => ConstituentRecipe.Pack(0, 1, 0, -1, 0, 0, 0, 0, 14), // MM
            20 => ConstituentRecipe.Pack(0, 0, 2, 0, 0, 0, 0, 0, 0), // SSA
            21 => ConstituentRecipe.Pack(0, 0, 1, 0, 0, 0, 0, 0, 0), // SA
            22 => ConstituentRecipe.Pack(0, 2, -2, 0, 0, 0, -1, 0, 0), // MSF
            23 => ConstituentRecipe.Pack(0, 2, 0, 0, 0, 0, 0, 0, 15), // MF
            24 => ConstituentRecipe.Pack(1, -3, 3, -1, 0, 1, 0, 0, 1), // RHO
            25 => ConstituentRecipe.Pack(1, -3, 1, 1, 0, 1, 0, 0, 1), // Q1
            26 => ConstituentRecipe.Pack(2, 0, -1, 0, 1, 0, 0, 0, 0), // T2
            27 => ConstituentRecipe.Pack(2, 0, 1, 0, -1, 2, 0, 0, 0), // R2
            28 => ConstituentRecipe.Pack(1, -4, 1, 2, 0, 1, 0, 0, 1), // 2Q1
            29 => ConstituentRecipe.Pack(1, 0, -1, 0, 0, 1, 0, 0, 0), // P1
            30 => ConstituentRecipe.Pack(2, 2, -2, 0, 0, 0, -1, 0, 0), // 2SM2
            31 => ConstituentRecipe.Pack(3, -3, 3, 0, 0, 0, 0, 0, 16), // M3
            32 => ConstituentRecipe.Pack(2, -1, 2, -1, 0, 2, 0, 0, 17), // L2
            33 => ConstituentRecipe.Pack(3, -4, 3, 0, 0, 1, 2, 0, 5), // 2MK3
            34 => ConstituentRecipe.Pack(2, 0, 2, 0, 0, 0, 0, 0, 7), // K2
            35 => ConstituentRecipe.Pack(8, -8, 8, 0, 0, 0, 4, 0, 0), // M8
            _ => ConstituentRecipe.Pack(4, -2, 2, 0, 0, 0, 1, 0, 0), // MS4
        };
        return recipe;
    }

    /// <summary>The index of a name as NOAA prints it (capitals), or -1. LAMBDA2, LDA2 and RHO1 are accepted too.</summary>
    public static int IndexOf(string name)
    {
        if (name == "LAMBDA2" || name == "LDA2") return 15;
        if (name == "RHO1") return 24;
        for (int i = 0; i < Count; i++)
            if (Name(i) == name) return i;
        return -1;
    }
}

namespace Intervalometer.Coast.Tide;

/// <summary>
/// A constituent as a recipe in 32 bits, which holds its argument and its node factors but not its name. The PC works recipes out from
/// names, so that the box needs no table of them.
/// </summary>
/// <remarks>
/// Argument: V = t T + s s + h h + p p + p1 p1 + quarters 90 degrees, as in Schureman (1958), Table 2. It takes four bits for t, five each
/// for s and h, three for p, and two each for p1 and the quarter turns. Node factors have three parts: a power of M2's, whose sign counts
/// for u and whose size counts for f; pairs of M2 that cancel in u and stay in f, as in MSN2; and one of <see cref="Terms"/>. A compound
/// tide has the product of its members' f and the sum of their u (Schureman, section 160, and the list of the International Hydrographic
/// Organization).
/// </remarks>
public static class ConstituentRecipe
{
    /// <summary>How many sets of further node terms there are; they are numbered from 0.</summary>
    public const int TermCount = 27;

    /// <summary>The number of M1's term. Its u contains the perigee, which adds to its speed.</summary>
    public const int M1Terms = 18;

    // Degrees in a mean solar hour (Schureman, Table 1).
    private const double Hour = 15.0, Moon = 0.54901653, Sun = 0.04106864, PerigeeSpeed = 0.00464183, SolarPerigee = 0.00000196;

    /// <summary>Motion of the lunar perigee, degrees an hour.</summary>
    public const double Perigee = PerigeeSpeed;

    /// <summary>Packs a recipe. Each part must fit its bits: t 0 to 15, s and h -16 to 15, p -4 to 3, p1 -2 to 1, m2 -8 to 7, pairs 0 to 3, terms 0 to 26.</summary>
    public static int Pack(int t, int s, int h, int p, int p1, int quarters, int m2, int pairs, int terms) =>
        (t & 15) | ((s + 16) & 31) << 4 | ((h + 16) & 31) << 9 | ((p + 4) & 7) << 14 | ((p1 + 2) & 3) << 17 | (quarters & 3) << 19
        | ((m2 + 8) & 15) << 21 | (pairs & 3) << 25 | (terms & 31) << 27;

    /// <summary>Multiple of the hour angle of the mean sun, which is the number of cycles a day.</summary>
    public static int T(int recipe) => recipe & 15;

    /// <summary>Multiple of the moon's mean longitude.</summary>
    public static int S(int recipe) => (recipe >> 4 & 31) - 16;

    /// <summary>Multiple of the sun's mean longitude.</summary>
    public static int H(int recipe) => (recipe >> 9 & 31) - 16;

    /// <summary>Multiple of the longitude of the lunar perigee.</summary>
    public static int P(int recipe) => (recipe >> 14 & 7) - 4;

    /// <summary>Multiple of the longitude of the solar perigee.</summary>
    public static int P1(int recipe) => (recipe >> 17 & 3) - 2;

    /// <summary>Quarter turns, 0 to 3.</summary>
    public static int Quarters(int recipe) => recipe >> 19 & 3;

    /// <summary>How many times M2's u is contained, with its sign.</summary>
    public static int M2(int recipe) => (recipe >> 21 & 15) - 8;

    /// <summary>The power of M2's f.</summary>
    public static int M2Factors(int recipe)
    {
        int m2 = M2(recipe);
        return (m2 < 0 ? -m2 : m2) + 2 * (recipe >> 25 & 3);
    }

    /// <summary>The number of the set of further node terms, for <see cref="Terms"/>.</summary>
    public static int TermsOf(int recipe) => recipe >> 27 & 31;

    /// <summary>The part that describes the node factors. Recipes in which it is equal have the same node factors.</summary>
    public static int NodesOf(int recipe) => recipe >> 21;

    /// <summary>The part that describes the argument.</summary>
    public static int ArgumentOf(int recipe) => recipe & 0x1FFFFF;

    /// <summary>V at a UTC midnight, degrees, not reduced. The bits are read in place, because this runs for every constituent of every day.</summary>
    /// <param name="recipe">The constituent.</param>
    /// <param name="s">Mean longitude of the moon, degrees.</param>
    /// <param name="h">Mean longitude of the sun, degrees.</param>
    /// <param name="p">Longitude of the lunar perigee, degrees.</param>
    /// <param name="p1">Longitude of the solar perigee, degrees.</param>
    public static double ArgumentDegrees(int recipe, double s, double h, double p, double p1) =>
        (recipe & 15) * 180.0 + ((recipe >> 4 & 31) - 16) * s + ((recipe >> 9 & 31) - 16) * h + ((recipe >> 14 & 7) - 4) * p + ((recipe >> 17 & 3) - 2) * p1
        + (recipe >> 19 & 3) * 90.0;

    /// <summary>Up to two node terms, and how many times each counts. Each takes 4 bits for the term and 4 bits for its count plus 4.</summary>
    public static int Terms(int number)
    {
        int terms = number switch
        {
            1 => One(NodeTerm.O1, 1),
            2 => One(NodeTerm.O1, -1),
            3 => One(NodeTerm.O1, 2),
            4 => One(NodeTerm.K1, 1),
            5 => One(NodeTerm.K1, -1),
            6 => One(NodeTerm.K1, 3),
            7 => One(NodeTerm.K2, 1),
            8 => One(NodeTerm.K2, -1),
            9 => One(NodeTerm.K2, 2),
            10 => One(NodeTerm.K2, -2),
            11 => One(NodeTerm.J1, 1),
            12 => One(NodeTerm.J1, -1),
            13 => One(NodeTerm.OO1, 1),
            14 => One(NodeTerm.Mm, 1),
            15 => One(NodeTerm.Mf, 1),
            16 => One(NodeTerm.M3, 1),
            17 => One(NodeTerm.L2, 1),
            M1Terms => One(NodeTerm.M1, 1),
            19 => Two(NodeTerm.K1, 1, NodeTerm.O1, 1),
            20 => Two(NodeTerm.K1, 1, NodeTerm.O1, -1),
            21 => Two(NodeTerm.K2, 1, NodeTerm.O1, -1),
            22 => Two(NodeTerm.K2, 1, NodeTerm.O1, 1),
            23 => Two(NodeTerm.K2, 1, NodeTerm.L2, 1),
            24 => Two(NodeTerm.K2, -1, NodeTerm.L2, 1),
            25 => Two(NodeTerm.J1, 1, NodeTerm.K1, 1),
            26 => Two(NodeTerm.K1, 1, NodeTerm.K2, 1),
            _ => One(NodeTerm.None, 0),
        };
        return terms;
    }

    /// <summary>The speed in degrees in a mean solar hour.</summary>
    public static double SpeedDegreesPerHour(int recipe) =>
        T(recipe) * Hour + S(recipe) * Moon + H(recipe) * Sun + P(recipe) * PerigeeSpeed + P1(recipe) * SolarPerigee
        + (TermsOf(recipe) == M1Terms ? PerigeeSpeed : 0);

    private static int One(NodeTerm term, int times) => (int)term | (times + 4) << 4 | 4 << 12;

    private static int Two(NodeTerm first, int times, NodeTerm second, int secondTimes) =>
        (int)first | (times + 4) << 4 | (int)second << 8 | (secondTimes + 4) << 12;
}

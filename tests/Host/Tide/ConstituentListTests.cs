using Intervalometer.Coast.Tide;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Tide;

/// <summary>Every name of the standard list of tidal constituents and its recipe; the list is that of Fixtures/list.csv.</summary>
[TestClass]
public class ConstituentListTests
{
    private static readonly string[] Roots = ["None", "O1", "K1", "K2", "J1", "OO1", "Mm", "Mf", "M3", "L2", "M1"];

    // The letters do not add up to the times a day, and the list gives no members.
    private static readonly string[] NotKnown = ["3(SM)N2", "2MNO6", "3MS2", "4MS4", "4ML12", "5MSN12"];

    // The speed that the list carries is not that of the letters: slips of the list.
    private static readonly string[] OtherSpeed = ["(SK)K5", "2NKMS5", "3N2MS12", "4M2SN10", "4MSN8", "5MSN10", "NSK5"];

    // The list has quarter turns that are not the sum of the members', or gives an alias of other letters the turns of its own.
    private static readonly string[] OtherQuarters =
    [
        "2MLNS6", "2MN2", "2MS3", "2MS5", "2NMLS6", "3ML8", "3MLS6", "3MS5", "4MLS8", "4MSL12", "M5", "M7", "MB5", "MKL2S2", "ML4", "MLN2S2", "MNKO7", "MO1", "MP1", "MPS2",
        "MQ1", "MS1", "MS3", "MSK5", "MSP2", "NK1", "O2", "SK1", "SP1", "STA",
    ];

    // The list gives no node factor, or its own series, to tides of M2's and K2's family that Schureman does not have: they get their
    // family's; half powers of M2 are those of M3; and aliases of other letters get their own members'.
    private static readonly string[] OtherNodes =
    [
        "(SK)K5", "2MLNS6", "2MS3", "2MS5", "2NMLS6", "3MLS6", "3MS5", "4MLS8", "4MSL12", "ALPHA2", "DELTA2", "ETA2", "GAMMA2", "K3", "M5", "M7", "MA2", "MA2*", "MA9", "MB2",
        "MB5", "MLN2S2", "MPS2", "MS1", "MS3", "MSP2", "NA2", "NA2*", "NB2", "NUJ1", "STA", "XI2", "ΝJ1", "Α2", "Γ2", "Δ2", "Η2", "Ξ2",
    ];

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void EveryNameOfTheListHasItsSpeedAndItsNodeFactors()
    {
        var missing = new List<string>();
        var slow = new List<string>();
        var nodes = new List<string>();
        var quarters = new List<string>();
        int known = 0;
        foreach ((string name, FullSum.Entry entry) in FullSum.Names)
        {
            if (ConstituentList.Recipe(name) is not int recipe)
            {
                missing.Add(name);
                continue;
            }
            known++;
            double off = ConstituentRecipe.SpeedDegreesPerHour(recipe) - entry.Speed;
            if (Math.Abs(off) > 2e-5) slow.Add($"{name} {off:F7}");
            if ((ConstituentRecipe.Quarters(recipe) - (int)entry.Argument[6] & 3) != 0) quarters.Add($"{name} {ConstituentRecipe.Quarters(recipe)} not {(int)entry.Argument[6] & 3}");
            string ours = Words(recipe), theirs = string.Join(' ', entry.Nodes.Select(n => $"{n.Root}:{n.F}:{n.U}").Order());
            if (ours != theirs) nodes.Add($"{name} {ours} not {theirs}");
        }
        TestContext.WriteLine($"{known} of {FullSum.Names.Count} names known\nspeed: {string.Join(", ", slow)}\nquarters: {string.Join(", ", quarters)}\nnode factors: {string.Join("; ", nodes)}");
        Assert.IsGreaterThan(440, known);
        Same(NotKnown, missing);
        Same(OtherSpeed, slow);
        Same(OtherQuarters, quarters);
        Same(OtherNodes, nodes);
    }

    private static void Same(string[] expected, List<string> found) =>
        CollectionAssert.AreEquivalent(expected, found.Select(f => f.Split(' ')[0]).ToArray(), string.Join(", ", found));

    private static string Words(int recipe)
    {
        var words = new List<string>();
        if (ConstituentRecipe.M2Factors(recipe) != 0) words.Add($"M2:{ConstituentRecipe.M2Factors(recipe)}:{ConstituentRecipe.M2(recipe)}");
        int terms = ConstituentRecipe.Terms(ConstituentRecipe.TermsOf(recipe));
        for (int part = 0; part < 2; part++, terms >>= 8)
            if ((terms & 15) != 0) words.Add($"{Roots[terms & 15]}:{Math.Abs((terms >> 4 & 15) - 4)}:{(terms >> 4 & 15) - 4}");
        return string.Join(' ', words.Order());
    }
}

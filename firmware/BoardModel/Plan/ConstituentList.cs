using Intervalometer.Coast.Tide;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>Works the recipe of a constituent out from its name.</summary>
/// <remarks>
/// Names, arguments and node terms of the astronomical tides are those of the standard list of tidal constituents of the
/// International Hydrographic Organization (Tides, Water Level and Currents Working Group); arguments as in Schureman (1958), Table 2.
/// A compound tide is worked out from its name. Each letter stands for a tide, each number says how often that tide counts, and the last number says how many
/// times a day the compound tide comes. Letters are subtracted, from the right, until the times a day agree. A K is K2, or K1 where only
/// that fits; an S is S2, or S1 where only that fits. The argument of the compound tide is the sum of theirs, its f the product of their f, and its u the sum of their u.
/// Capital and small letters mean the same, and Greek letters are spelled out. Other spellings that data sets use are aliases.
/// </remarks>
public static class ConstituentList
{
    // name, T, s, h, p, p1, quarters, node terms (a term, or a term and how often it counts).
    private const string Astronomical = """
        SA 0 0 1 0 0 0
        SSA 0 0 2 0 0 0
        STA 0 0 3 0 -1 0
        MM 0 1 0 -1 0 0 Mm
        MSM 0 1 -2 1 0 0 M2+1 M2-1
        MNUM 0 1 -2 1 0 0 M2+1 M2-1
        MSF 0 2 -2 0 0 0 M2-1
        MSO 0 2 -2 0 0 0 M2-1
        SM 0 2 -2 0 0 0 M2-1
        MF 0 2 0 0 0 0 Mf
        KOO 0 2 0 0 0 0 K1+1 O1-1
        MKO 0 2 0 0 0 0 K2+1 M2-1
        SNU2 0 3 -4 1 0 0
        SN 0 3 -2 -1 0 0 M2-1
        MSTM 0 3 -2 1 0 0 Mf M2+1 M2-1
        MFM 0 3 0 -1 0 0 Mm
        2SM 0 4 -4 0 0 0 M2-2
        MSQM 0 4 -2 0 0 0 M2-1
        MQM 0 4 0 -2 0 0 M2
        2SMN 0 5 -4 -1 0 0 M2-2
        2Q1 1 -4 1 2 0 1 O1
        SIGMA1 1 -4 3 0 0 1 O1
        Q1 1 -3 1 1 0 1 O1
        RHO1 1 -3 3 -1 0 1 O1
        O1 1 -2 1 0 0 1 O1
        TAU1 1 -2 3 0 0 -1 K1
        M1 1 -1 1 0 0 -1 M1
        M1A 1 -1 1 1 0 -1
        M1B 1 -1 1 -1 0 -1
        M1C 1 -1 1 0 0 0
        CHI1 1 -1 3 -1 0 -1 J1
        PI1 1 0 -2 0 1 1
        P1 1 0 -1 0 0 1
        S1 1 0 0 0 0 0
        K1 1 0 1 0 0 -1 K1
        PSI1 1 0 2 0 -1 -1
        PHI1 1 0 3 0 0 -1 J1
        THETA1 1 1 -1 1 0 -1 J1
        J1 1 1 1 -1 0 -1 J1
        OO1 1 2 1 0 0 -1 OO1
        UPS1 1 3 1 -1 0 -1 K2+1 O1-1
        ALPHA1 1 -5 3 1 0 1 O1
        BETA1 1 -1 -1 1 0 -1 O1
        EPS2 2 -5 4 1 0 0 M2
        2N2 2 -4 2 2 0 0 M2
        MU2 2 -4 4 0 0 0 M2
        N2 2 -3 2 1 0 0 M2
        NA2 2 -3 1 1 0 0 M2
        NB2 2 -3 3 1 0 0 M2
        NU2 2 -3 4 -1 0 0 M2
        3N2 2 -3 2 0 0 0 M2
        GAMMA2 2 -2 0 2 0 2 M2
        ALPHA2 2 -2 1 0 1 2 M2
        MA2 2 -2 1 0 0 0 M2
        M(SK)2 2 -2 1 0 1 2 M2 K2-1
        M(KS)2 2 -2 3 0 -1 0 M2 K2
        M2 2 -2 2 0 0 0 M2
        MB2 2 -2 3 0 0 0 M2
        BETA2 2 -2 3 0 -1 0 M2
        DELTA2 2 -2 4 0 0 0 M2
        LAMBDA2 2 -1 0 1 0 2 M2
        L2 2 -1 2 -1 0 2 L2
        L2A 2 -1 2 -1 0 2 M2+2 M2-1
        L2B 2 -1 2 1 0 0 K2 M2+1 M2-1
        3L2 2 -1 2 0 0 0 L2
        T2 2 0 -1 0 1 0
        S2 2 0 0 0 0 0
        R2 2 0 1 0 -1 2
        K2 2 0 2 0 0 0 K2
        XI2 2 1 0 1 0 0 K2
        ETA2 2 1 2 -1 0 0 K2
        M3 3 -3 3 0 0 0 M3
        T3 3 0 -1 0 0 0
        S3 3 0 0 0 0 2
        K3 3 0 3 0 0 -1 K1+1 K2+1
        M5 5 -5 5 0 0 0 M2 M3
        MB5 5 -5 6 0 0 0 M2 M3
        M7 7 -7 7 0 0 0 M2+2 M3
        MA9 9 -9 8 0 0 0 M2+3 M3
        """;

    // Other names that data sets use.
    private static readonly Dictionary<string, string> Aliases = new()
    {
        ["LAM2"] = "LAMBDA2",
        ["LDA2"] = "LAMBDA2",
        ["LABDA2"] = "LAMBDA2",
        ["RHO"] = "RHO1",
        ["SGM"] = "SIGMA1",
        ["SIG1"] = "SIGMA1",
        ["EP2"] = "EPS2",
        ["EPSILON2"] = "EPS2",
        ["MTM"] = "MFM",
        ["THE1"] = "THETA1",
        ["UPSILON1"] = "UPS1",
        ["ALP1"] = "ALPHA1",
        ["BET1"] = "BETA1",
        ["GAM2"] = "GAMMA2",
        ["ALP2"] = "ALPHA2",
        ["R3"] = "SK3",
        ["H1"] = "MA2",
        ["H2"] = "MB2",
        ["BET2"] = "BETA2",
        ["DEL2"] = "DELTA2",
        ["N2A"] = "NA2",
        ["N2B"] = "NB2",
        ["TA1"] = "TAU1",
        ["2MN8"] = "2(MN)8",
        ["2MS8"] = "2(MS)8",
        ["M2KS2"] = "M2(KS)2",
        ["NA2*"] = "NB2",
        ["MA2*"] = "MB2",
        ["MΝM"] = "MNUM",
        ["SΝ2"] = "SNU2",
        ["ET2"] = "ETA2",
        ["KSI2"] = "XI2",
        ["OO2"] = "OQ2",
        ["PH1"] = "PHI1",
        ["PS1"] = "PSI1",
        ["Σ1"] = "SIGMA1",
        ["Ρ1"] = "RHO1",
        ["Τ1"] = "TAU1",
        ["Χ1"] = "CHI1",
        ["Π1"] = "PI1",
        ["Ψ1"] = "PSI1",
        ["Φ1"] = "PHI1",
        ["Θ1"] = "THETA1",
        ["Υ1"] = "UPS1",
        ["Ε2"] = "EPS2",
        ["Μ2"] = "MU2",
        ["Ν2"] = "NU2",
        ["Γ2"] = "GAMMA2",
        ["Α2"] = "ALPHA2",
        ["Β2"] = "BETA2",
        ["Δ2"] = "DELTA2",
        ["Λ2"] = "LAMBDA2",
        ["Ξ2"] = "XI2",
        ["Η2"] = "ETA2",
    };

    // The tides that a letter of a compound tide stands for; K is K2 or K1.
    private static readonly (string Letters, string Tide)[] Members =
    [
        ("LAMBDA", "LAMBDA2"), ("NU", "NU2"), ("Ν", "NU2"), ("Λ", "LAMBDA2"), ("M", "M2"), ("S", "S2"), ("N", "N2"), ("T", "T2"), ("R", "R2"), ("L", "L2"), ("K", "K2"),
        ("O", "O1"), ("P", "P1"), ("Q", "Q1"), ("J", "J1"),
    ];

    private static readonly Dictionary<string, Tide> Known = Astronomical.Split('\n').Select(Read).ToDictionary(t => t.Name);

    /// <summary>The recipe of a name; null when the constituent is not known, or needs node factors that a recipe cannot hold.</summary>
    public static int? Recipe(string name) => Find(name) is Tide tide ? Pack(tide) : null;

    /// <summary>The one name that stands for all names of a constituent, so that two lines for the same one are noticed; null when it is not known.</summary>
    public static string? Standard(string name) => Find(name)?.Name;

    private sealed record Tide(string Name, int[] Argument, int M2, int M2Factors, (NodeTerm Term, int Times)[] Terms);

    private static Tide? Find(string given)
    {
        string name = given.Trim().ToUpperInvariant();
        if (Aliases.TryGetValue(name, out string? other)) name = other;
        return Known.TryGetValue(name, out Tide? tide) ? tide : Compound(name);
    }

    private static Tide Read(string line)
    {
        string[] words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var terms = new List<(string Of, int Times)>();
        foreach (string word in words[7..])
        {
            int sign = word.IndexOfAny(['+', '-'], 1);
            terms.Add(sign < 0 ? (word, 1) : (word[..sign], int.Parse(word[sign..], System.Globalization.CultureInfo.InvariantCulture)));
        }
        int[] argument = words[1..7].Select(w => int.Parse(w, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        var others = terms.Where(t => t.Of != "M2").Select(t => (Enum.Parse<NodeTerm>(t.Of), t.Times)).ToArray();
        return new Tide(words[0], argument, terms.Where(t => t.Of == "M2").Sum(t => t.Times), terms.Where(t => t.Of == "M2").Sum(t => Math.Abs(t.Times)), others);
    }

    // Such as 2MS6, 2(MN)S6, MSN2: the times a day follow the letters.
    private static Tide? Compound(string name)
    {
        int digits = name.Length;
        while (digits > 0 && char.IsAsciiDigit(name[digits - 1])) digits--;
        if (digits == 0 || digits == name.Length || !int.TryParse(name[digits..], out int times) || times is < 1 or > 15) return null;
        string body = name[..digits];
        // MA4 and similar names are tides of M from which the yearly term is subtracted.
        int year = 0;
        if (body is "MA" or "MB")
        {
            year = body == "MA" ? -1 : 1;
            body = "M";
        }
        if (Letters(body) is not { } letters) return null;
        foreach ((string k, string s) in new[] { ("K2", "S2"), ("K1", "S2"), ("K2", "S1"), ("K1", "S1") })
        {
            (Tide Of, int Times)[] members = letters.Select(l => (Known[l.Tide switch { "K2" => k, "S2" => s, _ => l.Tide }], l.Times)).ToArray();
            if (members.Length == 1 && members[0].Times == 1 && members[0].Of.Argument[0] < times && times % members[0].Of.Argument[0] == 0)
                members[0].Times = times / members[0].Of.Argument[0];
            int sum = members.Sum(m => m.Of.Argument[0] * m.Times);
            for (int i = members.Length - 1; i >= 0 && sum != times; i--)
            {
                sum -= 2 * members[i].Of.Argument[0] * members[i].Times;
                members[i].Times = -members[i].Times;
            }
            if (sum != times) continue;
            int[] argument = Enumerable.Range(0, 6).Select(part => members.Sum(m => m.Of.Argument[part] * m.Times)).ToArray();
            argument[2] += year;
            var terms = members.SelectMany(m => m.Of.Terms.Select(t => (t.Term, Times: t.Times * m.Times))).GroupBy(t => t.Term).Select(g => (g.Key, g.Sum(t => t.Times))).ToArray();
            return new Tide(name, argument, members.Sum(m => m.Of.M2 * m.Times), members.Sum(m => m.Of.M2Factors * Math.Abs(m.Times)), terms);
        }
        return null;
    }

    private static List<(string Tide, int Times)>? Letters(string body)
    {
        var letters = new List<(string Tide, int Times)>();
        int group = 0, times = 0;
        for (int i = 0; i < body.Length;)
        {
            if (char.IsAsciiDigit(body[i]))
            {
                times = times * 10 + (body[i++] - '0');
                continue;
            }
            if (body[i] == '(' && group == 0)
            {
                group = times == 0 ? 1 : times;
                times = 0;
                i++;
                continue;
            }
            if (body[i] == ')' && group > 0)
            {
                group = 0;
                i++;
                // A number after the brackets, as in M(KS)2, belongs to the whole compound tide.
                continue;
            }
            var member = Members.FirstOrDefault(m => string.CompareOrdinal(body, i, m.Letters, 0, m.Letters.Length) == 0);
            if (member.Letters is null) return null;
            letters.Add((member.Tide, (times == 0 ? 1 : times) * (group == 0 ? 1 : group)));
            times = 0;
            i += member.Letters.Length;
        }
        return times == 0 && group == 0 && letters.Count > 0 ? letters : null;
    }

    private static int? Pack(Tide tide)
    {
        int pairs = tide.M2Factors - Math.Abs(tide.M2);
        if (tide.M2 is < -8 or > 7 || pairs is < 0 or > 6 || pairs % 2 != 0) return null;
        int? terms = Enumerable.Range(0, ConstituentRecipe.TermCount).Select(n => (int?)n).FirstOrDefault(n => Same(n!.Value, tide.Terms));
        int[] a = tide.Argument;
        bool fits = terms is not null && a[0] is >= 0 and <= 15 && a[1] is >= -16 and <= 15 && a[2] is >= -16 and <= 15 && a[3] is >= -4 and <= 3 && a[4] is >= -2 and <= 1;
        return fits ? ConstituentRecipe.Pack(a[0], a[1], a[2], a[3], a[4], a[5], tide.M2, pairs / 2, terms!.Value) : null;
    }

    private static bool Same(int number, (NodeTerm Term, int Times)[] terms)
    {
        int packed = ConstituentRecipe.Terms(number);
        var ours = new[] { packed, packed >> 8 }.Select(p => (Term: (NodeTerm)(p & 15), Times: (p >> 4 & 15) - 4)).Where(t => t.Term != NodeTerm.None && t.Times != 0);
        return ours.OrderBy(t => t.Term).SequenceEqual(terms.Where(t => t.Times != 0).OrderBy(t => t.Term).Select(t => (t.Term, t.Times)));
    }
}

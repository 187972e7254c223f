namespace Intervalometer.VirtualBoard.Plan;

/// <summary>An invented place with invented constants: no coast has this tide, and nobody may walk by it.</summary>
public static class DemoSite
{
    /// <summary>Its site file.</summary>
    public const string Text = """
        # An invented place: its tide and its path are made up. Do not walk by it anywhere.
        site: Gannet Ledge
        datum: invented chart datum
        latitude: 50.20
        longitude: -5.50
        local-time: +00:00
        walk-in: 35 min
        mean-level: 3.15 m

        [constituents]          # amplitude, Greenwich phase lag
        M2: 1.70 m 131.0 deg
        S2: 0.57 m 176.0 deg
        N2: 0.33 m 112.0 deg
        K2: 0.16 m 174.0 deg
        K1: 0.06 m 108.0 deg
        O1: 0.05 m 342.0 deg
        M4: 0.11 m 170.0 deg
        MS4: 0.07 m 220.0 deg
        NU2: 0.06 m 110.0 deg
        MU2: 0.07 m 150.0 deg
        L2: 0.06 m 140.0 deg
        SA: 0.06 m 230.0 deg

        [path]
        Sand neck: floods 3.8 m, walk 12 min, margin 0.4 m
        Boulder gap: floods 4.4 m, walk 25 min, margin 0.5 m

        [morning]
        before: 60 min          # the window opens before sunrise
        after: 60 min           # and closes after it
        band: 3.4 to 1.2 m      # heights the tide shall fall through
        work: 40 min            # the least that is worth the walk
        evenings: no
        """;

    /// <summary>The place and the wish.</summary>
    public static Site Load() => SiteFile.Parse(Text, "demo site");
}

using System.Text;
using Intervalometer.Coast.Place;
using Intervalometer.Core.Exposure;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Fuzz.Targets;

/// <summary>Texts that people write: scenarios, site files, filters. Each parser may refuse a text only with its own exception, in one line that says where the mistake is.</summary>
internal static class TextTargets
{
    public static readonly string[] SceneWords =
        ("\"endAt\":|\"presses\":[|\"button\":\"fire\"|\"at\":|\"forSeconds\":|\"everyTurn\":true|\"from\":|\"count\":|\"reactionMs\":|\"kit\":[|\"mark\":\"ND 0.9\"|\"mark\":\"GRAD 0.9R\"|\"mark\":\"POL 1.5\"|"
        + "\"name\":\"|\"trimStops\":|\"sharePercent\":|\"filters\":[|\"metered\":{|\"shutter\":\"1/60\"|\"aperture\":\"8\"|\"iso\":\"100\"|\"camera\":{|\"dial\":\"timed\"|\"dialSeconds\":|\"sea\":{|\"kind\":\"steady\"|"
        + "\"periodSeconds\":|\"seed\":|\"pictures\":[|\"startUtc\":\"2031-03-14T05:12:00Z\"|\"place\":\"demo\"|\"\\u0000\"|\"\\ud800\"|{|}|[|]|,|:|null|true|false|1e999|-1e-400|1e308|99999999999999999999|0.5|\"")
        .Split('|');

    public static readonly string[] SiteWords =
        ("site:|datum:|latitude:|longitude:|local-time: +01:00|local-time: -12:00|walk-in: 35 min|mean-level: 3.15 m|node-factors: daily|[constituents]|[turns]|[path]|[morning]|M2: 1.72 m 133.0 deg|S2:|"
        + "high: 2026-03-07 05:12 5.2 m|low: 2026-03-07 11:30 0.6 m|Sand neck: floods 3.3 m, walk 20 min, margin 0.3 m|before: 60 min|after: 60 min|band: 4.0 to 2.0 m|work: 30 min|evenings: yes|\n|#|:|99999999999999999999|-|.|0|"
        + "2000-01-01 00:00|2099-12-31 23:59|+14:00|-|NaN|Infinity|1e9|\u00e9|\u0000").Split('|');

    public static byte[][] SceneSeeds()
    {
        var seeds = new List<byte[]>();
        foreach (string name in typeof(TextTargets).Assembly.GetManifestResourceNames().Where(n => n.StartsWith("seed/", StringComparison.Ordinal)).Order())
        {
            using Stream stream = typeof(TextTargets).Assembly.GetManifestResourceStream(name)!;
            byte[] bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            seeds.Add(bytes);
        }
        if (seeds.Count == 0) throw new InvalidOperationException("no example is embedded");
        seeds.Add("""{ "endAt": 9, "kit": [ { "printed": "ND8", "name": "N", "trimStops": 0.3, "sharePercent": 50 } ], "filters": [ "N" ] }"""u8.ToArray());
        return [.. seeds];
    }

    public static byte[][] SiteSeeds() =>
    [
        Encoding.UTF8.GetBytes(DemoSite.Text),
        """
        site: Ledge
        datum: chart datum
        latitude: 50.20
        longitude: -5.50
        local-time: +01:00
        walk-in: 35 min
        [turns]
        high: 2026-03-07 05:12 5.2 m
        low: 2026-03-07 11:30 0.6 m
        high: 2026-03-07 17:40 5.0 m
        [path]
        Sand neck: floods 3.3 m, walk 20 min, margin 0.3 m
        [morning]
        before: 60 min
        after: 60 min
        band: 4.0 to 2.0 m
        work: 30 min
        """u8.ToArray(),
    ];

    /// <summary>A scenario. When it is accepted, it must also give its kit.</summary>
    public static void Scene(byte[] input)
    {
        SceneFile scene;
        try
        {
            scene = SceneReader.Parse("a.json", input, "/nowhere");
        }
        catch (SceneFileException fault)
        {
            OneLine(fault.Message, "a.json: line ");
            return;
        }
        if (!(scene.EndAt > 0 && scene.EndAt <= SceneFile.LongestSeconds)) throw new BrokenRuleException("a scenario that ends at no time was taken");
        if (scene.Presses.Any(p => !(p.At >= 0 && p.At <= scene.EndAt && p.ForSeconds > 0))) throw new BrokenRuleException("a press outside the scenario was taken");
        CheckKit(scene.Kit());
    }

    /// <summary>A site file. When it is accepted, its place must be a valid one.</summary>
    public static void Site(byte[] input)
    {
        Site site;
        try
        {
            site = SiteFile.Parse(Encoding.UTF8.GetString(input), "a.txt");
        }
        catch (SiteFileException wrong)
        {
            foreach (SiteMistake mistake in wrong.Mistakes) OneLine(mistake.Words, "a.txt, line ");
            if (wrong.Mistakes.Count is 0 or > 21) throw new BrokenRuleException($"a complaint of {wrong.Mistakes.Count} lines");
            return;
        }
        CoastPlace place = site.Place;
        if (!(Math.Abs(place.Position.LatitudeDegrees) <= 90 && Math.Abs(place.Position.LongitudeDegrees) <= 180)) throw new BrokenRuleException("a position off the globe was taken");
        if (Math.Abs(place.Offset.Before.Minutes) > 840) throw new BrokenRuleException("an impossible local time was taken");
        if (place.Name.Length is 0 or > 16) throw new BrokenRuleException("a name that cannot be shown was taken");
        for (int i = 0; i < place.PathCount; i++)
        {
            PathPoint point = place.PathPoint(i);
            if (!(point.LimitMetres is >= -30 and <= 20) || point.WalkMinutes is < 0 or > 600) throw new BrokenRuleException("an impossible low point was taken");
        }
        // What follows from a place at once, on the box and in a plan.
        var then = new Coast.Time.UtcInstant((place.Tide.ValidFrom.Seconds + place.Tide.ValidUntil.Seconds) / 2);
        if (!(Math.Abs(place.Tide.HeightMetres(then)) < 500)) throw new BrokenRuleException("a tide without a height was taken");
    }

    /// <summary>A filter. When it is accepted, it must have a strength.</summary>
    public static void Filter(byte[] input)
    {
        string text = Encoding.UTF8.GetString(input);
        if (FilterNotation.TryParse(text, out Filter filter, out string problem))
        {
            if (problem.Length > 0) throw new BrokenRuleException("a filter was taken with a complaint");
            var kit = new FilterKit();
            kit.Add(filter);
            CheckKit(kit);
            return;
        }
        OneLine(problem, text.Length == 0 ? "" : "ilter \"");
    }

    /// <summary>Every filter of a kit is one that the box could have.</summary>
    public static void CheckKit(FilterKit kit)
    {
        if (kit.Count > FilterKit.Capacity) throw new BrokenRuleException("a kit with too many filters");
        for (int i = 0; i < kit.Count; i++)
        {
            Filter f = kit[i];
            if (f.Name.Length is 0 or > Core.Exposure.Filter.LongestName || f.Name.Any(c => c is < ' ' or > '~')) throw new BrokenRuleException("a filter with an unfit name");
            if (!(f.Strength.Value is >= 0 and <= 20.01)) throw new BrokenRuleException("a filter with an impossible strength");
            if (Math.Abs(f.TrimTenths) > Core.Exposure.Filter.MaxTrimTenths || f.SharePercent is < 0 or > 100 || f.EffectTenths is < 0 or > Core.Exposure.Filter.MaxEffectTenths) throw new BrokenRuleException("a filter with an impossible trim, share or effect");
            if (!Enum.IsDefined(f.Kind) || !Enum.IsDefined(f.Scale)) throw new BrokenRuleException("a filter of no kind");
        }
    }

    private static void OneLine(string message, string where)
    {
        if (message.Any(c => c is '\n' or '\r')) throw new BrokenRuleException("a complaint of more than one line");
        if (!message.Contains(where, StringComparison.Ordinal)) throw new BrokenRuleException($"a complaint that does not say \"{where}\"");
        if (message.Length < 10) throw new BrokenRuleException("a complaint without words");
    }
}

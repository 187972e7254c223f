using Intervalometer.Core.Release;
using Intervalometer.Tests.DeviceBoard.Compare;
using Intervalometer.Drivers.Composition;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Budgets;

/// <summary>Runs the counted firmware and records what it cost. It runs inside <see cref="CountedBuild"/>.</summary>
public static class Measurements
{
    /// <summary>The design's limits, in instructions at 2 µs.</summary>
    public const long PressLimit = 50_000, DrawLimit = Box.QuietDrawUs / 2, ShoreLimit = ShoreDesk.QuietUs / 2, EdgeLimit = 500;

    /// <summary>
    /// What a press of Fire does, in the pass that samples it: a start is planned in a tenth of the time that the limiter needs before the
    /// first edge, and a stop opens the lines within four milliseconds.
    /// </summary>
    public const long StartLimit = PlanCompiler.LimiterUs / 10 / 2, StopLimit = 2_000;

    /// <summary>Every line of the table that is counted in running code, one a line.</summary>
    public static string Run()
    {
        var sheet = new Sheet();
        Pieces.Measure(sheet);
        TimedPath.Measure(sheet);
        Screens.Measure(sheet);
        HeapMoments.Measure(sheet);
        return string.Join("\n", sheet.Lines);
    }

    /// <summary>The demo site with as many constituents as a place can have, each with some energy. No place costs more. It is invented.</summary>
    public static Site LargestSite()
    {
        string demo = DemoSite.Text;
        int from = demo.IndexOf("[constituents]", StringComparison.Ordinal), to = demo.IndexOf("[path]", StringComparison.Ordinal);
        string given = demo[from..to];
        var more = LargestPlace.Names.Where(n => !given.Contains("\n" + n + ":", StringComparison.Ordinal)).Select((n, i) => $"{n}: 0.01 m {i * 53 % 360}.0 deg");
        return SiteFile.Parse(demo[..to] + string.Join("\n", more) + "\n\n" + demo[to..], "largest site");
    }

    /// <summary>A board at that place, on an invented morning.</summary>
    public static Board Board(DateTime? startUtc = null) => new(new BoardOptions { Place = LargestSite(), StartUtc = startUtc ?? BoardOptions.DefaultStartUtc });
}

/// <summary>Takes the lines.</summary>
public sealed class Sheet
{
    /// <summary>The lines so far.</summary>
    public List<Budget> Lines { get; } = [];

    /// <summary>Notes the instructions and their weight, and the limit on the weight.</summary>
    public void Add(string name, Cost cost, long limit = 0)
    {
        Lines.Add(new Budget(name, "IL", cost.Il, 0));
        Lines.Add(new Budget(name, "weighted IL", cost.Weighted, limit));
    }

    /// <summary>Notes one number.</summary>
    public void Add(string name, string unit, long value, long limit = 0) => Lines.Add(new Budget(name, unit, value, limit));


    /// <summary>Each counter at its largest over some calls.</summary>
    public static Cost Worst(IEnumerable<Cost> costs)
    {
        Cost worst = default;
        int seen = 0;
        foreach (Cost cost in costs)
        {
            seen++;
            worst = new Cost(Math.Max(worst.Il, cost.Il), Math.Max(worst.Weighted, cost.Weighted), Math.Max(worst.Allocations, cost.Allocations), Math.Max(worst.Bytes, cost.Bytes));
        }
        return seen > 0 ? worst : throw new InvalidOperationException("nothing was counted");
    }
}

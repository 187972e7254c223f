namespace Intervalometer.Tests.Budgets;

/// <summary>Prints the table of what the firmware costs; with --accept writes it down as the one that the test holds.</summary>
public static class Program
{
    /// <summary>0 when every limit of the design holds, else 1; 2 for an unknown argument.</summary>
    public static int Main(string[] args)
    {
        if (args.Any(a => a != "--accept"))
        {
            Console.Error.WriteLine($"budgets: '{args.First(a => a != "--accept")}' is not known; give nothing to print the table, or --accept to write it to {BudgetTable.RelativePath}");
            return 2;
        }
        Budget[] now = CountedBuild.Measure();
        if (args.Length > 0) BudgetTable.Write(now);
        Console.WriteLine(BudgetTable.Markdown(now, File.Exists(BudgetTable.FilePath) ? BudgetTable.Read() : []));
        Budget[] broken = [.. now.Where(b => b.Broken)];
        foreach (Budget line in broken) Console.Error.WriteLine($"{line.Name}: {line.Value} {line.Unit}, more than the design's {line.Limit}");
        return broken.Length == 0 ? 0 : 1;
    }
}

using System.CommandLine;

namespace Intervalometer.Tests.Budgets;

/// <summary>Prints the table of what the firmware costs. With --accept it also writes the table to the file that the test compares with.</summary>
public static class Program
{
    /// <summary>0 when every limit of the design holds, else 1.</summary>
    public static int Main(string[] args)
    {
        Option<bool> accept = new("--accept") { Description = $"Write the counts to {BudgetTable.RelativePath} and {BudgetPage.RelativePath}, which the test compares with." };
        var root = new RootCommand("Counts what the firmware costs an interpreter and prints the table. Ends with 1 when a limit of the design is broken.") { accept };
        root.SetAction(parsed => Count(parsed.GetValue(accept)));
        return root.Parse(args).Invoke();
    }

    private static int Count(bool accept)
    {
        Budget[] now = CountedBuild.Measure();
        if (accept)
        {
            BudgetTable.Write(now);
            BudgetPage.Write(now);
        }
        Console.WriteLine(BudgetTable.Markdown(now, File.Exists(BudgetTable.FilePath) ? BudgetTable.Read() : []));
        Budget[] broken = [.. now.Where(b => b.Broken)];
        foreach (Budget line in broken) Console.Error.WriteLine($"{line.Name}: {line.Value} {line.Unit}, more than the design's {line.Limit}");
        return broken.Length == 0 ? 0 : 1;
    }
}

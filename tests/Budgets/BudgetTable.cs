using System.Text;

namespace Intervalometer.Tests.Budgets;

/// <summary>The committed table and the comparison with it.</summary>
public static class BudgetTable
{
    /// <summary>Where it lies, from the root.</summary>
    public const string RelativePath = "tests/Budgets/budgets.csv";

    private const string Head = "name,unit,value,limit,standing";

    /// <summary>Where it lies.</summary>
    public static string FilePath { get; } = Path.Combine(Root(), RelativePath);

    /// <summary>Reads it.</summary>
    public static Budget[] Read() => [.. File.ReadAllLines(FilePath).Skip(1).Where(line => line.Length > 0).Select(Budget.Parse)];

    /// <summary>Writes it.</summary>
    public static void Write(IEnumerable<Budget> lines) =>
        File.WriteAllText(FilePath, Head + "\n" + string.Concat(lines.Select(line => line + "\n")));

    /// <summary>Compares new values with the table. One line for each value that is more than a tenth above it, newly breaks a limit, or is missing on one side.</summary>
    public static string[] Complaints(IReadOnlyCollection<Budget> now, IReadOnlyCollection<Budget> table)
    {
        var wrong = new List<string>();
        foreach (Budget line in now)
        {
            Budget? old = table.FirstOrDefault(o => o.Name == line.Name && o.Unit == line.Unit);
            if (old == null) wrong.Add($"{line.Name} ({line.Unit}): {line.Value}, but not in the table");
            else if (line.Value * 10 > old.Value * 11) wrong.Add($"{line.Name}: {line.Value} {line.Unit}, more than a tenth above the table's {old.Value}");
            else if (line.Broken && !old.Broken) wrong.Add($"{line.Name}: {line.Value} {line.Unit}, more than the {line.Limit} that the design allows");
        }
        foreach (Budget old in table.Where(o => !now.Any(n => n.Name == o.Name && n.Unit == o.Unit))) wrong.Add($"{old.Name} ({old.Unit}): in the table, but no longer counted");
        return [.. wrong];
    }

    /// <summary>The table as Markdown for people.</summary>
    public static string Markdown(IEnumerable<Budget> now, IReadOnlyCollection<Budget> table)
    {
        var text = new StringBuilder("| what | unit | counted | the design allows | table |\n| --- | --- | ---: | ---: | ---: |\n");
        foreach (Budget line in now)
        {
            Budget? old = table.FirstOrDefault(o => o.Name == line.Name && o.Unit == line.Unit);
            string change = old == null ? "new" : old.Value == line.Value ? "same" : old.Value == 0 ? "was 0" : FormattableString.Invariant($"{100.0 * (line.Value - old.Value) / old.Value:+0.0;-0.0} %");
            string limit = line.Limit == 0 ? "" : (line with { Value = line.Limit }).Shown + (line.Broken ? " **broken**" : "");
            text.Append($"| {line.Name} | {line.Unit} | {line.Shown} | {limit} | {change} |\n");
        }
        return text.ToString();
    }

    /// <summary>The root of the repository.</summary>
    public static string Root()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder != null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Intervalometer.sln"))) return folder.FullName;
        }
        throw new InvalidOperationException($"{AppContext.BaseDirectory}: no Intervalometer.sln in any folder above; run from the working tree");
    }
}

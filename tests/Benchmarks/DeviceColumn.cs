using System.Globalization;
using Intervalometer.Tests.Budgets;

namespace Intervalometer.Benchmarks;

/// <summary>What a piece would take on the device, from the counted instructions in tests/Budgets/budgets.csv. Nothing was measured on a device.</summary>
internal sealed class DeviceColumn
{
    private readonly Budget[] _table = BudgetTable.Read();

    /// <summary>How the column came about, in words.</summary>
    public static string Words => string.Create(CultureInfo.InvariantCulture, $"device: estimate, weighted IL as counted in {BudgetTable.RelativePath} at {Budget.MicrosecondsEach} µs each; never measured");

    /// <summary>A line of the table, some times over; "not counted" for an empty name.</summary>
    public string Cell(string line, int times = 1)
    {
        if (line == "") return "not counted";
        Budget budget = _table.FirstOrDefault(b => b.Name == line && b.Unit == "weighted IL")
            ?? throw new MissingException($"{BudgetTable.RelativePath}: no line '{line}' in weighted IL; give the row of the benchmark the name that the line has now");
        double count = (double)budget.Value * times, seconds = count * Budget.MicrosecondsEach / 1e6;
        string words = count >= 1e6 ? $"{count / 1e6:F1} M" : $"{count / 1e3:F1} k";
        return seconds >= 10 ? $"{words}, {seconds:F0} s" : seconds >= 0.1 ? $"{words}, {seconds:F2} s" : $"{words}, {seconds * 1000:F0} ms";
    }
}

using System.Globalization;
using Intervalometer.Tests.Budgets;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Compares what tests/Budgets counts without a runtime with the real runtime: files, tables, and the heap at three moments.</summary>
public sealed class CountCheck(TextWriter output, Judge judge)
{
    /// <summary>The script whose moments are counted.</summary>
    public const string Script = "heap";

    /// <summary>Where the counts stand, from the root.</summary>
    public const string Table = "tests/Budgets/budgets.csv";

    /// <summary>How far a count may be from the real figure, per cent.</summary>
    public const double PerCent = 3;

    /// <summary>How far the sum of all files may be off, per cent.</summary>
    public const double SumPerCent = 1;

    private const string LineStart = "heap: all of it; ";

    /// <summary>Compares the files and tables of the firmware's assemblies.</summary>
    /// <param name="sizes">What the runtime tells.</param>
    /// <param name="assembly">Where an assembly lies, by name, from which its file was converted.</param>
    public void Files(IReadOnlyList<AssemblySize> sizes, Func<string, string> assembly)
    {
        output.WriteLine("counted                               .pe   real   off   tables   real   off");
        int counted = 0, real = 0;
        foreach (AssemblySize size in sizes.Where(s => s.IsOwn))
        {
            DeviceFile file = DeviceFile.Of(assembly(size.Name));
            counted += file.FileBytes;
            real += size.FileBytes;
            output.WriteLine(FormattableString.Invariant($"{size.Name,-32}{file.FileBytes,9}{size.FileBytes,7}{Off(file.FileBytes, size.FileBytes),6:F1}{file.HeapBytes,9}{size.TableBytes,7}{Off(file.HeapBytes, size.TableBytes),6:F1}"));
            Hold($"{size.Name}.pe", file.FileBytes, size.FileBytes, PerCent);
            Hold($"byte code of {size.Name}", file.CodeBytes, size.ByteCode, PerCent);
            Hold($"tables of {size.Name}", file.HeapBytes, size.TableBytes, PerCent);
        }
        Hold("all files of the firmware", counted, real, SumPerCent);
    }

    /// <summary>Compares the heap at each moment.</summary>
    /// <param name="table">The table of counts.</param>
    /// <param name="measured">What the box took at each, by name.</param>
    public void Moments(string table, IReadOnlyList<(string Moment, int Bytes)> measured)
    {
        var counts = File.ReadLines(table).Where(l => l.StartsWith(LineStart, StringComparison.Ordinal)).Select(l => l[LineStart.Length..].Split(','))
            .ToDictionary(l => l[0], l => int.Parse(l[2], CultureInfo.InvariantCulture));
        judge.Check(measured.Count == counts.Count, $"{Table} counts {counts.Count} moments of the heap, and {measured.Count} were measured");
        output.WriteLine("  heap                      counted  measured   off");
        foreach ((string moment, int bytes) in measured)
        {
            string name = moment.Replace('-', ' ');
            bool there = counts.TryGetValue(name, out int counted);
            judge.Check(there, $"{Table} has no count of the heap \"{name}\"");
            if (!there) continue;
            output.WriteLine(FormattableString.Invariant($"  {name,-24}{counted,9}{bytes,10}{Off(counted, bytes),6:F1}"));
            Hold($"the heap \"{name}\"", counted, bytes, PerCent);
        }
    }

    private void Hold(string what, int counted, int real, double most) =>
        judge.Check(Math.Abs(Off(counted, real)) <= most, FormattableString.Invariant($"{what}: counted {counted} bytes, really {real}, {Off(counted, real):F1} % off; {most} are allowed"));

    private static double Off(int counted, int real) => 100.0 * counted / real - 100;
}

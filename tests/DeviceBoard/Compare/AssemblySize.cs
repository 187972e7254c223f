using System.Globalization;
using System.Text.RegularExpressions;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>What the runtime tells of an assembly when it loads it.</summary>
/// <param name="Name">Its name.</param>
/// <param name="FileBytes">Size of its file.</param>
/// <param name="ByteCode">Bytes of byte code.</param>
/// <param name="TableBytes">What its tables take of the heap.</param>
public sealed partial record AssemblySize(string Name, int FileBytes, int ByteCode, int TableBytes)
{
    /// <summary>True for a part of the stand-in board, or of what it stands in for.</summary>
    public bool IsStandIn => Name.StartsWith("Intervalometer.DeviceBoard", StringComparison.Ordinal) || Name.StartsWith("System.Device.", StringComparison.Ordinal) || Name.StartsWith("nanoFramework.", StringComparison.Ordinal);

    /// <summary>True for a part of the firmware.</summary>
    public bool IsOwn => Name.StartsWith("Intervalometer.", StringComparison.Ordinal) && !IsStandIn;

    /// <summary>Every assembly that a run loaded.</summary>
    public static IReadOnlyList<AssemblySize> Of(Run run)
    {
        var sizes = new List<AssemblySize>();
        foreach (string line in run.Lines)
        {
            if (Heading().Match(line) is { Success: true } heading)
            {
                sizes.Add(new AssemblySize(heading.Groups[1].Value, Number(heading.Groups[3].Value), 0, Number(heading.Groups[2].Value)));
            }
            else if (line.StartsWith("Total:", StringComparison.Ordinal))
            {
                break;
            }
            else if (sizes.Count > 0 && Code().Match(line) is { Success: true } code)
            {
                sizes[^1] = sizes[^1] with { ByteCode = Number(code.Groups[1].Value) };
            }
        }
        return sizes;
    }

    private static int Number(string digits) => int.Parse(digits, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^\s+Assembly: (\S+) \(\S+\)\s+\((\d+) RAM - (\d+) ROM")]
    private static partial Regex Heading();

    [GeneratedRegex(@"^\s+ByteCode\s+=\s+(\d+) bytes")]
    private static partial Regex Code();
}

using System.Globalization;
using System.Text;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Makes the script assembly of a start: as code, which takes no heap on the device.</summary>
public static class ScriptSource
{
    /// <summary>Name of the assembly.</summary>
    public const string AssemblyName = "Intervalometer.DeviceBoard.Script";

    // A switch of the device's runtime has a byte for its number of cases.
    private const int StepsPerMethod = 100;
    private const int BytesPerLine = 32;

    /// <summary>The C# source.</summary>
    /// <param name="start">The start.</param>
    /// <param name="memory">What the memory holds; null for a blank one.</param>
    /// <param name="batteryCount">What the battery's converter counts.</param>
    /// <param name="watched">Pins whose changes are printed.</param>
    /// <param name="printPictures">True to print pictures bit by bit.</param>
    public static string Of(Start start, byte[]? memory, int batteryCount, IEnumerable<int> watched, bool printPictures)
    {
        var text = new StringBuilder();
        text.Append("namespace Intervalometer.Tests.DeviceBoard;\n\npublic static class Script\n{\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static int Count() => {start.Steps.Count};\n");
        text.Append("    public static int Step(int index, out int atMs, out int value)\n    {\n");
        int methods = (start.Steps.Count + StepsPerMethod - 1) / StepsPerMethod;
        for (int i = 0; i < methods - 1; i++) text.Append(CultureInfo.InvariantCulture, $"        if (index < {(i + 1) * StepsPerMethod}) return Step{i}(index, out atMs, out value);\n");
        text.Append(CultureInfo.InvariantCulture, $"        return Step{methods - 1}(index, out atMs, out value);\n    }}\n");
        for (int i = 0; i < methods; i++) Method(text, start.Steps, i);
        text.Append("    public static byte[] Memory() => new byte[]\n    {\n");
        foreach (byte[] line in Held(memory).Chunk(BytesPerLine)) text.Append(CultureInfo.InvariantCulture, $"        {string.Join(", ", line)},\n");
        text.Append("    };\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static byte[] ClockHolds() => new byte[] {{ {string.Join(", ", start.ClockHolds)} }};\n");
        DateTime utc = start.Utc;
        text.Append(CultureInfo.InvariantCulture, $"    public static int BatteryCount() => {batteryCount};\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static int StartDate() => {utc.Year * 10000 + utc.Month * 100 + utc.Day};\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static int StartSecond() => {(int)utc.TimeOfDay.TotalSeconds};\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static bool Woken() => {(start.Woken ? "true" : "false")};\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static int Fault() => {start.Fault};\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static int Light() => {start.Light};\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static bool PrintPictures() => {(printPictures ? "true" : "false")};\n");
        text.Append(CultureInfo.InvariantCulture, $"    public static bool Watches(int pin) => {string.Join(" || ", watched.Select(pin => $"pin == {pin}"))};\n}}\n");
        return text.ToString();
    }

    /// <summary>Compiles the source against the device's class library.</summary>
    public static void Compile(string source, string classLibrary, string toFile)
    {
        CSharpCompilation compilation = CSharpCompilation.Create(
            AssemblyName,
            [CSharpSyntaxTree.ParseText(source)],
            [MetadataReference.CreateFromFile(classLibrary)],
            new CSharpCompilationOptions(OutputKind.DynamicallyLinkedLibrary, optimizationLevel: OptimizationLevel.Release, deterministic: true));
        var result = compilation.Emit(toFile);
        if (!result.Success) throw new InvalidOperationException(string.Join("\n", result.Diagnostics.Where(d => d.Severity == DiagnosticSeverity.Error)));
    }

    private static void Method(StringBuilder text, IReadOnlyList<Step> steps, int part)
    {
        text.Append(CultureInfo.InvariantCulture, $"    private static int Step{part}(int index, out int atMs, out int value)\n    {{\n");
        text.Append("        int kind = 0;\n        atMs = 0;\n        value = 0;\n        switch (index)\n        {\n");
        for (int i = part * StepsPerMethod; i < Math.Min(steps.Count, (part + 1) * StepsPerMethod); i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"            case {i}: kind = {steps[i].Kind}; atMs = {steps[i].AtMs}; value = {steps[i].Value}; break;\n");
        }
        text.Append("        }\n        return kind;\n    }\n");
    }

    private static byte[] Held(byte[]? memory)
    {
        if (memory is null) return [];
        int length = memory.Length;
        while (length > 0 && memory[length - 1] == 0xFF) length--;
        return memory[..length];
    }
}

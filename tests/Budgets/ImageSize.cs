namespace Intervalometer.Tests.Budgets;

/// <summary>
/// How large the program is: each own assembly as the device's processor writes it (<see cref="DeviceFile"/>), counted. The processor's own
/// files, of 28 November 2026, were 192,232 bytes; the counts lay within 0.5 % of each and within 0.2 % of the sum.
/// </summary>
public static class ImageSize
{
    // lib/mscorlib.pe of nanoFramework.CoreLibrary 1.17.11.
    private const long ClassLibraryPe = 32_536;

    /// <summary>
    /// What an assembly's byte code may take. The runtime and its processor address a method by 16 bits, so 65,535 bytes are the
    /// end; a quarter is kept free.
    /// </summary>
    private const long ByteCodeLimit = 48 * 1024;

    /// <summary>The files of the device that are ours.</summary>
    internal static readonly string[] Own = ["Intervalometer.Core.dll", "Intervalometer.Coast.dll", "Intervalometer.Settings.dll", "Intervalometer.Screens.dll", "Intervalometer.Drivers.dll", "Intervalometer.Esp32.exe"];

    /// <summary>The own assemblies as released, counted.</summary>
    public static IReadOnlyList<DeviceFile> Files() => [.. Own.Select(file => DeviceFile.Of(CountedBuild.Released("device/" + file)))];

    /// <summary>The lines of the table.</summary>
    public static IEnumerable<Budget> Lines()
    {
        IReadOnlyList<DeviceFile> files = Files();
        foreach (DeviceFile file in files)
        {
            yield return new Budget($"image: {file.Name}.pe", "bytes", file.FileBytes, 0);
            yield return new Budget($"image: byte code of {file.Name}", "bytes", file.CodeBytes, ByteCodeLimit);
        }
        yield return new Budget("image: mscorlib.pe", "bytes", ClassLibraryPe, 0);
        yield return new Budget("image: own files as .pe", "bytes", files.Sum(f => f.FileBytes), 0);
    }
}

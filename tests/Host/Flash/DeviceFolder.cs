using System.Text;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Plan;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Intervalometer.Tests.Host.Flash;

/// <summary>The output of a build as the real packages would give it: made-up assemblies and device files around the real class library.</summary>
internal sealed class DeviceFolder : IDisposable
{
    private const string Gpio = "System.Device.Gpio", Core = "Intervalometer.Core", Program = "Intervalometer.Esp32";

    private readonly Dictionary<string, MetadataReference> _made = [];

    /// <summary>Class library, one package, Core, and a program that needs them all.</summary>
    public DeviceFolder()
    {
        Folder = Directory.CreateTempSubdirectory("pieces").FullName;
        File.Copy(Repository.DeviceClassLibrary, At("mscorlib.dll"));
        File.Copy(Path.ChangeExtension(Repository.DeviceClassLibrary, ".pe"), At("mscorlib.pe"));
        Add(Gpio, "1.1.62.0", "public class Pin { }");
        Add(Core, "0.0.0.0", "public class Core { }");
        Add(Program, "0.0.0.0", "public class Program { public static void Main() { new Pin(); new Core(); } }", Gpio, Core);
    }

    public string Folder { get; }

    public string At(string file) => Path.Combine(Folder, file);

    /// <summary>Compiles an assembly against the device's class library and those named, and puts a device file beside it.</summary>
    public void Add(string name, string version, string source, params string[] needs)
    {
        bool program = name == Program;
        var compilation = CSharpCompilation.Create(name,
            [CSharpSyntaxTree.ParseText($"[assembly: System.Reflection.AssemblyVersion(\"{version}\")]\n" + source)],
            needs.Select(n => _made[n]).Prepend(MetadataReference.CreateFromFile(Repository.DeviceClassLibrary)),
            new CSharpCompilationOptions(program ? OutputKind.ConsoleApplication : OutputKind.DynamicallyLinkedLibrary));
        using var image = new MemoryStream();
        Microsoft.CodeAnalysis.Emit.EmitResult made = compilation.Emit(image);
        Assert.IsTrue(made.Success, string.Join("\n", made.Diagnostics));
        File.WriteAllBytes(At(name + (program ? ".exe" : ".dll")), image.ToArray());
        _made[name] = MetadataReference.CreateFromImage(image.ToArray());
        Pe(name, version, DeviceFile.HeadBytes + 1);
    }

    /// <summary>Writes a device file of a length, with sound checksums.</summary>
    public void Pe(string name, string version, int length, string marker = "NFMRK1", byte[]? content = null)
    {
        byte[] bytes = new byte[length];
        Array.Fill(bytes, (byte)name[^1]);
        content?.CopyTo(bytes, DeviceFile.HeadBytes);
        Encoding.ASCII.GetBytes(marker).CopyTo(bytes, 0);
        // Where the last table ends, as the class library's own file has it.
        BitConverter.GetBytes(length).CopyTo(bytes, 0x64);
        var parts = new Version(version);
        foreach ((int part, int place) in new[] { (parts.Major, 0x1C), (parts.Minor, 0x1E), (parts.Build, 0x20), (parts.Revision, 0x22) }) BitConverter.GetBytes((ushort)part).CopyTo(bytes, place);
        DeviceFile.Seal(bytes, 0);
        File.WriteAllBytes(At(name + ".pe"), bytes);
    }

    public void Dispose() => Directory.Delete(Folder, true);
}

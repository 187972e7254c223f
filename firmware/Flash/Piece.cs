using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using System.Text;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Flash;

/// <summary>Another assembly that an assembly needs.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Version">The version that the assembly was built against.</param>
public sealed record Need(string Name, Version Version);

/// <summary>A pin of the chip.</summary>
/// <param name="Name">What is wired to it, as the pin map calls it.</param>
/// <param name="Number">GPIO number.</param>
public sealed record NamedPin(string Name, int Number);

/// <summary>One assembly of the firmware, with the device file that the metadata processor made of it.</summary>
public sealed class Piece
{
    /// <summary>The type that marks a declaration-only assembly; see firmware/Contracts.</summary>
    public const string ContractMarker = "DeclarationOnlyContract";

    private const string PinMap = "PinMap";

    private Piece(string path, MetadataReader reader)
    {
        Path = path;
        AssemblyDefinition assembly = reader.GetAssemblyDefinition();
        Name = reader.GetString(assembly.Name);
        Version = assembly.Version;
        Needs = [.. reader.AssemblyReferences.Select(handle => reader.GetAssemblyReference(handle)).Select(r => new Need(reader.GetString(r.Name), r.Version))];
        Pins = [.. PinsOf(reader)];
        if (IsOwn) SharedFrame = SharedFrameOf(reader);
        IsContract = reader.TypeDefinitions.Any(handle => reader.StringComparer.Equals(reader.GetTypeDefinition(handle).Name, ContractMarker));
    }

    /// <summary>The assembly's file.</summary>
    public string Path { get; }

    /// <summary>Its name.</summary>
    public string Name { get; }

    /// <summary>Its version.</summary>
    public Version Version { get; }

    /// <summary>The assemblies that it needs.</summary>
    public IReadOnlyList<Need> Needs { get; }

    /// <summary>The pins in its pin map; none when it has no map.</summary>
    public IReadOnlyList<NamedPin> Pins { get; }

    /// <summary>The first of our own methods that the runtime may run in its caller's stack frame; null when there is none. firmware/OwnFrames says why that matters.</summary>
    public string? SharedFrame { get; }

    /// <summary>True for a declaration-only assembly, which throws at its first call.</summary>
    public bool IsContract { get; }

    /// <summary>True for the program, false for a library.</summary>
    public bool IsProgram => System.IO.Path.GetExtension(Path).Equals(".exe", StringComparison.OrdinalIgnoreCase);

    /// <summary>True for an assembly of this project.</summary>
    public bool IsOwn => Name.StartsWith("Intervalometer.", StringComparison.Ordinal);

    /// <summary>The path of the device file beside it.</summary>
    public string PePath => System.IO.Path.ChangeExtension(Path, ".pe");

    /// <summary>True when the device file exists.</summary>
    public bool HasPe => File.Exists(PePath);

    /// <summary>Its size in the image, padded, bytes.</summary>
    public long PaddedBytes => Image.Padded(new FileInfo(PePath).Length);

    /// <summary>Reads an assembly. Returns null when the file is not one.</summary>
    public static Piece? Read(string path)
    {
        try
        {
            using var file = new PEReader(File.OpenRead(path));
            return file.HasMetadata && file.GetMetadataReader() is { IsAssembly: true } reader ? new Piece(path, reader) : null;
        }
        catch (BadImageFormatException)
        {
            return null;
        }
    }

    // The whole numbers among the constants of the pin map, except for the bus number, the addresses and the kind of display, which are not pins.
    private static IEnumerable<NamedPin> PinsOf(MetadataReader reader)
    {
        foreach (TypeDefinition type in reader.TypeDefinitions.Select(reader.GetTypeDefinition).Where(t => reader.StringComparer.Equals(t.Name, PinMap)))
        {
            foreach (FieldDefinition field in type.GetFields().Select(reader.GetFieldDefinition).Where(f => !f.GetDefaultValue().IsNil))
            {
                string name = reader.GetString(field.Name);
                Constant value = reader.GetConstant(field.GetDefaultValue());
                bool number = name.EndsWith("Address", StringComparison.Ordinal) || name.EndsWith("Id", StringComparison.Ordinal);
                BlobReader signature = reader.GetBlobReader(field.Signature);
                bool whole = signature.ReadSignatureHeader().Kind == SignatureKind.Field && signature.ReadSignatureTypeCode() == SignatureTypeCode.Int32;
                if (!number && whole && value.TypeCode == ConstantTypeCode.Int32) yield return new NamedPin(name, reader.GetBlobReader(value.Value).ReadInt32());
            }
        }
    }

    private static string? SharedFrameOf(MetadataReader reader)
    {
        foreach (MethodDefinition method in reader.MethodDefinitions.Select(reader.GetMethodDefinition))
        {
            bool may = method.RelativeVirtualAddress != 0 && (method.Attributes & MethodAttributes.Static) == 0 && !reader.StringComparer.Equals(method.Name, ".ctor");
            if (may && method.GetCustomAttributes().Count == 0) return $"{reader.GetString(reader.GetTypeDefinition(method.GetDeclaringType()).Name)}.{reader.GetString(method.Name)}";
        }
        return null;
    }

    /// <summary>What is wrong with the device file; null when nothing is.</summary>
    public string? PeFault()
    {
        if (!HasPe) return $"{Name}: no {System.IO.Path.GetFileName(PePath)}; run the metadata processor on {System.IO.Path.GetFileName(Path)}, or take the file from the package";
        byte[] bytes = File.ReadAllBytes(PePath);
        string file = System.IO.Path.GetFileName(PePath);
        if (bytes.Length < DeviceFile.HeadBytes || Encoding.ASCII.GetString(bytes, 0, DeviceFile.Marker.Length) != DeviceFile.Marker) return $"{Name}: {file} is no file of the device (it does not begin with {DeviceFile.Marker}); make it again";
        int[] parts = [.. Enumerable.Range(0, 4).Select(i => (int)BitConverter.ToUInt16(bytes, DeviceFile.VersionAt + 2 * i))];
        var version = new Version(parts[0], parts[1], parts[2], parts[3]);
        if (version != Version) return $"{Name}: {file} is version {version}, the assembly {Version}; make it again";
        return DeviceFile.FaultAt(bytes, 0) is string fault ? $"{Name}: {file} is damaged ({fault}); make it again" : null;
    }
}

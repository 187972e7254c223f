using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// How large the program is. The device's own files (.pe) come from the metadata processor, which this feed does not serve: the
/// metadata and IL of each assembly as released stand for them. The platform's own processor, built from its sources, made
/// 190,632 bytes of our five assemblies, 71 % of their metadata and IL; each of the five lay within 4 % of that share.
/// </summary>
public static class ImageSize
{
    // lib/mscorlib.pe of nanoFramework.CoreLibrary 1.17.11.
    private const long ClassLibraryPe = 32_536;

    private const int PePercent = 71;

    /// <summary>
    /// What an assembly's byte code may take. The runtime and its processor address a method by 16 bits, so 65,535 bytes are the
    /// end; a quarter is kept free.
    /// </summary>
    private const long ByteCodeLimit = 48 * 1024;

    /// <summary>The files of the device that are ours.</summary>
    internal static readonly string[] Own = ["Intervalometer.Core.dll", "Intervalometer.Settings.dll", "Intervalometer.Screens.dll", "Intervalometer.Drivers.dll", "Intervalometer.Esp32.exe"];

    /// <summary>The lines of the table.</summary>
    public static IEnumerable<Budget> Lines()
    {
        long sum = 0;
        foreach (string file in Own)
        {
            long bytes = MetadataAndIl(CountedBuild.Released("device/" + file));
            sum += bytes;
            yield return new Budget("image: metadata and IL of " + file, "bytes", bytes, 0);
            yield return new Budget("image: IL of " + file + " (the device's byte code is shorter)", "bytes", IlBytes(CountedBuild.Released("device/" + file)), ByteCodeLimit);
        }
        yield return new Budget("image: mscorlib.pe", "bytes", ClassLibraryPe, 0);
        yield return new Budget("image: own files as .pe (estimate)", "bytes", sum * PePercent / 100, 0);
    }

    // The device writes a token in two bytes where IL takes four, so this never counts too little.
    private static long IlBytes(string path)
    {
        using var file = new PEReader(File.OpenRead(path));
        MetadataReader reader = file.GetMetadataReader();
        return reader.MethodDefinitions.Select(handle => reader.GetMethodDefinition(handle).RelativeVirtualAddress)
            .Where(address => address != 0)
            .Sum(address => (long)file.GetMethodBody(address).GetILReader().Length);
    }

    private static long MetadataAndIl(string path)
    {
        using var file = new PEReader(File.OpenRead(path));
        MetadataReader reader = file.GetMetadataReader();
        long bytes = file.PEHeaders.MetadataSize;
        foreach (MethodDefinitionHandle handle in reader.MethodDefinitions)
        {
            int address = reader.GetMethodDefinition(handle).RelativeVirtualAddress;
            if (address != 0) bytes += file.GetMethodBody(address).Size;
        }
        foreach (FieldDefinitionHandle handle in reader.FieldDefinitions)
        {
            FieldDefinition field = reader.GetFieldDefinition(handle);
            if (field.GetRelativeVirtualAddress() == 0) continue;
            BlobReader signature = reader.GetBlobReader(field.Signature);
            signature.ReadByte();
            if (signature.ReadSignatureTypeCode() != SignatureTypeCode.TypeHandle) continue;
            EntityHandle type = signature.ReadTypeHandle();
            if (type.Kind == HandleKind.TypeDefinition) bytes += reader.GetTypeDefinition((TypeDefinitionHandle)type).GetLayout().Size;
        }
        return bytes;
    }
}

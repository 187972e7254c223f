using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>The assemblies of one program for the device: found by what they refer to, references first, and converted.</summary>
public sealed class DeviceSet
{
    private readonly string _binaries;
    private readonly List<string> _names = [];

    /// <summary>Collects a program into a new folder and converts it.</summary>
    /// <param name="runtime">What converts.</param>
    /// <param name="folder">A new folder.</param>
    /// <param name="program">The program's assembly.</param>
    /// <param name="standIns">A folder whose assemblies are taken before those beside the program; null for none.</param>
    public DeviceSet(DeviceRuntime runtime, string folder, string program, string? standIns)
    {
        _binaries = Directory.CreateDirectory(Path.Combine(folder, "bin")).FullName;
        Folder = Directory.CreateDirectory(Path.Combine(folder, "pe")).FullName;
        string beside = Path.GetDirectoryName(Path.GetFullPath(program))!;
        Take(program, standIns is null ? [beside] : [standIns, beside]);
        ClassLibrary = Path.Combine(_binaries, "mscorlib.dll");
        runtime.Convert(_binaries, Folder);
        Files = [.. _names.Select(name => name + ".pe")];
        foreach (string file in Files)
        {
            if (!File.Exists(Path.Combine(Folder, file))) throw new InvalidOperationException($"{file} did not come out of the conversion.");
        }
    }

    /// <summary>Where the converted files are.</summary>
    public string Folder { get; }

    /// <summary>The converted files, references first.</summary>
    public IReadOnlyList<string> Files { get; }

    /// <summary>The device's class library, as the program was compiled against it.</summary>
    public string ClassLibrary { get; }

    /// <summary>The file of an assembly before it was converted.</summary>
    public string Assembly(string name) => new[] { ".dll", ".exe" }.Select(end => Path.Combine(_binaries, name + end)).First(File.Exists);

    /// <summary>Converts another script into the set.</summary>
    public void Replace(DeviceRuntime runtime, string source)
    {
        string folder = Path.Combine(_binaries, "script");
        Directory.CreateDirectory(folder);
        ScriptSource.Compile(source, ClassLibrary, Path.Combine(folder, ScriptSource.AssemblyName + ".dll"));
        runtime.Convert(folder, Folder);
    }

    /// <summary>Puts a place into the room that the program keeps for one, as <c>firmware/Flash --place</c> does with the joined image.</summary>
    public void PutPlace(Site site, UtcInstant made)
    {
        string file = Path.Combine(Folder, Files[^1]);
        File.WriteAllBytes(file, FlashPlace.Put(File.ReadAllBytes(file), site, made));
    }

    private void Take(string path, string[] folders)
    {
        string name = Path.GetFileNameWithoutExtension(path);
        if (_names.Contains(name)) return;
        using (var reader = new PEReader(File.OpenRead(path)))
        {
            MetadataReader metadata = reader.GetMetadataReader();
            foreach (AssemblyReferenceHandle handle in metadata.AssemblyReferences)
            {
                string wanted = metadata.GetString(metadata.GetAssemblyReference(handle).Name);
                string? found = folders.Select(folder => Path.Combine(folder, wanted + ".dll")).FirstOrDefault(File.Exists);
                Take(found ?? throw new FileNotFoundException($"{name} refers to {wanted}, and there is no such file in {string.Join(" or ", folders)}."), folders);
            }
        }
        File.Copy(path, Path.Combine(_binaries, Path.GetFileName(path)), overwrite: true);
        _names.Add(name);
    }
}

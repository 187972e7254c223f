using Mono.Cecil;

namespace Intervalometer.OwnFrames;

/// <summary>Finds the assemblies that the compiler was given.</summary>
/// <param name="files">Their files.</param>
public sealed class References(IEnumerable<string> files) : IAssemblyResolver
{
    private readonly Dictionary<string, string> _files = files.ToDictionary(file => Path.GetFileNameWithoutExtension(file), StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, AssemblyDefinition> _read = [];

    /// <inheritdoc/>
    public AssemblyDefinition Resolve(AssemblyNameReference name) => Resolve(name, new ReaderParameters());

    /// <inheritdoc/>
    public AssemblyDefinition Resolve(AssemblyNameReference name, ReaderParameters parameters)
    {
        if (_read.TryGetValue(name.Name, out AssemblyDefinition? known)) return known;
        if (!_files.TryGetValue(name.Name, out string? file)) throw new AssemblyResolutionException(name);
        parameters.AssemblyResolver = this;
        return _read[name.Name] = AssemblyDefinition.ReadAssembly(file, parameters);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (AssemblyDefinition assembly in _read.Values) assembly.Dispose();
    }
}

using Intervalometer.OwnFrames;
using Mono.Cecil;

// Usage: OwnFrames ASSEMBLY REFERENCE... It changes the assembly in place.
if (args.Length < 1 || !File.Exists(args[0]))
{
    Console.Error.WriteLine("OwnFrames: name the assembly to change, and the files that it refers to.");
    return 2;
}
using var resolver = new DefaultAssemblyResolver();
foreach (string folder in args[1..].Select(file => Path.GetDirectoryName(Path.GetFullPath(file))!).Distinct()) resolver.AddSearchDirectory(folder);
bool symbols = File.Exists(Path.ChangeExtension(args[0], ".pdb"));
using (var module = ModuleDefinition.ReadModule(args[0], new ReaderParameters { AssemblyResolver = resolver, ReadSymbols = symbols, InMemory = true }))
{
    if (Frames.Apply(module) != (0, 0)) module.Write(args[0], new WriterParameters { WriteSymbols = symbols });
}
return 0;

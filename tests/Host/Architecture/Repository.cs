using System.Text.Json;
using System.Xml.Linq;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>Where the working tree and the restored packages are.</summary>
internal static class Repository
{
    /// <summary>The folder that holds the solution file.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>A path from the root with forward slashes, as an absolute path.</summary>
    public static string At(string relative) => Path.Combine(Root, relative.Replace('/', Path.DirectorySeparatorChar));

    /// <summary>An absolute path as a path from the root with forward slashes.</summary>
    public static string Relative(string absolute) => Path.GetRelativePath(Root, absolute).Replace(Path.DirectorySeparatorChar, '/');

    /// <summary>Every file below a folder that belongs to the repository: no build output, no packages, no hidden folders.</summary>
    public static IEnumerable<string> Files(string folder, string pattern) =>
        Directory.EnumerateFiles(At(folder), pattern, SearchOption.AllDirectories)
            .Where(path => !Relative(path).Split('/').Any(part => part is "bin" or "obj" or "node_modules" or "TestResults" or "out" || part.StartsWith('.')))
            .OrderBy(path => path, StringComparer.Ordinal);

    /// <summary>The device's class library, from the packages that restoring Core has put on this machine.</summary>
    public static string DeviceClassLibrary { get; } = FindDeviceClassLibrary();

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder != null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Intervalometer.sln"))) return folder.FullName;
        }
        throw new InvalidOperationException($"{AppContext.BaseDirectory}: no Intervalometer.sln in any folder above; run the tests from the working tree");
    }

    private static string FindDeviceClassLibrary()
    {
        string version = XDocument.Load(At("Directory.Packages.props")).Descendants("PackageVersion")
            .Single(e => (string?)e.Attribute("Include") == "nanoFramework.CoreLibrary").Attribute("Version")!.Value;
        string assets = At("firmware/Core/obj/project.assets.json");
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(assets));
        foreach (JsonProperty folder in json.RootElement.GetProperty("packageFolders").EnumerateObject())
        {
            string path = Path.Combine(folder.Name, "nanoframework.corelibrary", version, "lib", "mscorlib.dll");
            if (File.Exists(path)) return path;
        }
        throw new InvalidOperationException($"{assets}: nanoFramework.CoreLibrary {version} is not restored; run dotnet restore");
    }
}

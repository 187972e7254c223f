namespace Intervalometer.VirtualBoard.Plan;

/// <summary>An invented place with invented constants: no coast has this tide, and nobody may plan a walk by it.</summary>
public static class DemoSite
{
    /// <summary>Its site file, Examples/gannet-ledge.txt.</summary>
    public static string Text { get; } = Read();

    /// <summary>The place, and which mornings are wanted.</summary>
    public static Site Load() => SiteFile.Parse(Text, "demo site");

    private static string Read()
    {
        using Stream stream = typeof(DemoSite).Assembly.GetManifestResourceStream("example/gannet-ledge.txt")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>The guided scenario that comes with the board: one invented morning, from the plan of the night before to the way back.</summary>
public static class GuidedMorning
{
    private const string Name = "morning.json";

    /// <summary>Reads it.</summary>
    public static SceneFile Load()
    {
        using Stream stream = typeof(GuidedMorning).Assembly.GetManifestResourceStream("example/" + Name)!;
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return SceneReader.Parse(Name, copy.ToArray());
    }
}

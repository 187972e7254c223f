using System.Reflection;
using System.Text;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.Host.Subset;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Scenario;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Intervalometer.Tests.Host.Plan;

/// <summary>From a site file to the display: through the memory, and built into the firmware.</summary>
[TestClass]
public class SiteOnBoardTests
{
    private const long Second = 1_000_000;
    private static readonly UtcInstant Made = new CivilTime(2031, 3, 1, 8, 0, 0).AsUtc();

    /// <summary>The display with TIDE, PATH, SUN, and what follows, some seconds after each was called up.</summary>
    private static byte[][] Cards(BoardOptions options)
    {
        using var board = new Board(options);
        var pictures = new List<byte[]>();
        for (int i = 0; i < 6; i++)
        {
            board.Press(i == 0 ? Button.Back : Button.Down, (2 + i * 20) * Second, 100_000);
            board.RunUntil((20 + i * 20) * Second);
            pictures.Add(board.Display.Rows());
        }
        Assert.AreEqual(0, board.PinFaults.Count);
        return [.. pictures];
    }

    private static void Same(byte[][] expected, byte[][] actual)
    {
        for (int i = 0; i < expected.Length; i++) CollectionAssert.AreEqual(expected[i], actual[i], $"card {i}");
        Assert.AreEqual(expected.Length, expected.Select(p => Convert.ToHexString(p)).Distinct().Count(), "every card is a different one");
    }

    [TestMethod]
    public void ABoardWithTheImageShowsWhatOneWithThePlaceShows()
    {
        byte[][] given = Cards(new BoardOptions());
        Same(given, Cards(new BoardOptions { Place = null, MemoryHolds = SiteImage.Make(DemoSite.Load(), Made) }));
        // And none of it without either.
        byte[][] bare = Cards(new BoardOptions { Place = null });
        Assert.IsFalse(given[0].SequenceEqual(bare[0]) || given[1].SequenceEqual(bare[1]));
    }

    /// <summary>A place that was handed in at the start is in the memory afterwards, with its tide.</summary>
    [TestMethod]
    public void AGivenPlaceStays()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(10 * Second);
        var box = new OfflineBox(board.Memory.Snapshot());
        Assert.AreEqual("Gannet Ledge", box.Shore.Settings.Name);
        Assert.IsTrue(box.Shore.Settings.HasGivenTide);
        Assert.IsFalse(box.Health.Any);
    }

    /// <summary>The generated file is compiled by Roslyn, for the device too, and handed to the board.</summary>
    [TestMethod]
    public void ABoardWithThePlaceBuiltInShowsTheSameAndKeepsIt()
    {
        string source = SiteImage.Source(DemoSite.Load(), Made);
        Same(Cards(new BoardOptions()), Cards(new BoardOptions { Place = null, BuiltIn = Compile(source) }));
        using var board = new Board(new BoardOptions { Place = null, BuiltIn = Compile(source) });
        board.RunUntil(10 * Second);
        Same(Cards(new BoardOptions()), Cards(new BoardOptions { Place = null, MemoryHolds = board.Memory.Snapshot() }));
    }

    [TestMethod]
    public void TheGeneratedFileKeepsToTheSubsetOfTheDevice()
    {
        SyntaxTree[] trees =
        [
            .. new[] { "firmware/Core", "firmware/Coast", "firmware/Settings", "firmware/Screens", "firmware/Drivers", "firmware/Esp32" }.SelectMany(DeviceCompilation.Trees).Where(t => !t.FilePath.EndsWith("/CompiledSite.cs", StringComparison.Ordinal)),
            DeviceCompilation.Parse(SiteImage.Source(DemoSite.Load(), Made), "firmware/Esp32/CompiledSite.cs"),
        ];
        CSharpCompilation compilation = DeviceCompilation.Create("Device", trees, [DeviceCompilation.Contracts]);
        DeviceCompilation.RequireNoErrors(compilation);
        Assert.AreEqual("", string.Join("\n", SubsetRules.Run(compilation, SubsetRules.All)));
    }

    /// <summary>The firmware as committed brings no place.</summary>
    [TestMethod]
    public void TheCommittedFirmwareHasNoPlace()
    {
        string source = File.ReadAllText(Architecture.Repository.At("firmware/Esp32/CompiledSite.cs"));
        Assert.IsNull(Compile(source));
        Assert.AreEqual(SiteImage.Source(null, Made), source);
    }

    private static BuiltInSite? Compile(string source)
    {
        MetadataReference[] references =
        [
            .. ((string)AppContext.GetData("TRUSTED_PLATFORM_ASSEMBLIES")!).Split(Path.PathSeparator).Select(p => MetadataReference.CreateFromFile(p)),
        ];
        CSharpCompilation compilation = CSharpCompilation.Create("Site", [CSharpSyntaxTree.ParseText(source)], references,
            new CSharpCompilationOptions(OutputKind.DynamicallyLinkedLibrary, nullableContextOptions: NullableContextOptions.Enable, generalDiagnosticOption: ReportDiagnostic.Error));
        using var assembly = new MemoryStream();
        var result = compilation.Emit(assembly);
        Assert.IsTrue(result.Success, string.Join("\n", result.Diagnostics));
        Type type = Assembly.Load(assembly.ToArray()).GetType("Intervalometer.Esp32.CompiledSite")!;
        return (BuiltInSite?)type.GetMethod("Make")!.Invoke(null, null);
    }

    /// <summary>A flat cell in the clock module: the alarm was on, and comes back as an alarm.</summary>
    [TestMethod]
    public void ABrownOutUnderTheAlarmComesBackUnderTheAlarm()
    {
        // Mid-ebb: the path is open for hours.
        using var board = new Board(new BoardOptions { Place = null, BuiltIn = Compile(SiteImage.Source(DemoSite.Load(), Made)), StartUtc = new DateTime(2031, 3, 14, 11, 30, 0, DateTimeKind.Utc) });
        long at = 5 * Second;
        foreach (Button button in new[] { Button.Back, Button.Down, Button.Select, Button.Up, Button.Back }) board.Press(button, at += 500_000, 100_000);
        board.RunUntil(20 * Second);
        Assert.IsTrue(board.Box!.Shore.AlarmOn);
        bool quiet = !board.Box.Shore.AlarmUp;
        board.PowerOff();
        board.RunUntil(21 * Second);
        board.PowerOn();
        board.RunUntil(60 * Second);
        Assert.IsTrue(board.Box!.Shore.AlarmOn);
        Assert.IsFalse(board.Box.MaySleep);
        Assert.AreEqual(quiet, !board.Box.Shore.AlarmUp, "the chip ran on");
        Assert.IsTrue(quiet);
        board.PowerOff();
        board.ClockChip.LosePower();
        board.PowerOn();
        board.RunUntil(100 * Second);
        Assert.IsTrue(board.Box!.Shore.AlarmUp, "the chip has stopped");
    }

    [TestMethod]
    public void AScenarioStartsFromAnImageAndLeavesOne()
    {
        string folder = Directory.CreateTempSubdirectory("memory").FullName;
        try
        {
            byte[] image = SiteImage.Make(DemoSite.Load(), Made);
            File.WriteAllBytes(Path.Combine(folder, "site.bin"), image);
            ScenePlayed first = ScenePlayer.Play(Scene("""{ "memory": "site.bin", "filters": ["ND 1.8"], "endAt": 12, "presses": [ { "at": 3, "button": "fire" } ] }""", folder));
            first.WriteTo(Path.Combine(folder, "out"));
            ScenePlayed second = ScenePlayer.Play(Scene("""{ "memory": "out/memory.bin", "endAt": 12, "presses": [ { "at": 3, "button": "fire" } ] }""", folder));
            Assert.AreEqual(3, second.Logbook.TrimEnd().Split('\n').Length, "there is a heading, and a frame from each session");
            Assert.AreEqual(first.Report.Exposure, second.Report.Exposure, "the filter stays on");
            Assert.AreEqual("Gannet Ledge", new OfflineBox(second.Memory).Shore.Settings.Name);
            File.WriteAllBytes(Path.Combine(folder, "bad.bin"), new byte[5]);
            Fault("bad.bin: holds 5 bytes", """{ "endAt": 1, "memory": "bad.bin" }""", folder);
            Fault("cannot be read", """{ "endAt": 1, "memory": "none.bin" }""", folder);
            Fault("both bring a place", """{ "endAt": 1, "memory": "site.bin", "place": "demo" }""", folder);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    private static SceneFile Scene(string text, string folder) => SceneReader.Parse("scene.json", Encoding.UTF8.GetBytes(text), folder);

    private static void Fault(string said, string text, string folder)
    {
        var e = Assert.ThrowsExactly<SceneFileException>(() => Scene(text, folder));
        Assert.StartsWith("scene.json: line 1: ", e.Message);
        StringAssert.Contains(e.Message, said);
        Assert.AreEqual(1, e.Message.Split('\n').Length);
    }
}

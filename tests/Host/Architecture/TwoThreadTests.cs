using System.Reflection;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.Architecture;

/// <summary>
/// The release thread and the panel thread share the objects of the namespace Link, and nothing else that changes. The test looks at what the
/// byte code of each thread can reach and do, on the objects of a box that has been used.
/// </summary>
[TestClass]
public class TwoThreadTests
{
    private const string Link = "Intervalometer.Core.Link";

    private static readonly string[] ReleaseSide = ["Box.ReleasePass", "Box.get_EdgeNear"];
    private static readonly string[] PanelSide = ["Box.PanelPass", "Box.get_MaySleep"];

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void TheTwoThreadsShareNoFieldThatChangesOutsideTheLink()
    {
        using Board board = Used();
        string[] shared = Shared(board.Box!, ReleaseSide, PanelSide, out int both);
        TestContext.WriteLine($"{both} objects are reached by both threads");
        Assert.AreEqual("", string.Join("\n", shared));
        Assert.IsTrue(both > 10, $"only {both} objects are reached by both threads");
    }

    /// <summary>The check works: it would notice a panel that reads the desk, or a release thread that reads a setting.</summary>
    [TestMethod]
    public void AFieldThatIsSharedIsFound()
    {
        using Board board = Used();
        string[] desk = Shared(board.Box!, ReleaseSide, [.. PanelSide, "RunLink.get_Desk", "RunDesk.get_State", "ReleasePlayer.get_FramesStarted", "RunDesk.get_Player"], out _);
        CollectionAssert.Contains(desk, "Intervalometer.Core.Run.RunDesk::<State>k__BackingField");
        CollectionAssert.Contains(desk, "Intervalometer.Core.Release.ReleasePlayer::<FramesStarted>k__BackingField");
        string[] settings = Shared(board.Box!, [.. ReleaseSide, "Box.get_Settings", "BoxSettings.get_Camera", "CameraProfile.get_PulseMs"], PanelSide, out _);
        CollectionAssert.Contains(settings, "Intervalometer.Core.Release.CameraProfile::<PulseMs>k__BackingField");
        string[] buttons = Shared(board.Box!, ReleaseSide, [.. PanelSide, "ButtonBank.StuckButton", "Box.LookForStuck"], out _);
        CollectionAssert.Contains(buttons, "Intervalometer.Drivers.Buttons.ButtonBank::_down[]");
    }

    /// <summary>No call of the release thread leads to the light sensor or to what judges its light: it takes the new time of an edge from the link. The panel thread reaches both.</summary>
    [TestMethod]
    public void TheReleaseThreadReachesNothingOfTheLightSensor()
    {
        using var code = new FirmwareCode();
        string[] sensor = [.. code.Types.Select(t => t.Namespace).Where(n => n.EndsWith(".Veml7700", StringComparison.Ordinal) || n == "Intervalometer.Core.Light").Distinct().Order()];
        Assert.HasCount(2, sensor);
        FieldUse release = code.UseFrom(ReleaseSide), panel = code.UseFrom(PanelSide);
        Assert.IsGreaterThan(80, release.Methods);
        Assert.AreEqual("", string.Join(", ", sensor.Where(release.Namespaces.Contains)));
        Assert.AreEqual(string.Join(", ", sensor), string.Join(", ", sensor.Where(panel.Namespaces.Contains)));
    }

    /// <summary>No two namespaces of the firmware use each other.</summary>
    [TestMethod]
    public void NoTwoNamespacesKnowEachOther()
    {
        using var code = new FirmwareCode();
        NamespaceGraph graph = new(code.Types);
        TestContext.WriteLine(graph.ToString());
        Assert.AreEqual("", string.Join("\n", graph.Cycles()));
        Assert.IsTrue(graph.Count > 15, $"only {graph.Count} namespaces");
    }

    /// <summary>Tide, sun, time and the way back use the elementary functions, and nothing of exposures, plans or waves.</summary>
    [TestMethod]
    public void TheCoastKnowsOnlyTheNumerics()
    {
        using var code = new FirmwareCode();
        CollectionAssert.AreEqual(new[] { "Intervalometer.Core.Numerics" }, new NamespaceGraph(code.Types).Known("Intervalometer.Coast"));
    }

    // A box that has taken a plan and a run on the waves, and has shown every card.
    private static Board Used()
    {
        var board = new Board(new BoardOptions());
        board.Box!.Settings.Plan.Shape = PlanShape.Burst;
        board.Press(Button.Fire, 3_000_000, 80_000);
        board.RunUntil(20_000_000);
        board.Press(Button.Fire, 20_100_000, 80_000);
        for (int i = 0; i < 3; i++) board.Press(Button.Down, 21_000_000 + i * 300_000, 80_000);
        for (int i = 0; i < 5; i++) board.Press(Button.Mark, 22_000_000 + i * 6_000_000, 80_000);
        board.Press(Button.Fire, 48_000_000, 80_000);
        board.RunUntil(60_000_000);
        if (!board.Box.Desk!.LastRunOnWaves) throw new AssertFailedException("no run on the waves");
        board.Press(Button.Back, 60_100_000, 80_000);
        for (int i = 0; i < 20; i++) board.Press(i == 8 ? Button.Back : Button.Down, 61_000_000 + i * 1_000_000, 80_000);
        board.RunUntil(85_000_000);
        return board;
    }

    private static string[] Shared(object box, string[] release, string[] panel, out int both)
    {
        using var code = new FirmwareCode();
        FieldUse releaseUse = code.UseFrom(release), panelUse = code.UseFrom(panel);
        Assert.IsTrue(releaseUse.Methods > 80 && panelUse.Methods > 400, $"{releaseUse.Methods} and {panelUse.Methods} methods");
        HashSet<object> reached = Reach(box, releaseUse);
        reached.IntersectWith(Reach(box, panelUse));
        both = reached.Count;
        var shared = new SortedSet<string>(StringComparer.Ordinal);
        HashSet<object> handed = Handed(reached);
        foreach (object each in reached.Where(o => o is not Array && o.GetType().Namespace != Link && !handed.Contains(o)))
        {
            foreach (FieldInfo field in Fields(each.GetType()))
            {
                foreach (string name in new[] { Name(field), Name(field) + "[]" })
                {
                    bool crossed = (releaseUse.Written.Contains(name) && (panelUse.Read.Contains(name) || panelUse.Written.Contains(name)))
                        || (panelUse.Written.Contains(name) && releaseUse.Read.Contains(name));
                    if (crossed) shared.Add(name);
                }
            }
        }
        foreach (string name in releaseUse.Written.Concat(panelUse.Written).Where(n => IsStatic(n) && releaseUse.Read.Concat(releaseUse.Written).Contains(n) && panelUse.Read.Concat(panelUse.Written).Contains(n))) shared.Add(name);
        return [.. shared];
    }

    // The parts of an order belong to the link, which hands them over whole.
    private static HashSet<object> Handed(HashSet<object> reached) =>
        [.. reached.OfType<FireOrder>().SelectMany(o => new object[] { o.Plan, o.Camera, o.Waves })];

    // Every object that is found from the box by the fields that one side reads.
    private static HashSet<object> Reach(object box, FieldUse use)
    {
        var seen = new HashSet<object>(ReferenceEqualityComparer.Instance);
        var todo = new Stack<object>([box]);
        while (todo.TryPop(out object? each))
        {
            if (!seen.Add(each)) continue;
            if (each is Array array)
            {
                if (!array.GetType().GetElementType()!.IsPrimitive) foreach (object? element in array) if (element is not null && Ours(element)) todo.Push(element);
                continue;
            }
            foreach (FieldInfo field in Fields(each.GetType()).Where(f => use.Read.Contains(Name(f))))
            {
                if (field.GetValue(each) is { } value && Ours(value)) todo.Push(value);
            }
        }
        return seen;
    }

    private static bool Ours(object value)
    {
        Type type = value is Array ? value.GetType().GetElementType()! : value.GetType();
        while (type.IsArray) type = type.GetElementType()!;
        return (type.IsClass || type.IsInterface) && type.FullName!.StartsWith("Intervalometer.", StringComparison.Ordinal);
    }

    private static IEnumerable<FieldInfo> Fields(Type type)
    {
        for (Type? t = type; t is not null && t != typeof(object); t = t.BaseType)
        {
            foreach (FieldInfo field in t.GetFields(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly)) yield return field;
        }
    }

    private static bool IsStatic(string name)
    {
        string[] parts = name.Replace("[]", "").Split("::");
        Type? type = AppDomain.CurrentDomain.GetAssemblies().Select(a => a.GetType(parts[0])).FirstOrDefault(t => t is not null);
        return type?.GetField(parts[1], BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic) is not null;
    }

    private static string Name(FieldInfo field) => field.DeclaringType!.FullName + "::" + field.Name;
}

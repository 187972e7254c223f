namespace Intervalometer.Tests.Budgets;

/// <summary>What a piece of work cost.</summary>
/// <param name="Il">IL instructions.</param>
/// <param name="Weighted">The same with what calls, allocations and locks cost besides, in instructions.</param>
/// <param name="Allocations">Objects that the device would make.</param>
/// <param name="Bytes">Their size on the device's heap (see <see cref="NanoHeap"/>).</param>
public readonly record struct Cost(long Il, long Weighted, long Allocations, long Bytes)
{
    public static Cost operator -(Cost a, Cost b) => new(a.Il - b.Il, a.Weighted - b.Weighted, a.Allocations - b.Allocations, a.Bytes - b.Bytes);

    public static Cost operator +(Cost a, Cost b) => new(a.Il + b.Il, a.Weighted + b.Weighted, a.Allocations + b.Allocations, a.Bytes + b.Bytes);
}

/// <summary>One call of a watched method.</summary>
/// <param name="Method">"Type.Method".</param>
/// <param name="Cost">What it cost, all that it called included.</param>
/// <param name="Edges">Writes of a release line in it.</param>
/// <param name="ToEdge">What it had cost when the first of them was reached.</param>
/// <param name="RoomUs">Time to the next planned edge as it began, µs; long.MaxValue when there was none.</param>
/// <param name="StackBytes">What its calls kept at the deepest, itself included, on the device's heap.</param>
public readonly record struct Watched(string Method, Cost Cost, int Edges, Cost ToEdge, long RoomUs, long StackBytes);

/// <summary>The counters that the rewritten assemblies add to. One thread only.</summary>
public static class Meter
{
    // Public fields: every basic block of the counted code adds to them.
#pragma warning disable CA2211
    public static long Il;
    public static long Weighted;
    public static long Allocations;
    public static long Bytes;
    public static long StackBytes;
    public static long DeepestBytes;
    public static long ObjectsLeft = long.MaxValue;
#pragma warning restore CA2211

    private const int Outside = -1;

    private struct Frame
    {
        public int Id;
        public Cost Start;
        public int Edges;
        public Cost ToEdge;
        public long RoomUs;
        public long StackBytes;
        public long DeepestBytes;
    }

    private static readonly Frame[] Stack = new Frame[64];
    private static int _depth;

    /// <summary>Every call of a watched method since this was cleared.</summary>
    public static List<Watched> Calls { get; } = [];

    /// <summary>Gives the time to the next planned edge, µs; called at each call of the release pass.</summary>
    public static Func<long>? RoomUs { get; set; }

    /// <summary>Everything so far.</summary>
    public static Cost Total => new(Il, Weighted, Allocations, Bytes);

    /// <summary>Cost of one piece of work.</summary>
    public static Cost Of(Action work)
    {
        Cost before = Total;
        work();
        return Total - before;
    }

    /// <summary>A watched method begins.</summary>
    public static void Enter(int id)
    {
        long room = long.MaxValue;
        if (RoomUs is { } ask && CountedBuild.Watched[id] == "Box.ReleasePass")
        {
            LeaveFirmware();
            room = ask();
            ReturnToFirmware();
        }
        if (CountedBuild.Watched[id] is "OptoLines.Set" or "OptoLines.OpenAll")
        {
            for (int i = _depth - 1; i >= 0 && Stack[i].Id != Outside; i--)
            {
                if (Stack[i].Edges++ == 0) Stack[i].ToEdge = Total - Stack[i].Start;
            }
        }
        // Calls that an exception left are not on the stack any more.
        if (_depth == 0) StackBytes = 0;
        Stack[_depth++] = new Frame { Id = id, Start = Total, RoomUs = room, StackBytes = StackBytes, DeepestBytes = DeepestBytes };
        DeepestBytes = StackBytes;
    }

    /// <summary>A watched method returns; methods inside it that threw did not.</summary>
    public static void Exit(int id)
    {
        Frame frame;
        do frame = Stack[--_depth];
        while (frame.Id != id);
        Calls.Add(new Watched(CountedBuild.Watched[id], Total - frame.Start, frame.Edges, frame.ToEdge, frame.RoomUs, DeepestBytes - frame.StackBytes));
        DeepestBytes = Math.Max(DeepestBytes, frame.DeepestBytes);
    }

    /// <summary>The firmware calls a pin or a bus. What the virtual board does there does not count for the device.</summary>
    public static void LeaveFirmware() => Stack[_depth++] = new Frame { Id = Outside, Start = Total };

    /// <summary>Back from a pin or a bus.</summary>
    public static void ReturnToFirmware()
    {
        Frame frame;
        do frame = Stack[--_depth];
        while (frame.Id != Outside);
        (Il, Weighted, Allocations, Bytes) = (frame.Start.Il, frame.Start.Weighted, frame.Start.Allocations, frame.Start.Bytes);
    }

    /// <summary>A call begins.</summary>
    public static void Push(int bytes)
    {
        StackBytes += bytes;
        if (StackBytes > DeepestBytes) DeepestBytes = StackBytes;
    }

    /// <summary>A call returns.</summary>
    public static void Pop(int bytes) => StackBytes -= bytes;

    /// <summary>
    /// The panel's pass is about to make an object, and finds no memory when <see cref="ObjectsLeft"/> is used up. That happens once: then there is memory
    /// again. The release thread makes no objects; what the virtual board makes of its pins does not count.
    /// </summary>
    public static void Make()
    {
        if (ObjectsLeft == long.MaxValue || !InPanelPass() || ObjectsLeft-- > 0) return;
        ObjectsLeft = long.MaxValue;
        throw new InsufficientMemoryException("a test");
    }

    private static bool InPanelPass()
    {
        int i = _depth - 1;
        while (i >= 0 && (Stack[i].Id == Outside || CountedBuild.Watched[Stack[i].Id] is not ("Box.PanelPass" or "Box.ReleasePass"))) i--;
        return i >= 0 && CountedBuild.Watched[Stack[i].Id] == "Box.PanelPass";
    }

    /// <summary>An array is about to be made.</summary>
    public static void Array(int length, int elementBytes) => Bytes += NanoHeap.ArrayBytes(length, elementBytes);

    /// <summary>The class library made a text.</summary>
    public static void Text(string? text)
    {
        if (text != null) Bytes += NanoHeap.TextBytes(text.Length);
    }
}

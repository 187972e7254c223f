using System.Reflection;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Mono.Cecil;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// The whole heap that the box takes on the device, counted without a device: assembly tables, the runtime's own objects, two threads
/// with the calls in which they rest, and every live object. Pins, bus and converter are not in it, nor the tables of their packages.
/// </summary>
/// <remarks>The runtime's own objects and the class library's were seen in its build for a 32-bit PC (nanoframework/nf-interpreter a3e8139).</remarks>
public sealed class HeapCount
{
    // Tables of the class library (CoreLibrary 1.17.11) and of nanoFramework.Runtime.Native, as the runtime reports them.
    private const int LibraryTableBytes = 3_240;
    private const int NativeTableBytes = 348;

    // What the runtime makes for itself: the exception that is kept for an exhausted heap, a few texts, the application domain's names.
    private const int RuntimeBytes = 252;

    // How numbers are written (CultureInfo, NumberFormatInfo), and the object of the release thread.
    private const int LibraryBytes = 156 + 72;

    private const int Threads = 2;

    // Where both threads are between two passes; the native call that sleeps keeps a frame of the least size.
    private static readonly string[] RestingCalls = ["Program.Main", "Program.Run", "BoardThreads.RunUntilReleaseEnds", "BoardThreads.PanelLoop", "BoardThreads.ReleaseLoop"];

    private static readonly string[] ProgramObjects = ["BoardThreads", "Wiring", "EspClock", "EspBatteryGauge", "EspHeapGauge", "I2cWire", "I2cWire", "I2cWire"];

    private static readonly Assembly[] Firmware = [typeof(Core.FirmwareVersion).Assembly, typeof(Coast.Tide.TideSource).Assembly, typeof(BoxSettings).Assembly, typeof(FrontPanel).Assembly, typeof(Drivers.Composition.Box).Assembly];

    /// <summary>Reads the released assemblies.</summary>
    public HeapCount()
    {
        DeviceFile[] files = [.. ImageSize.Files()];
        TableBytes = files.Sum(f => f.HeapBytes + NanoHeap.BlockBytes * f.StaticData) + LibraryTableBytes + NativeTableBytes;
        ModuleDefinition[] modules = [.. new[] { "Intervalometer.Esp32.exe", "Intervalometer.Drivers.dll" }.Select(file => ModuleDefinition.ReadModule(CountedBuild.Released("device/" + file)))];
        TypeDefinition[] types = [.. modules.SelectMany(m => m.GetTypes())];
        FrameBytes = Threads * NanoHeap.LeastFrameBytes + RestingCalls.Sum(call => Frame(types, call));
        ThreadBytes = Threads * NanoHeap.ThreadBytes;
        ProgramBytes = RuntimeBytes + LibraryBytes + ProgramObjects.Sum(name => NanoHeap.ObjectBytes(types.Single(t => t.Name == name).Fields.Count(f => !f.IsStatic && !f.HasConstant)));
        foreach (ModuleDefinition module in modules) module.Dispose();
    }

    /// <summary>Tables of the assemblies, static fields included.</summary>
    public long TableBytes { get; }

    /// <summary>Both threads.</summary>
    public long ThreadBytes { get; }

    /// <summary>The calls in which they rest.</summary>
    public long FrameBytes { get; }

    /// <summary>Objects of the runtime, the class library and the program's own few.</summary>
    public long ProgramBytes { get; }

    /// <summary>Everything that does not depend on what the box does.</summary>
    public long FixedBytes => TableBytes + ThreadBytes + FrameBytes + ProgramBytes;

    /// <summary>The live objects of a box.</summary>
    public static HeapWalk Objects(Board board) => new HeapWalk(Firmware).AddStatics().Add(board.Box!);

    /// <summary>The whole heap of a box between two passes.</summary>
    public long Live(Board board) => FixedBytes + Objects(board).Bytes;

    private static int Frame(TypeDefinition[] types, string call)
    {
        string[] name = call.Split('.');
        MethodDefinition method = types.Single(t => t.Name == name[0]).Methods.Single(m => m.Name == name[1]);
        return NanoHeap.FrameBytes(method.Body);
    }
}

using System.Globalization;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Prepares the programs, runs them in a heap of a chosen size and compares.</summary>
public sealed class Workbench(DeviceRuntime runtime, string root, string work, TextWriter output)
{
    private const string Binaries = "bin/Release/netnano1.0";
    private const int StepBytes = 256;
    private const int EnoughBytes = 262_144;
    private const int PatienceMs = 60_000;

    /// <summary>When the clock of the stand-in board was stopped for longer than this because the PC was busy, ms, a failed start is played again.</summary>
    public const int LateMs = 60;

    private const int MostAttempts = 3;

    // The stand-ins' own share of the heap is read as the box's is: by the player.
    private static readonly Start ReadHeap = new() { Utc = new DateTime(2031, 3, 14, 0, 0, 0, DateTimeKind.Utc), Steps = [new Step(500, StepKind.Heap, 0), new Step(600, StepKind.End, 0)] };

    private DeviceSet? _box;
    private IReadOnlyList<AssemblySize> _sizes = [];
    private int _standInBytes;

    /// <summary>The heap that the box may use, bytes; the stand-ins' share comes on top.</summary>
    public int HeapBytes { get; init; }

    /// <summary>The heap of the device suite, bytes.</summary>
    public int SuiteHeapBytes { get; init; }

    /// <summary>True to let the device print its pictures.</summary>
    public bool PrintPictures { get; init; }

    /// <summary>Where to print.</summary>
    public TextWriter Output => output;

    /// <summary>Converts the box, measures the stand-ins' own share of the heap, and prints the sizes.</summary>
    public void Prepare()
    {
        string standIns = Path.Combine(root, "tests/DeviceBoard/Alone", Binaries);
        if (runtime.Note.Length > 0) output.WriteLine($"The runtime is {runtime.Note}.");
        _box = new DeviceSet(runtime, Path.Combine(work, "box"), Path.Combine(root, "firmware/Esp32", Binaries, "Intervalometer.Esp32.exe"), standIns);
        var bare = new DeviceSet(runtime, Path.Combine(work, "bare"), Path.Combine(root, "tests/DeviceBoard/Bare", Binaries, "Intervalometer.DeviceBoard.Bare.exe"), standIns);
        var alone = new DeviceSet(runtime, Path.Combine(work, "alone"), Path.Combine(standIns, "Intervalometer.DeviceBoard.Alone.exe"), null);
        alone.Replace(runtime, ScriptSource.Of(ReadHeap, null, 0, Expectation.Watched, printPictures: false));
        Run without = runtime.Run(bare, EnoughBytes, PatienceMs), with = runtime.Run(alone, EnoughBytes, PatienceMs);
        if (!without.Free.Any() || !with.Free.Any()) throw new InvalidOperationException("The runtime does not start:\n" + string.Join("\n", without.Lines.Concat(with.Lines).TakeLast(30)));
        // Each program's own tables are neither the runtime's nor the stand-ins'; nor are the tables that a bare program needs too.
        _standInBytes = (without.Free.First().Bytes + OwnTables(without, "Bare")) - (with.Free.First().Bytes + OwnTables(with, "Alone"));
        IReadOnlyList<AssemblySize> sizes = AssemblySize.Of(runtime.Run(_box, EnoughBytes, 3000));
        _sizes = sizes;
        output.WriteLine("assembly                                  .pe    byte code   tables in heap");
        foreach (AssemblySize size in sizes.Where(s => !s.IsStandIn)) output.WriteLine($"{size.Name,-36}{size.FileBytes,9}{size.ByteCode,13}{size.TableBytes,17}");
        output.WriteLine($"the firmware's own                  {sizes.Where(s => s.IsOwn).Sum(s => s.FileBytes),9}{sizes.Where(s => s.IsOwn).Sum(s => s.ByteCode),13}{sizes.Where(s => s.IsOwn).Sum(s => s.TableBytes),17}");
        output.WriteLine($"The stand-ins take {_standInBytes} bytes of heap, which are added to every heap below.");
    }

    /// <summary>Runs the suite and the scripts.</summary>
    public int RunAll(IReadOnlyList<string> names, PlaceIn place, bool suite)
    {
        var judge = new Judge(output);
        if (suite) Suite(judge);
        var counts = new CountCheck(output, judge);
        counts.Files(_sizes, name => _box!.Assembly(name));
        output.WriteLine($"box in {HeapBytes} bytes, {place switch { PlaceIn.Memory => "the largest place in its memory", PlaceIn.Firmware => "the largest place in its firmware", _ => "no place" }}:");
        foreach (string name in names)
        {
            IReadOnlyList<(string Moment, int Bytes)> free = Play(name, place, HeapBytes, judge);
            if (name == CountCheck.Script && place == PlaceIn.Memory) counts.Moments(Path.Combine(root, CountCheck.Table), [.. free.Select(f => (f.Moment, HeapBytes - f.Bytes))]);
        }
        output.WriteLine(FormattableString.Invariant($"{judge.SamePictures} pictures the same, at most {judge.WorstPictureMs} ms after their moment ({Moments.AfterMs} allowed), and of {judge.MovingPictures} that move one shown about then; edges at most {judge.WorstEdgeMs:F1} ms off ({Judge.EdgeMs} allowed), planned closings {judge.WorstBetweenMs:F1} ms ({Judge.BetweenMs} allowed)"));
        output.WriteLine($"{judge.Passed} passed, {judge.Failed} failed");
        return judge.Failed == 0 && judge.Passed > 0 ? 0 : 1;
    }

    /// <summary>Looks for the smallest heap in which the scripts play without an exception, showing what they should.</summary>
    public int Smallest(IReadOnlyList<string> names, PlaceIn place)
    {
        foreach (string name in names)
        {
            // Edges may move with the load of the PC. Here it only matters that the box works: the right pictures, and no exception.
            bool Plays(int heap)
            {
                var judge = new Judge(TextWriter.Null);
                Play(name, place, heap, judge, quiet: true);
                output.WriteLine($"  {name} in {heap}: {judge.Passed} passed, {judge.Failed} failed");
                return judge.Failed == 0;
            }
            int low = 32_768, high = HeapBytes;
            while (!Plays(high))
            {
                low = high;
                high += 16_384;
                if (high > EnoughBytes) throw new InvalidOperationException($"{name} does not play in {EnoughBytes} bytes either; look at it without --smallest first.");
            }
            while (high - low > StepBytes)
            {
                int middle = (low + high) / 2 / StepBytes * StepBytes;
                if (Plays(middle)) high = middle;
                else low = middle;
            }
            output.WriteLine($"{name}: the smallest heap that plays it is {high} bytes (stand-ins not counted; to {StepBytes} bytes)");
        }
        return 0;
    }

    /// <summary>Puts the case's place into the firmware, where it belongs there.</summary>
    public void Place(BoardCase board)
    {
        if (board.InFirmware is { } site) _box!.PutPlace(site, board.PlaceMade);
    }

    /// <summary>Runs one start of the box.</summary>
    public Run RunStart(Start start, byte[]? memory, int batteryCount, int heapBytes)
    {
        _box!.Replace(runtime, ScriptSource.Of(start, memory, batteryCount, Expectation.Watched, PrintPictures));
        return runtime.Run(_box, heapBytes + _standInBytes, 2 * start.RealMs + PatienceMs);
    }

    private IReadOnlyList<(string Moment, int Bytes)> Play(string name, PlaceIn place, int heapBytes, Judge judge, bool quiet = false)
    {
        BoardCase board = BoardCase.Make(name, place);
        Place(board);
        byte[]? memory = board.Memory;
        int number = 0;
        var free = new List<(string Name, int Bytes)>();
        foreach (Start start in Expectation.Of(board))
        {
            number++;
            Run run = PlayStart(number == 1 ? name : $"{name}, start {number}", $"{name}-{number}", start, memory, Expectation.BatteryCount(board.Scene), heapBytes, judge, quiet);
            free.AddRange(run.Free.Select(f => (start.Steps[f.Step].Name, f.Bytes)));
            memory = run.Memory;
        }
        if (quiet || free.Count == 0) return free;
        var (where, least) = free.MinBy(f => f.Bytes);
        output.WriteLine($"  {name}: live {heapBytes - free[0].Bytes} bytes at \"{free[0].Name}\", {heapBytes - free[^1].Bytes} at \"{free[^1].Name}\", most {heapBytes - least} at \"{where}\", so at least {least} free between turns (each after a collection; see --smallest for the peak within a turn)");
        return free;
    }

    // A start that fails while the PC was late shows nothing about the firmware. It is played again, and the output says so.
    private Run PlayStart(string name, string log, Start start, byte[]? memory, int batteryCount, int heapBytes, Judge judge, bool quiet)
    {
        for (int attempt = 1; ; attempt++)
        {
            Run run = RunStart(start, memory, batteryCount, heapBytes);
            File.WriteAllLines(Path.Combine(work, log + ".log"), run.Lines);
            using var told = new StringWriter();
            var trial = new Judge(told);
            trial.Compare(name, start, run);
            if (trial.Failed == 0 || attempt == MostAttempts || run.Late is not (int step, int ms) || ms <= LateMs)
            {
                if (!quiet) output.Write(told);
                judge.Add(trial);
                return run;
            }
            output.WriteLine($"  {name}: the PC was busy, and the clock stood {ms} ms before {start.Steps[step].AtMs / 1000.0} s ({LateMs} are allowed), and {trial.Failed} checks failed; it is played again");
        }
    }

    private void Suite(Judge judge)
    {
        var set = new DeviceSet(runtime, Path.Combine(work, "suite"), Path.Combine(root, "tests/DeviceConsole", Binaries, "Intervalometer.Tests.DeviceConsole.exe"), null);
        Run run = runtime.Run(set, SuiteHeapBytes, PatienceMs * 10);
        string result = run.Lines.LastOrDefault(line => line.EndsWith(" failed", StringComparison.Ordinal)) ?? "no result";
        output.WriteLine($"device suite in {SuiteHeapBytes} bytes: {result}");
        foreach (string line in run.Lines.Where(line => line.StartsWith("FAILED", StringComparison.Ordinal))) output.WriteLine("  " + line);
        judge.Check(result.EndsWith(", 0 failed", StringComparison.Ordinal), $"device suite: {result}");
    }

    private static int OwnTables(Run run, string program) =>
        AssemblySize.Of(run).Single(s => s.Name == "Intervalometer.DeviceBoard." + program).TableBytes;
}

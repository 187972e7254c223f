using System.Diagnostics;
using System.Globalization;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>What a program printed while the runtime ran it.</summary>
/// <param name="Lines">Every line.</param>
/// <param name="TimedOut">True when it had to be stopped.</param>
public sealed record Run(IReadOnlyList<string> Lines, bool TimedOut)
{
    /// <summary>The words after a first word, of every line that begins with it.</summary>
    public IEnumerable<string[]> Told(string first) =>
        Lines.Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries)).Where(words => words.Length > 1 && words[0] == first).Select(words => words[1..]);

    /// <summary>The numbers of free heap that were printed, bytes.</summary>
    public IEnumerable<(int Step, int Bytes)> Free => Told("free").Select(w => (int.Parse(w[0], CultureInfo.InvariantCulture), int.Parse(w[1], CultureInfo.InvariantCulture)));

    /// <summary>The longest time for which the clock of the stand-in board was stopped because the PC was busy, and before which step. Null when that was not printed.</summary>
    public (int Step, int Ms)? Late => Told("late").Select(w => ((int, int)?)(int.Parse(w[0], CultureInfo.InvariantCulture), int.Parse(w[1], CultureInfo.InvariantCulture))).FirstOrDefault();

    /// <summary>The pictures that were looked at, by step: how long after its moment the look ended, ms, and the sums seen, the last one first.</summary>
    public IReadOnlyDictionary<int, (int LateMs, int[] Sums)> Pictures => Told("picture").ToDictionary(
        w => int.Parse(w[0], CultureInfo.InvariantCulture),
        w => (int.Parse(w[1], CultureInfo.InvariantCulture), w[2..].Select(sum => int.Parse(sum, NumberStyles.HexNumber, CultureInfo.InvariantCulture)).ToArray()));

    /// <summary>Exceptions that the runtime printed, each kind once.</summary>
    public IEnumerable<string> Exceptions => Lines.Where(line => line.Contains("++++ Exception ", StringComparison.Ordinal)).Select(line => line.Trim(' ', '+')).Distinct();

    /// <summary>What the clock chip's alarm registers held at the end; null when that was not printed.</summary>
    public byte[]? ClockHolds => Told("clock").LastOrDefault() is { } words ? Convert.FromHexString(words[0]) : null;

    /// <summary>What the memory held at the end; null when that was not printed.</summary>
    public byte[]? Memory
    {
        get
        {
            byte[]? cells = null;
            foreach (string[] words in Told("memory"))
            {
                cells ??= [.. Enumerable.Repeat((byte)0xFF, 4096)];
                Convert.FromHexString(words[1]).CopyTo(cells, int.Parse(words[0], CultureInfo.InvariantCulture));
            }
            return cells;
        }
    }
}

/// <summary>The platform's own converter and runtime, which were built elsewhere: the files "topes" and "clr" of a folder.</summary>
public sealed class DeviceRuntime
{
    private readonly string _topes;
    private readonly string[] _clr;

    /// <summary>Looks for both and says what is missing.</summary>
    public DeviceRuntime(string folder)
    {
        _topes = Path.Combine(Path.GetFullPath(folder), "topes");
        string clr = Path.Combine(Path.GetFullPath(folder), "clr");
        foreach (string file in new[] { _topes, clr })
        {
            if (!File.Exists(file)) throw new FileNotFoundException($"{file} is not there: name the folder that holds the platform's converter (topes) and runtime (clr).");
        }
        _clr = [clr];
        if (Starts()) return;
        // On a kernel that cannot run 32-bit programs, an emulator runs the same binary.
        string? binary = Directory.EnumerateFiles(Path.Combine(folder, "build", "bin"), "nanoFramework.nanoCLR.test").FirstOrDefault();
        if (binary is not null) _clr = ["qemu-i386", Path.GetFullPath(binary)];
        if (binary is null || !Starts()) throw new InvalidOperationException($"{clr} does not start: this kernel runs no 32-bit programs, and qemu-i386 (Debian: qemu-user) is not there to run them.");
        Note = "run by qemu-i386, because this kernel runs no 32-bit programs";
    }

    /// <summary>What is unusual about this runtime; empty for nothing.</summary>
    public string Note { get; } = "";

    /// <summary>Converts every assembly of a folder.</summary>
    public void Convert(string binaries, string to)
    {
        using Process process = Process.Start(new ProcessStartInfo(_topes, [binaries, to]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        Task<string> told = process.StandardOutput.ReadToEndAsync();
        string complaint = process.StandardError.ReadToEnd();
        process.WaitForExit();
        if (process.ExitCode != 0) throw new InvalidOperationException($"The platform's processor refuses an assembly:\n{complaint}{told.Result}");
    }

    /// <summary>Runs a program.</summary>
    /// <param name="set">The program.</param>
    /// <param name="heapBytes">Its heap.</param>
    /// <param name="limitMs">It is stopped after this long.</param>
    public Run Run(DeviceSet set, int heapBytes, int limitMs)
    {
        var lines = new List<string>();
        var start = new ProcessStartInfo(_clr[0], [.. _clr[1..], .. set.Files]) { WorkingDirectory = set.Folder, RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["NANO_HEAP"] = heapBytes.ToString(CultureInfo.InvariantCulture);
        using Process process = Process.Start(start)!;
        GoFirst(process);
        void Keep(string? line)
        {
            if (line is null) return;
            lock (lines) lines.Add(line.TrimEnd('\r'));
        }
        process.OutputDataReceived += (_, e) => Keep(e.Data);
        process.ErrorDataReceived += (_, e) => Keep(e.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        bool ended = process.WaitForExit(limitMs);
        if (!ended) process.Kill(entireProcessTree: true);
        process.WaitForExit();
        lock (lines) return new Run([.. lines], !ended);
    }

    // Edges are compared with the clock, so other programs on this PC should wait. Only some users may ask for that.
    private static void GoFirst(Process process)
    {
        try
        {
            using Process chrt = Process.Start(new ProcessStartInfo("chrt", ["--all-tasks", "--rr", "--pid", "1", process.Id.ToString(CultureInfo.InvariantCulture)]) { RedirectStandardError = true })!;
            chrt.StandardError.ReadToEnd();
            chrt.WaitForExit();
            if (chrt.ExitCode != 0) process.PriorityClass = ProcessPriorityClass.High;
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or InvalidOperationException)
        {
            // Not allowed, or ended already: it runs like everything else, and a run that the PC delayed is played again.
        }
    }

    private bool Starts()
    {
        try
        {
            using Process process = Process.Start(new ProcessStartInfo(_clr[0], [.. _clr[1..], "--no-file"]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            string told = process.StandardOutput.ReadToEnd();
            process.StandardError.ReadToEnd();
            process.WaitForExit();
            return told.Contains("nanoCLR", StringComparison.Ordinal);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}

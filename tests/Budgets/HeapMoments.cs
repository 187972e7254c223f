using Intervalometer.Tests.DeviceBoard.Compare;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Budgets;

/// <summary>
/// The heap at the three moments of a script (tests/DeviceBoard/Scripts/heap.json) with the place that needs most in the memory: started, every card
/// shown, a frame exposing. tests/DeviceBoard/run.sh measures it at the same moments on the platform's own runtime.
/// </summary>
public static class HeapMoments
{
    /// <summary>Name of the script.</summary>
    public const string Script = "heap";

    /// <summary>What the box of today may take: 78 KiB less 4 KiB. 60 constituents take 2 kB more than 37, thirteen filters 1 kB more than six, and what follows the light takes 1.7 kB with a light sensor or without.</summary>
    public const long Limit = 79_872 - 4_096;

    // The runtime is asked for its free heap this long after the picture.
    private const long AfterUs = 120_000;

    /// <summary>The name of a line.</summary>
    public static string Line(string moment) => $"heap: all of it; {moment.Replace('-', ' ')}";

    /// <summary>Plays the script and counts.</summary>
    public static void Measure(Sheet sheet)
    {
        var count = new HeapCount();
        sheet.Add("heap: assembly tables with the static fields", "bytes", count.TableBytes);
        sheet.Add("heap: two threads and the calls in which they rest", "bytes", count.ThreadBytes + count.FrameBytes);
        sheet.Add("heap: objects of the runtime and of the program around the box", "bytes", count.ProgramBytes);
        BoardCase script = BoardCase.Make(Script);
        using Board board = script.PowerOn();
        foreach (DisplayShot shot in script.Scene.Pictures)
        {
            board.Time.At((long)(shot.At * 1e6) + AfterUs, () => sheet.Add(Line(shot.Name), "bytes", count.Live(board), Limit));
        }
        script.RunToTheEnd(board);
        if (sheet.Lines.Count(l => l.Name.StartsWith(Line(""), StringComparison.Ordinal)) != script.Scene.Pictures.Count) throw new InvalidOperationException("the script ended before all its moments were counted");
    }
}

using Intervalometer.Screens;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>
/// Every picture that the firmware could show about the moment of a picture: drawn on the virtual board every 5 ms, apart from the
/// display. While a picture moves, two boards draw it at different instants; each must be one of these, bit for bit. What BOX says
/// of the free heap is the device's own: there every number of kilobytes is one of them. The dawn's correction is worked out every two
/// seconds from the start of the box's own count: on LIGHT the answers of the last seconds are among them.
/// </summary>
public static class Moments
{
    /// <summary>So long before the moment, ms.</summary>
    public const int BeforeMs = 300;

    /// <summary>And so long after it, ms: the stand-in board looks that long.</summary>
    public const int AfterMs = 1000;

    private const int StepUs = 5_000;

    // The correction's two seconds, and half a second more in which other work of the shore side may come first.
    private const long DawnUs = 2_500_000;
    private const long DawnStepUs = 50_000;
    private const long DawnLookUs = 250_000;

    // The last line of LIGHT says another thing every three seconds of the box's own count, seven things at most. That count begins again
    // with each start of a device; on the virtual board it goes on.
    private const long LineUs = 3_000_000;
    private const int MostLines = 7;

    // More than any heap that is tried here.
    private const int MostFreeKilobytes = 200;

    /// <summary>The sums of the pictures, by name of the picture.</summary>
    public static IReadOnlyDictionary<string, HashSet<int>> Of(BoardCase @case)
    {
        var all = new Dictionary<string, HashSet<int>>();
        using Board board = @case.PowerOn();
        var frame = new Frame();
        foreach (DisplayShot shot in @case.Scene.Pictures)
        {
            HashSet<int> sums = all[shot.Name] = [];
            long moment = Us(shot.At), from = Math.Max(0, moment - BeforeMs * 1000), to = Math.Min(moment + AfterMs * 1000, NextPressUs(@case, moment));
            for (long at = from; at < to; at += StepUs) board.Time.At(at, () => sums.Add(Drawn(board, frame)));
            board.Time.At(moment, () => AddFreeHeap(board, frame, sums));
            // Over all of that time: the last line goes on while the answer stays.
            for (long at = from; at < to; at += DawnLookUs) board.Time.At(at, () => AddDawn(board, frame, sums));
        }
        @case.RunToTheEnd(board);
        return all;
    }

    private static void AddFreeHeap(Board board, Frame frame, HashSet<int> sums)
    {
        if (board.Box!.Panel!.ScreenName != "BOX") return;
        IHeapGauge? own = board.Box.HeapGauge;
        for (int kilobytes = 0; kilobytes <= MostFreeKilobytes; kilobytes++)
        {
            board.Box.HeapGauge = new Gauge(kilobytes * 1000);
            sums.Add(Drawn(board, frame));
        }
        board.Box.HeapGauge = own;
    }

    private static void AddDawn(Board board, Frame frame, HashSet<int> sums)
    {
        ShoreDesk shore = board.Box!.Shore!;
        if (board.Box.Panel!.ScreenName != "LIGHT" || !shore.Settings.DawnOn) return;
        for (long back = DawnUs; back >= 0; back -= DawnStepUs)
        {
            shore.Dawn.Work(shore.Clock, board.Time.NowUs - back);
            for (int line = MostLines - 1; line >= 0; line--) sums.Add(Drawn(board, frame, line * LineUs));
        }
    }

    private static int Drawn(Board board, Frame frame, long laterUs = 0)
    {
        board.Box!.Panel!.Draw(frame, board.Time.NowUs + laterUs);
        var pages = new byte[Frame.Pages][];
        for (int page = 0; page < pages.Length; page++) frame.CopyPage(page, pages[page] = new byte[Frame.Width], 0);
        return PictureSum.Of(board.Display.Model.Registers, pages);
    }

    private static long NextPressUs(BoardCase @case, long moment) => @case.Scene.Presses.Select(p => Us(p.At)).Where(at => at > moment).DefaultIfEmpty(long.MaxValue).Min();

    private sealed class Gauge(int free) : IHeapGauge
    {
        public int FreeBytes => free;
    }

    private static long Us(double seconds) => (long)Math.Round(seconds * 1e6);
}

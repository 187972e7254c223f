using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Faults;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>A bus on which one transfer hangs.</summary>
internal static class OneHang
{
    /// <summary>The first transfer after a given time blocks everything for a while and fails; the transfers after it succeed.</summary>
    public static void At(Board board, long atUs, long forUs)
    {
        BusTrouble trouble = board.Bus.Trouble;
        trouble.HangUs = forUs;
        board.Time.At(atUs, () =>
        {
            long hits = trouble.Hits;
            trouble.StuckData = true;
            Look();
            void Look()
            {
                if (trouble.Hits > hits) trouble.StuckData = false;
                else board.Time.At(board.Time.NowUs + 500, Look);
            }
        });
    }
}

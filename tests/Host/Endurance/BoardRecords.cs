using System.Collections;
using System.Reflection;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>The virtual board keeps every change for its reports. A run of days checks them hour by hour and throws them away, so that what is left on the heap is the box's.</summary>
internal static class BoardRecords
{
    public static void Forget(Board board)
    {
        Clear(board.Lines, "_changes");
        Clear(board, "_edges");
        Clear(board.Camera, "_frames");
        Clear(board.Camera, "_missed");
        Clear(board.Bus, "_violations");
        Clear(board.Battery, "_reads");
    }

    private static void Clear(object of, string list)
    {
        var records = (IList)of.GetType().GetField(list, BindingFlags.Instance | BindingFlags.NonPublic)!.GetValue(of)!;
        records.Clear();
        records.GetType().GetProperty("Capacity")!.SetValue(records, 0);
    }
}

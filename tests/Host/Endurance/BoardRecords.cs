using System.Collections;
using System.Reflection;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>The virtual board keeps every change for its reports. A run of several days checks these hour by hour and then drops them, so that only objects of the box are left on the heap.</summary>
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
        ((IDictionary)Held(Held(board, "_aims"), "_aims")).Clear();
    }

    private static object Held(object of, string field) => of.GetType().GetField(field, BindingFlags.Instance | BindingFlags.NonPublic)!.GetValue(of)!;

    private static void Clear(object of, string list)
    {
        var records = (IList)Held(of, list);
        records.Clear();
        records.GetType().GetProperty("Capacity")!.SetValue(records, 0);
    }
}

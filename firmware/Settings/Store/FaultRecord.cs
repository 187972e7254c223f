using Intervalometer.Settings.Faults;

namespace Intervalometer.Settings.Store;

/// <summary>The stored form of the last fatal error: its kind, its place, and how many errors there have been in all. New fields go at the end.</summary>
public static class FaultRecord
{
    /// <summary>The version of the stored form.</summary>
    public const int Version = 1;

    /// <summary>Writes the note.</summary>
    public static void Put(FaultNote note, Bytes bytes)
    {
        bytes.Put((int)note.Kind, 1);
        bytes.Put((int)note.Place, 1);
        bytes.Put(note.Total, 2);
    }

    /// <summary>Reads the note. Returns false and changes nothing when a value is out of range.</summary>
    public static bool Take(FaultNote note, Bytes bytes)
    {
        int kind = bytes.TakeInt(1, 0, FaultNote.LastKind, 0);
        int place = bytes.TakeInt(1, 0, FaultNote.LastPlace, 0);
        int total = bytes.TakeInt(2, 0, FaultNote.MostTotal, 0);
        if (bytes.Bad) return false;
        note.Restore((FaultKind)kind, (FaultPlace)place, total);
        return true;
    }
}

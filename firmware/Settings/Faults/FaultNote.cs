using System;

namespace Intervalometer.Settings.Faults;

/// <summary>The kind of a fatal error. The number is part of the stored form.</summary>
public enum FaultKind
{
    /// <summary>There was no error.</summary>
    None = 0,

    /// <summary>The heap was used up.</summary>
    OutOfMemory = 1,

    /// <summary>A part was given a value that it does not accept.</summary>
    BadValue = 2,

    /// <summary>A part was asked for something that it could not do at that moment.</summary>
    BadState = 3,

    /// <summary>An object that was needed did not exist.</summary>
    Missing = 4,

    /// <summary>An index lay outside a list.</summary>
    BadIndex = 5,

    /// <summary>Any other error.</summary>
    Other = 6,
}

/// <summary>Where a fatal error happened. The number is part of the stored form.</summary>
public enum FaultPlace
{
    /// <summary>Nowhere.</summary>
    None = 0,

    /// <summary>While the box was starting.</summary>
    Start = 1,

    /// <summary>In the release thread, which moves the contacts.</summary>
    Release = 2,

    /// <summary>In a screen, or while a button was handled.</summary>
    Screen = 3,

    /// <summary>In storing to the memory.</summary>
    Store = 4,

    /// <summary>In reading the battery.</summary>
    Battery = 5,

    /// <summary>In sending pictures to the display.</summary>
    Display = 6,

    /// <summary>In the shore side: tide, sun, mornings, alarm.</summary>
    Shore = 7,

    /// <summary>In reading the light sensor.</summary>
    Light = 8,
}

/// <summary>
/// The last fatal error and how often errors have happened. Seven bytes of it survive a restart in the clock chip
/// (<see cref="Put"/>). The memory keeps the kind, the place and the count for good (<see cref="Store.FaultRecord"/>).
/// </summary>
public sealed class FaultNote
{
    /// <summary>How many bytes the form has that survives a restart.</summary>
    public const int Size = 7;

    /// <summary>After this many restarts because of a fault, without a good run in between, the box stays in the safe state.</summary>
    public const int MostInARow = 3;

    /// <summary>The box counts as running well after this long without a fatal error, µs.</summary>
    public const long GoodRunUs = 60_000_000;

    internal const int MostTotal = 0xFFFF;
    internal const int LastKind = (int)FaultKind.Other;
    internal const int LastPlace = (int)FaultPlace.Light;

    private const int Marker = 0xF5;
    private const int Most = 0xFF;

    private bool _ranWell;

    /// <summary>The kind of the last error.</summary>
    public FaultKind Kind { get; private set; }

    /// <summary>The place of the last error.</summary>
    public FaultPlace Place { get; private set; }

    /// <summary>How many faults, with one restart each, there were since the box last ran well or stayed in the safe state.</summary>
    public int InARow { get; private set; }

    /// <summary>How many faults there were since the box last ran well. It is shown until the box is switched off, and at every start until the box has run well.</summary>
    public int Times { get; private set; }

    /// <summary>How many faults are not yet in the memory's count.</summary>
    public int Uncounted { get; private set; }

    /// <summary>How many faults the memory has counted in all.</summary>
    public int Total { get; private set; }

    /// <summary>True when the box must not start again by itself.</summary>
    public bool MustStayDown => InARow >= MostInARow;

    /// <summary>The last error in words, such as "out of memory in start".</summary>
    public string Words => KindWords(Kind) + " in " + PlaceWords(Place);

    /// <summary>Notes a fatal error.</summary>
    public void Happened(FaultKind kind, FaultPlace place)
    {
        Kind = kind;
        Place = place;
        if (_ranWell) Times = 0;
        _ranWell = false;
        if (InARow < Most) InARow++;
        if (Times < Most) Times++;
        if (Uncounted < Most) Uncounted++;
    }

    /// <summary>Notes that the box has run well for <see cref="GoodRunUs"/>.</summary>
    public void RanWell()
    {
        InARow = 0;
        _ranWell = true;
    }

    /// <summary>Notes that the box stays in the safe state. After the next power-on it may try again.</summary>
    public void StaysDown() => InARow = 0;

    /// <summary>Adds the faults that are not counted yet to the memory's count. Returns false when there are none.</summary>
    public bool Count()
    {
        if (Uncounted == 0) return false;
        Total += Uncounted;
        if (Total > MostTotal) Total = MostTotal;
        Uncounted = 0;
        return true;
    }

    /// <summary>Takes over what the memory has counted. Its kind and place are used only when no later error is known.</summary>
    public void Restore(FaultKind kind, FaultPlace place, int total)
    {
        Total = total;
        if (Kind != FaultKind.None) return;
        Kind = kind;
        Place = place;
    }

    /// <summary>Writes the form that survives a restart, beginning at an index: marker, kind, place, in a row, uncounted, times, check.</summary>
    public void Put(byte[] into, int at)
    {
        into[at] = Marker;
        into[at + 1] = (byte)Kind;
        into[at + 2] = (byte)Place;
        into[at + 3] = (byte)InARow;
        into[at + 4] = (byte)Uncounted;
        into[at + 5] = (byte)(_ranWell ? 0 : Times);
        into[at + 6] = Check(into, at);
    }

    /// <summary>Reads that form. Returns false and changes nothing when the bytes are anything else, as in a new chip.</summary>
    public bool Take(byte[] from)
    {
        if (from[0] != Marker || from[6] != Check(from, 0) || from[1] > LastKind || from[2] > LastPlace) return false;
        Kind = (FaultKind)from[1];
        Place = (FaultPlace)from[2];
        InARow = from[3];
        Uncounted = from[4];
        Times = from[5];
        return true;
    }

    /// <summary>The kind to which an exception belongs.</summary>
    public static FaultKind KindOf(Exception fault)
    {
        if (fault is OutOfMemoryException) return FaultKind.OutOfMemory;
        if (fault is ArgumentException) return FaultKind.BadValue;
        if (fault is InvalidOperationException) return FaultKind.BadState;
        if (fault is NullReferenceException) return FaultKind.Missing;
        return fault is IndexOutOfRangeException ? FaultKind.BadIndex : FaultKind.Other;
    }

    /// <summary>A kind in words.</summary>
    public static string KindWords(FaultKind kind) => kind switch
    {
        FaultKind.OutOfMemory => "out of memory",
        FaultKind.BadValue => "bad value",
        FaultKind.BadState => "bad state",
        FaultKind.Missing => "part missing",
        FaultKind.BadIndex => "bad index",
        _ => "error",
    };

    /// <summary>A place in words.</summary>
    public static string PlaceWords(FaultPlace place) => place switch
    {
        FaultPlace.Start => "start",
        FaultPlace.Release => "release",
        FaultPlace.Store => "store",
        FaultPlace.Battery => "gauge",
        FaultPlace.Display => "display",
        FaultPlace.Shore => "shore",
        FaultPlace.Light => "sensor",
        _ => "screen",
    };

    // A check that seven equal bytes do not pass, and neither do seven zeros.
    private static byte Check(byte[] data, int at)
    {
        int sum = 0x5A;
        for (int i = 0; i < Size - 1; i++) sum = (sum * 3 + data[at + i]) & 0xFF;
        return (byte)sum;
    }
}

using System;

namespace Intervalometer.Settings.Faults;

/// <summary>What kind of error it was. The number is part of the stored form.</summary>
public enum FaultKind
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>Memory was used up.</summary>
    OutOfMemory = 1,

    /// <summary>A value that a part does not take.</summary>
    BadValue = 2,

    /// <summary>Something was asked of a part that it cannot do now.</summary>
    BadState = 3,

    /// <summary>Something that had to be there was not.</summary>
    Missing = 4,

    /// <summary>A place outside a list.</summary>
    BadIndex = 5,

    /// <summary>Any other.</summary>
    Other = 6,
}

/// <summary>Where it happened. The number is part of the stored form.</summary>
public enum FaultPlace
{
    /// <summary>Nowhere.</summary>
    None = 0,

    /// <summary>While the box was starting.</summary>
    Start = 1,

    /// <summary>In the release thread, which moves the contacts.</summary>
    Release = 2,

    /// <summary>In a screen or a button's work.</summary>
    Screen = 3,

    /// <summary>In the store.</summary>
    Store = 4,

    /// <summary>In the battery's gauge.</summary>
    Battery = 5,

    /// <summary>In sending to the display.</summary>
    Display = 6,

    /// <summary>In the shore side: tide, sun, mornings, alarm.</summary>
    Shore = 7,
}

/// <summary>
/// The last fatal error and how often it happened. Seven bytes of it survive a restart in the clock chip
/// (<see cref="Put"/>); the memory keeps the kind, the place and the count for good (<see cref="Store.FaultRecord"/>).
/// </summary>
public sealed class FaultNote
{
    /// <summary>Bytes of the form that survives a restart.</summary>
    public const int Size = 7;

    /// <summary>So many restarts by a fault with no good run between them end in the safe state.</summary>
    public const int MostInARow = 3;

    /// <summary>A run of the box is good after this long without a fatal error, µs.</summary>
    public const long GoodRunUs = 60_000_000;

    internal const int MostTotal = 0xFFFF;
    internal const int LastKind = (int)FaultKind.Other;
    internal const int LastPlace = (int)FaultPlace.Shore;

    private const int Marker = 0xF5;
    private const int Most = 0xFF;

    private bool _ranWell;

    /// <summary>The kind of the last one.</summary>
    public FaultKind Kind { get; private set; }

    /// <summary>The place of the last one.</summary>
    public FaultPlace Place { get; private set; }

    /// <summary>Faults since the last good run or safe state, one restart each.</summary>
    public int InARow { get; private set; }

    /// <summary>Faults since the last good run: told until the box is switched off, and by every start before a good run.</summary>
    public int Times { get; private set; }

    /// <summary>Faults that the memory does not count yet.</summary>
    public int Uncounted { get; private set; }

    /// <summary>All faults that the memory has counted.</summary>
    public int Total { get; private set; }

    /// <summary>True when the box must not be started any more.</summary>
    public bool MustStayDown => InARow >= MostInARow;

    /// <summary>The last one in words: "out of memory in start".</summary>
    public string Words => KindWords(Kind) + " in " + PlaceWords(Place);

    /// <summary>A fatal error happened.</summary>
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

    /// <summary>The box has run well for <see cref="GoodRunUs"/>.</summary>
    public void RanWell()
    {
        InARow = 0;
        _ranWell = true;
    }

    /// <summary>The box stays down now; after the next power-on it may try again.</summary>
    public void StaysDown() => InARow = 0;

    /// <summary>Adds what is not counted yet to what the memory has counted. False when there is nothing to add.</summary>
    public bool Count()
    {
        if (Uncounted == 0) return false;
        Total += Uncounted;
        if (Total > MostTotal) Total = MostTotal;
        Uncounted = 0;
        return true;
    }

    /// <summary>What the memory has counted; the kind and the place only when no later one is known.</summary>
    public void Restore(FaultKind kind, FaultPlace place, int total)
    {
        Total = total;
        if (Kind != FaultKind.None) return;
        Kind = kind;
        Place = place;
    }

    /// <summary>Writes the form that survives a restart, from an index on: marker, kind, place, in a row, uncounted, times, check.</summary>
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

    /// <summary>Reads that form. False, with nothing changed, when the bytes are anything else, as in a chip that is new.</summary>
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

    /// <summary>The kind of an exception.</summary>
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
        _ => "screen",
    };

    // A sum that neither seven equal bytes nor zeros pass.
    private static byte Check(byte[] data, int at)
    {
        int sum = 0x5A;
        for (int i = 0; i < Size - 1; i++) sum = (sum * 3 + data[at + i]) & 0xFF;
        return (byte)sum;
    }
}

using Intervalometer.Core.Light;

namespace Intervalometer.Settings.Store;

/// <summary>
/// The last frames, in a ring of pages that wear evenly: the pages are written one after the other, and a page that is written is
/// not touched again until the ring comes round. One page holds one or two frames.
/// </summary>
/// <remarks>
/// A page holds a sequence number (3 bytes), the version in the high and the number of frames in the low four bits of 1 byte, two frames of
/// 13 bytes or one and what the light did to it, and the CRC-16/IBM-3740 of everything before it (2). The place of a page follows from its sequence number, which is a further check.
/// After <see cref="Numbers"/> pages the sequence numbers begin at 0 again, because a larger one would not fit.
///
/// Endurance: a page takes a million write cycles (Atmel, AT24C32/64 data sheet, "Endurance"), so the ring takes 48 million pages, and the
/// sequence numbers begin again before that. A season of 150 mornings with 60 frames, stored one by one, and 40 changed settings writes each
/// page of the ring 188 times and the most written page of a record 1,500 times (counted, tests/Host/Store/SeasonTests). That page wears out
/// after 660 such seasons. A page that wears out sooner is set aside (<see cref="SparePages"/>).
/// </remarks>
public sealed class Logbook
{
    /// <summary>How many frames a page holds.</summary>
    public const int FramesPerPage = 2;

    /// <summary>The version of the stored form.</summary>
    public const int Version = 1;

    /// <summary>How many sequence numbers there are: as many whole rounds of the ring as three bytes can hold.</summary>
    public const int Numbers = 0x1000000 / StoreMap.LogPages * StoreMap.LogPages;

    internal const int CrcAt = StoreMap.PageBytes - 2;

    private const int FirstFrameAt = 4;
    private const int NoPage = -1;
    private const int BadPage = -2;
    private const int LaterPage = -3;
    private const int ReadTries = 3;

    /// <summary>Power cuts explain at most this many unreadable pages. More of them mean that the memory is damaged.</summary>
    private const int MostCutPages = 4;

    private readonly IPageMemory _memory;
    private readonly PageWriter _writer;
    private readonly byte[] _page = new byte[StoreMap.PageBytes];
    private byte[] _frames = new byte[StoreMap.LogPages];
    private int[] _sequences = new int[StoreMap.LogPages];
    private readonly Bytes _bytes;
    private readonly LogEntry _last = new LogEntry();
    private int _newest = -1;
    private int _written;
    private int _pending;
    private int _toWipe = StoreMap.LogPages;

    /// <summary>Creates the logbook without reading anything yet.</summary>
    /// <param name="memory">The memory.</param>
    /// <param name="writer">Writes the pages. It must be idle when <see cref="TryAppend"/> is called.</param>
    public Logbook(IPageMemory memory, PageWriter writer)
    {
        _memory = memory;
        _writer = writer;
        _bytes = new Bytes(_page, 0);
    }

    /// <summary>The result of <see cref="Scan"/>: <see cref="RecordStatus.NoAnswer"/>, Empty, Good, OneCopy (some pages cannot be read), Damaged or Newer.</summary>
    public RecordStatus Status { get; private set; }

    /// <summary>True when the logbook must be left as it is.</summary>
    public bool Held => Status == RecordStatus.Damaged || Status == RecordStatus.Newer;

    /// <summary>How many frames can be read.</summary>
    public int Count { get; private set; }

    /// <summary>How many pages could not be read.</summary>
    public int BadPages { get; private set; }

    /// <summary>The session of the newest frame; -1 when there is no frame or its time came from a clock.</summary>
    public int LastSession { get; private set; } = -1;

    /// <summary>True while unreadable pages of a released logbook are still to be wiped.</summary>
    public bool Wiping => _toWipe < StoreMap.LogPages;

    /// <summary>Reads every page, and finds out which pages of the memory were set aside. It blocks for about 1 ms a page at 400 kHz.</summary>
    public RecordStatus Scan()
    {
        SparePages spares = _writer.Spares;
        spares.Clear();
        for (int i = 0; i < StoreMap.LogPages; i++)
        {
            _frames[i] = 0;
            _sequences[i] = NoPage;
            RecordStatus state = ReadPage(i);
            if (state == RecordStatus.NoAnswer) return Status = state;
            if (state == RecordStatus.Newer && (_page[3] != SparePages.Kind || !spares.Take(_page, StoreMap.LogFirstPage + i))) _sequences[i] = LaterPage;
            if (state == RecordStatus.Damaged) _sequences[i] = BadPage;
            if (state != RecordStatus.Good) continue;
            _sequences[i] = SequenceOfPage();
            _frames[i] = (byte)(_page[3] & 15);
        }
        bool newer = TakeIn(spares);
        CountFrames();
        LastSession = -1;
        if (Count > 0 && Read(Count - 1, _last) && !_last.HasUtc) LastSession = _last.Session;
        Status = newer ? RecordStatus.Newer
            : BadPages > MostCutPages ? RecordStatus.Damaged
            : BadPages > 0 ? RecordStatus.OneCopy
            : Count == 0 ? RecordStatus.Empty
            : RecordStatus.Good;
        return Status;
    }

    // Only after every page has been read is it known which of them do not belong to the logbook. Returns true when a page is of later firmware.
    private bool TakeIn(SparePages spares)
    {
        _newest = NoPage;
        BadPages = 0;
        bool newer = false;
        for (int i = 0; i < StoreMap.LogPages; i++)
        {
            if (spares.Away(StoreMap.LogFirstPage + i)) _sequences[i] = NoPage;
            if (_sequences[i] == BadPage) BadPages++;
            newer |= _sequences[i] == LaterPage;
            if (_sequences[i] > _newest) _newest = _sequences[i];
        }
        if (_newest < Numbers - StoreMap.LogPages) return newer;
        // The sequence numbers have begun again, so the small ones are the newest.
        for (int i = 0; i < StoreMap.LogPages; i++)
        {
            if (_sequences[i] >= 0 && _sequences[i] < Numbers / 2) _sequences[i] += Numbers;
            if (_sequences[i] > _newest) _newest = _sequences[i];
        }
        return newer;
    }

    /// <summary>
    /// Gives up the list of which frame is where, about 280 bytes of the heap. From then on nothing can be read or counted, but frames are
    /// appended as before.
    /// </summary>
    public void GiveUpList()
    {
        if (_sequences.Length == 0) return;
        _frames = new byte[0];
        _sequences = new int[0];
        Count = 0;
    }

    /// <summary>Reads one frame. Returns false when its page cannot be read, or when the list was given up.</summary>
    /// <param name="index">0 for the oldest kept, up to <see cref="Count"/> - 1.</param>
    /// <param name="into">The object that is filled with the frame.</param>
    public bool Read(int index, LogEntry into)
    {
        if (index < 0 || _newest < 0 || _frames.Length == 0) return false;
        for (int sequence = Oldest; sequence <= _newest; sequence++)
        {
            int place = PlaceOf(sequence);
            if (_sequences[place] != sequence) continue;
            if (index >= _frames[place])
            {
                index -= _frames[place];
                continue;
            }
            if (ReadPage(place) != RecordStatus.Good) return false;
            _bytes.Restart(_page, CrcAt);
            _bytes.Skip(FirstFrameAt + index * LogEntry.StoredBytes);
            into.Take(_bytes);
            if (_frames[place] == 1) into.TakeLight(_bytes);
            return true;
        }
        return false;
    }

    /// <summary>Begins to append one or two frames in one page. Returns false when the writer is busy, or when the logbook is held or was never read.</summary>
    /// <param name="first">The older frame.</param>
    /// <param name="second">The newer frame, or null.</param>
    public bool TryAppend(LogEntry first, LogEntry? second)
    {
        if (_writer.Busy || Held || Status == RecordStatus.NoAnswer) return false;
        byte[] buffer = _writer.Buffer;
        for (int i = 0; i < StoreMap.PageBytes; i++) buffer[i] = 0xFF;
        _pending = second == null ? 1 : 2;
        _written = Next;
        _bytes.Restart(buffer, StoreMap.PageBytes);
        _bytes.Put(_written % Numbers, 3);
        _bytes.Put((Version << 4) | _pending, 1);
        first.Put(_bytes);
        if (second != null) second.Put(_bytes);
        else if (first.End != LightEnd.None) first.PutLight(_bytes);
        _bytes.Skip(CrcAt - _bytes.At);
        _bytes.Put(Crc.Of16(buffer, 0, CrcAt), 2);
        _writer.Begin(StoreMap.LogFirstPage + PlaceOf(_written), 1);
        return true;
    }

    /// <summary>Skips the page that would be written next. What was on it can no longer be read.</summary>
    /// <returns>The page of the memory that was skipped.</returns>
    public int LeaveOut()
    {
        // The frames on that page have a sequence number that is no longer among the newest.
        _newest = Next;
        if (_frames.Length > 0) CountFrames();
        return StoreMap.LogFirstPage + PlaceOf(_newest);
    }

    /// <summary>Must be called when the writer has finished a page of the logbook.</summary>
    public void Written()
    {
        _newest = _written;
        Status = RecordStatus.Good;
        if (_frames.Length == 0) return;
        int place = PlaceOf(_newest);
        _sequences[place] = _newest;
        _frames[place] = (byte)_pending;
        CountFrames();
    }

    /// <summary>Allows a held logbook to be overwritten from now on. Frames that can be read stay; pages that cannot be read are to be wiped, see <see cref="TryWipe"/>.</summary>
    public void Release()
    {
        if (Held) Status = RecordStatus.OneCopy;
        _toWipe = 0;
    }

    /// <summary>Looks at the next page that may have to be wiped, and begins to wipe it when it cannot be read. Returns true when it has begun.</summary>
    public bool TryWipe()
    {
        if (_writer.Busy || !Wiping) return false;
        int page = StoreMap.LogFirstPage + _toWipe;
        RecordStatus state = _writer.Spares.Away(page) ? RecordStatus.Empty : ReadPage(_toWipe);
        if (state == RecordStatus.Good || state == RecordStatus.Empty) _toWipe++;
        if (state != RecordStatus.Damaged && state != RecordStatus.Newer) return false;
        for (int i = 0; i < StoreMap.PageBytes; i++) _writer.Buffer[i] = 0xFF;
        _writer.Begin(page, 1);
        return true;
    }

    /// <summary>Leaves the pages that are not wiped yet as they are.</summary>
    public void StopWiping() => _toWipe = StoreMap.LogPages;

    // The sequence number of the page that is written next. Pages that do not belong to the logbook are skipped.
    private int Next
    {
        get
        {
            int next = _newest + 1;
            while (_writer.Spares.Away(StoreMap.LogFirstPage + PlaceOf(next))) next++;
            return next;
        }
    }

    private int Oldest => _newest < StoreMap.LogPages ? 0 : _newest - StoreMap.LogPages + 1;

    private static int PlaceOf(int sequence) => sequence % StoreMap.LogPages;

    private void CountFrames()
    {
        Count = 0;
        for (int sequence = Oldest; sequence <= _newest; sequence++)
        {
            int place = PlaceOf(sequence);
            if (_sequences[place] == sequence) Count += _frames[place];
        }
    }

    private int SequenceOfPage()
    {
        _bytes.Restart(_page, CrcAt);
        return _bytes.TakeInt(3, 0, 0xFFFFFF, 0);
    }

    private RecordStatus ReadPage(int place)
    {
        RecordStatus state = RecordStatus.NoAnswer;
        for (int i = 0; i < ReadTries; i++)
        {
            if (!_memory.ReadPage(StoreMap.LogFirstPage + place, _page, 0)) continue;
            state = Judge(place);
            if (state != RecordStatus.Damaged) return state;
        }
        return state;
    }

    private RecordStatus Judge(int place)
    {
        bool blank = true;
        for (int i = 0; i < StoreMap.PageBytes; i++) blank &= _page[i] == 0xFF;
        if (blank) return RecordStatus.Empty;
        int crc = _page[CrcAt] | (_page[CrcAt + 1] << 8);
        if (Crc.Of16(_page, 0, CrcAt) != crc || PlaceOf(SequenceOfPage()) != place) return RecordStatus.Damaged;
        if (_page[3] >> 4 > Version) return RecordStatus.Newer;
        int frames = _page[3] & 15;
        return frames >= 1 && frames <= FramesPerPage ? RecordStatus.Good : RecordStatus.Damaged;
    }
}

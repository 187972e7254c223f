namespace Intervalometer.Settings.Store;

/// <summary>
/// The last frames, in a ring of pages that wear evenly: page after page is written once a round, and nothing written is
/// touched again until the ring comes round. One page holds one or two frames.
/// </summary>
/// <remarks>
/// A page: sequence number (3 bytes), version in the high and frames in the low four bits (1), two frames of 13 bytes,
/// CRC-16/IBM-3740 over all before it (2). The place of a page follows from its sequence number, which is one check more.
/// 2^24 pages are far beyond what the chip endures.
/// </remarks>
public sealed class Logbook
{
    /// <summary>Frames in a page.</summary>
    public const int FramesPerPage = 2;

    /// <summary>The version of the stored form.</summary>
    public const int Version = 1;

    private const int FirstFrameAt = 4;
    private const int CrcAt = StoreMap.PageBytes - 2;
    private const int ReadTries = 3;

    /// <summary>More unreadable pages than this are no power cuts but a damaged memory.</summary>
    private const int MostCutPages = 4;

    private readonly IPageMemory _memory;
    private readonly PageWriter _writer;
    private readonly byte[] _page = new byte[StoreMap.PageBytes];
    private int[] _frames = new int[StoreMap.LogPages];
    private long[] _sequences = new long[StoreMap.LogPages];
    private readonly Bytes _bytes;
    private readonly LogEntry _last = new LogEntry();
    private long _newest = -1;
    private int _pending;

    /// <summary>Creates the logbook; reads nothing yet.</summary>
    /// <param name="memory">The memory.</param>
    /// <param name="writer">Does the writing; must be idle when <see cref="TryAppend"/> is called.</param>
    public Logbook(IPageMemory memory, PageWriter writer)
    {
        _memory = memory;
        _writer = writer;
        _bytes = new Bytes(_page, 0);
    }

    /// <summary>What <see cref="Scan"/> found: <see cref="RecordStatus.NoAnswer"/>, Empty, Good, OneCopy (some pages unreadable), Damaged or Newer.</summary>
    public RecordStatus Status { get; private set; }

    /// <summary>True when the logbook must be left as it is.</summary>
    public bool Held => Status == RecordStatus.Damaged || Status == RecordStatus.Newer;

    /// <summary>Frames that can be read.</summary>
    public int Count { get; private set; }

    /// <summary>Pages that could not be read.</summary>
    public int BadPages { get; private set; }

    /// <summary>Session of the newest frame; -1 when there is none or its time was taken from a clock.</summary>
    public int LastSession { get; private set; } = -1;

    /// <summary>Reads every page. Blocks for about 1 ms a page at 400 kHz.</summary>
    public RecordStatus Scan()
    {
        _newest = -1;
        BadPages = 0;
        bool newer = false;
        for (int i = 0; i < StoreMap.LogPages; i++)
        {
            _frames[i] = 0;
            _sequences[i] = -1;
            RecordStatus state = ReadPage(i);
            if (state == RecordStatus.NoAnswer) return Status = state;
            if (state == RecordStatus.Newer) newer = true;
            if (state == RecordStatus.Damaged) BadPages++;
            if (state != RecordStatus.Good) continue;
            _sequences[i] = SequenceOfPage();
            _frames[i] = _page[3] & 15;
            if (_sequences[i] > _newest) _newest = _sequences[i];
        }
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

    /// <summary>
    /// Gives up the list of what is where, about 600 bytes of the heap: from now on nothing can be read or counted. Frames are
    /// appended as before.
    /// </summary>
    public void GiveUpList()
    {
        _frames = new int[0];
        _sequences = new long[0];
        Count = 0;
    }

    /// <summary>Reads one frame. False when its page cannot be read, or the list was given up.</summary>
    /// <param name="index">0 for the oldest kept, up to <see cref="Count"/> - 1.</param>
    /// <param name="into">Filled with the frame.</param>
    public bool Read(int index, LogEntry into)
    {
        if (index < 0 || _newest < 0 || _frames.Length == 0) return false;
        for (long sequence = Oldest; sequence <= _newest; sequence++)
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
            return true;
        }
        return false;
    }

    /// <summary>Begins to append one or two frames in one page. False when the writer is busy or the logbook is held or was never read.</summary>
    /// <param name="first">The older frame.</param>
    /// <param name="second">The newer frame, or null.</param>
    public bool TryAppend(LogEntry first, LogEntry? second)
    {
        if (_writer.Busy || Held || Status == RecordStatus.NoAnswer) return false;
        byte[] buffer = _writer.Buffer;
        for (int i = 0; i < StoreMap.PageBytes; i++) buffer[i] = 0xFF;
        _pending = second == null ? 1 : 2;
        _bytes.Restart(buffer, StoreMap.PageBytes);
        _bytes.Put(_newest + 1, 3);
        _bytes.Put((Version << 4) | _pending, 1);
        first.Put(_bytes);
        if (second == null) _bytes.Skip(LogEntry.StoredBytes);
        else second.Put(_bytes);
        _bytes.Put(Crc.Of16(buffer, 0, CrcAt), 2);
        _writer.Begin(StoreMap.LogFirstPage + PlaceOf(_newest + 1), 1);
        return true;
    }

    /// <summary>To be called when the writer is done with a page of the logbook.</summary>
    public void Written()
    {
        _newest++;
        Status = RecordStatus.Good;
        if (_frames.Length == 0) return;
        int place = PlaceOf(_newest);
        _sequences[place] = _newest;
        _frames[place] = _pending;
        CountFrames();
    }

    /// <summary>Lets a held logbook be overwritten from now on.</summary>
    public void Release()
    {
        if (Held) Status = RecordStatus.OneCopy;
    }

    private long Oldest => _newest < StoreMap.LogPages ? 0 : _newest - StoreMap.LogPages + 1;

    private static int PlaceOf(long sequence) => (int)(sequence % StoreMap.LogPages);

    private void CountFrames()
    {
        Count = 0;
        for (long sequence = Oldest; sequence <= _newest; sequence++)
        {
            int place = PlaceOf(sequence);
            if (_sequences[place] == sequence) Count += _frames[place];
        }
    }

    private long SequenceOfPage()
    {
        _bytes.Restart(_page, CrcAt);
        return _bytes.Take(3, 0, 0xFFFFFF, 0);
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

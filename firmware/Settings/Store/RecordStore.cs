namespace Intervalometer.Settings.Store;

/// <summary>What was found in the memory for a record.</summary>
public enum RecordStatus
{
    /// <summary>It has not been looked for yet, or the memory did not answer.</summary>
    NoAnswer = 0,

    /// <summary>Nothing was ever stored.</summary>
    Empty = 1,

    /// <summary>The record is good.</summary>
    Good = 2,

    /// <summary>One copy is good. The other was cut off while it was written, or has decayed.</summary>
    OneCopy = 3,

    /// <summary>The very first write was cut off, and nothing was stored before it.</summary>
    Unfinished = 4,

    /// <summary>No copy can be read. The record is left as it is until it is released.</summary>
    Damaged = 5,

    /// <summary>It was written by a firmware that this one does not understand. It is left as it is until it is released.</summary>
    Newer = 6,
}

/// <summary>
/// Stores records in two copies, each with a sequence number and a CRC-32. A new value always overwrites the older or the unreadable copy, so
/// that a power cut at any byte leaves either the old value or the new one.
/// </summary>
/// <remarks>
/// A copy holds: marker 0xA5, id, version, 0, length (2 bytes), sequence number (4), 0xFF 0xFF, CRC-32 (4) over the first twelve bytes and
/// the payload, then the payload, then 0xFF to the end of its last page. The version is raised only when older firmware must not read
/// the record. Fields may be added at the end without that.
/// </remarks>
public sealed class RecordStore
{
    /// <summary>How many bytes stand before the payload of a copy.</summary>
    public const int HeaderBytes = 16;

    private const int Marker = 0xA5;
    private const int CrcAt = 12;
    private const int ReadTries = 3;

    private readonly IPageMemory _memory;
    private readonly PageWriter _writer;
    // Reading and writing never overlap, so they share the writer's buffer.
    private readonly byte[] _copy;
    private readonly RecordStatus[] _status = new RecordStatus[StoreMap.Records + 1];
    private readonly long[] _sequence = new long[StoreMap.Records + 1];
    private readonly int[] _newest = new int[StoreMap.Records + 1];
    private readonly int[] _spare = new int[StoreMap.Records + 1];
    private readonly int[] _fresh = new int[StoreMap.Records + 1];
    private readonly Bytes _bytes;

    /// <summary>Creates the store without reading anything yet.</summary>
    /// <param name="memory">The memory.</param>
    /// <param name="writer">Writes the pages. While it is busy, no record can be found, loaded or saved.</param>
    public RecordStore(IPageMemory memory, PageWriter writer)
    {
        _memory = memory;
        _writer = writer;
        _copy = writer.Buffer;
        _bytes = new Bytes(_copy, 0);
    }

    private enum CopyState
    {
        NoAnswer = 0,
        Blank = 1,
        Damaged = 2,
        Good = 3,
    }

    /// <summary>The state of a record after the last <see cref="Find"/> or <see cref="TrySave"/>.</summary>
    public RecordStatus Status(RecordId id) => _status[(int)id];

    /// <summary>True when the record must be left as it is.</summary>
    public bool Held(RecordId id) => _status[(int)id] == RecordStatus.Damaged || _status[(int)id] == RecordStatus.Newer;

    /// <summary>Reads both copies of a record and says what is there. It blocks for about 1 ms a page at 400 kHz. The result is NoAnswer while the writer is busy.</summary>
    /// <param name="id">The record.</param>
    /// <param name="knownVersion">The highest version that the caller understands.</param>
    public RecordStatus Find(RecordId id, int knownVersion)
    {
        if (_writer.Busy) return RecordStatus.NoAnswer;
        int i = (int)id;
        long best = -1;
        int good = 0;
        int damaged = -1;
        int blank = 0;
        bool newer = false;
        _newest[i] = -1;
        _spare[i] = 0;
        for (int copy = 0; copy < StoreMap.Copies; copy++)
        {
            CopyState state = Read(id, copy);
            if (state == CopyState.NoAnswer) return _status[i] = RecordStatus.NoAnswer;
            if (state == CopyState.Blank) blank++;
            if (state == CopyState.Damaged) damaged = copy;
            if (state != CopyState.Good) continue;
            good++;
            long sequence = SequenceOf(_copy);
            if (sequence <= best) continue;
            best = sequence;
            newer = _copy[2] > knownVersion;
            _newest[i] = copy;
        }
        _sequence[i] = best;
        if (_newest[i] >= 0) _spare[i] = 1 - _newest[i];
        else if (damaged >= 0) _spare[i] = damaged;
        RecordStatus status = newer ? RecordStatus.Newer
            : good == 2 || (good == 1 && blank == 1) ? RecordStatus.Good
            : good == 1 ? RecordStatus.OneCopy
            : blank == 2 ? RecordStatus.Empty
            : blank == 1 ? RecordStatus.Unfinished
            : RecordStatus.Damaged;
        _status[i] = status;
        return status;
    }

    /// <summary>Copies the payload of a record that <see cref="Find"/> called good into any array, or into the writer's buffer. Returns the number of bytes; -1 when it cannot be read.</summary>
    public int Load(RecordId id, byte[] into)
    {
        int copy = _newest[(int)id];
        if (copy < 0 || _writer.Busy || Read(id, copy) != CopyState.Good) return -1;
        int length = LengthOf(_copy);
        if (length > into.Length) return -1;
        for (int i = 0; i < length; i++) into[i] = _copy[HeaderBytes + i];
        return length;
    }

    /// <summary>Declares a record damaged although its copies are sound, because its contents are not valid.</summary>
    public void Hold(RecordId id) => _status[(int)id] = RecordStatus.Damaged;

    /// <summary>Allows a held record to be overwritten from now on.</summary>
    public void Release(RecordId id)
    {
        if (!Held(id)) return;
        _status[(int)id] = RecordStatus.Unfinished;
        _fresh[(int)id] = StoreMap.Copies;
    }

    /// <summary>True while a record that was released still has a copy that was not written again.</summary>
    public bool NeedsFreshCopy(RecordId id) => _fresh[(int)id] > 0;

    /// <summary>Begins to store a payload, which may be in the writer's buffer; the writer does the rest. Returns false when the writer is busy, the record is held or was never found, or the payload is too long.</summary>
    public bool TrySave(RecordId id, int version, byte[] payload, int length)
    {
        int i = (int)id;
        if (_writer.Busy || Held(id) || _status[i] == RecordStatus.NoAnswer) return false;
        if (length < 0 || length > StoreMap.Capacity(id)) return false;
        byte[] buffer = _writer.Buffer;
        int pages = (HeaderBytes + length + StoreMap.PageBytes - 1) / StoreMap.PageBytes;
        // The bytes are copied from the last one on, because the payload may be in the same array, one header further down.
        for (int k = length - 1; k >= 0; k--) buffer[HeaderBytes + k] = payload[k];
        for (int k = 0; k < HeaderBytes; k++) buffer[k] = 0xFF;
        for (int k = HeaderBytes + length; k < pages * StoreMap.PageBytes; k++) buffer[k] = 0xFF;
        _bytes.Restart(buffer, CrcAt);
        _bytes.Put(Marker, 1);
        _bytes.Put(i, 1);
        _bytes.Put(version, 1);
        _bytes.Put(0, 1);
        _bytes.Put(length, 2);
        _bytes.Put(_sequence[i] + 1, 4);
        uint crc = CrcOf(buffer, length);
        long sum = crc;
        _bytes.Restart(buffer, HeaderBytes);
        _bytes.Skip(CrcAt);
        _bytes.Put(sum, 4);
        _writer.Begin(StoreMap.FirstPage(id, _spare[i]), pages);
        return true;
    }

    /// <summary>Must be called when the writer has finished a record: the copy that was written is now the newest.</summary>
    public void Written(RecordId id)
    {
        int i = (int)id;
        _newest[i] = _spare[i];
        _spare[i] = 1 - _newest[i];
        _sequence[i]++;
        if (_fresh[i] > 0) _fresh[i]--;
        _status[i] = RecordStatus.Good;
    }

    private CopyState Read(RecordId id, int copy)
    {
        CopyState state = CopyState.NoAnswer;
        // A byte may be garbled on the bus, so only a copy that reads badly every time counts as damaged.
        for (int i = 0; i < ReadTries; i++)
        {
            CopyState tried = ReadOnce(id, copy);
            if (tried == CopyState.Good || tried == CopyState.Blank) return tried;
            if (tried == CopyState.Damaged) state = tried;
        }
        return state;
    }

    private CopyState ReadOnce(RecordId id, int copy)
    {
        int first = StoreMap.FirstPage(id, copy);
        if (!_memory.ReadPage(_writer.Spares.Where(first), _copy, 0)) return CopyState.NoAnswer;
        bool blank = true;
        for (int i = 0; i < StoreMap.PageBytes; i++) blank &= _copy[i] == 0xFF;
        if (blank) return CopyState.Blank;
        int length = LengthOf(_copy);
        if (_copy[0] != Marker || _copy[1] != (int)id || length > StoreMap.Capacity(id)) return CopyState.Damaged;
        int pages = (HeaderBytes + length + StoreMap.PageBytes - 1) / StoreMap.PageBytes;
        for (int page = 1; page < pages; page++)
        {
            if (!_memory.ReadPage(_writer.Spares.Where(first + page), _copy, page * StoreMap.PageBytes)) return CopyState.NoAnswer;
        }
        uint crc = CrcOf(_copy, length);
        long sum = crc;
        _bytes.Restart(_copy, HeaderBytes);
        _bytes.Skip(CrcAt);
        return _bytes.Take(4, 0, 0xFFFFFFFFL, 0) == sum ? CopyState.Good : CopyState.Damaged;
    }

    private static uint CrcOf(byte[] copy, int length)
    {
        uint state = Crc.Add32(Crc.Start32, copy, 0, CrcAt);
        return Crc.Finish32(Crc.Add32(state, copy, HeaderBytes, length));
    }

    private static int LengthOf(byte[] copy) => copy[4] | (copy[5] << 8);

    private long SequenceOf(byte[] copy)
    {
        _bytes.Restart(copy, CrcAt);
        _bytes.Skip(6);
        return _bytes.Take(4, 0, 0xFFFFFFFFL, 0);
    }
}

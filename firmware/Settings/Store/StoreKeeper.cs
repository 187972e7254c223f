using Intervalometer.Core.Link;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Settings.Store;

/// <summary>
/// Stores the settings, the filters, the camera, the place with its tide, the last fatal error, and the frames in the memory. The panel
/// thread calls it. One call makes at most one small transfer, except for <see cref="Load"/>. Nothing is lost when no call comes for a
/// while, because changes are found by comparison with what was stored.
/// </summary>
public sealed partial class StoreKeeper
{
    /// <summary>Settings are saved when they have not been changed for this long, µs. The way-back alarm is saved at once, even in a run.</summary>
    public const long CalmUs = 1_500_000;

    private const long LookUs = 1_000_000;
    private const long AgainUs = 5_000_000;
    private const int LogJob = 100;
    private const int TableJob = 101;
    private const int WipeJob = 102;
    private const int NoJob = 0;

    private readonly PageWriter _writer;
    private readonly StoredForms _forms;
    private readonly FrameNoter _frames;
    private readonly RunLink _link;
    private readonly BoxHealth _health;
    private readonly long[] _storedSum = new long[StoreMap.Records + 1];
    private readonly int[] _storedLength = new int[StoreMap.Records + 1];
    // This is the writer's own buffer, so a record is encoded, read and compared only while the writer is idle.
    private readonly byte[] _changed;
    private int _changedLength;
    private long _changedSum;
    private int _job;
    private bool _loaded;
    private long _triedUs;
    private long _lookedUs;
    private long _notBeforeUs;

    /// <summary>Creates the keeper without reading anything yet. The present settings count as unchanged.</summary>
    /// <param name="memory">The memory.</param>
    /// <param name="settings">The settings of the camera side that are stored.</param>
    /// <param name="shore">The settings of the shore side that are stored, and the time of day.</param>
    /// <param name="link">The source of the frames.</param>
    /// <param name="health">Where trouble is reported, and the fatal errors that are stored.</param>
    public StoreKeeper(IPageMemory memory, BoxSettings settings, ShoreDesk shore, RunLink link, BoxHealth health)
    {
        _writer = new PageWriter(memory);
        _changed = _writer.Buffer;
        Records = new RecordStore(memory, _writer);
        Logbook = new Logbook(memory, _writer);
        _forms = new StoredForms(settings, shore, health, _changed);
        _frames = new FrameNoter(Logbook, settings, link, shore);
        _link = link;
        _health = health;
        for (int i = 1; i <= StoreMap.Records; i++) Remember(i, _forms.Encode(i, _changed));
    }

    /// <summary>The records.</summary>
    public RecordStore Records { get; }

    /// <summary>The frames.</summary>
    public Logbook Logbook { get; }

    /// <summary>Through this object a screen asks for the frames from before the box was switched on; null when no screen does.</summary>
    public KeptFrames? Earlier { get; set; }

    /// <summary>True when the memory has been read.</summary>
    public bool Loaded => _loaded;

    /// <summary>How many frames since power-on came too fast to be written.</summary>
    public int FramesLost => _frames.Lost;

    /// <summary>True when nothing waits to be written.</summary>
    public bool Settled => _loaded && !_writer.Busy && _job == NoJob && _frames.Done && !Logbook.Wiping && !_writer.Spares.Unkept && FindChange() == NoJob;

    /// <summary>
    /// Reads everything in the memory into the settings, which takes about 130 ms at 400 kHz. What a person has changed since the first call
    /// stays as it is.
    /// </summary>
    public void Load(long nowUs)
    {
        if (_triedUs == 0) _forms.Begin();
        _triedUs = nowUs + 1;
        // The logbook comes first, because it knows which pages replace others.
        bool silent = Logbook.Scan() == RecordStatus.NoAnswer;
        for (int i = 1; i <= StoreMap.Records && !silent; i++) silent = Records.Find((RecordId)i, StoredForms.Version(i)) == RecordStatus.NoAnswer;
        if (silent)
        {
            _health.Memory = MemoryTrouble.Silent;
            return;
        }
        _frames.Session = (Logbook.LastSession + 1) % LogEntry.Sessions;
        for (int i = 1; i <= (int)RecordId.Camera; i++) Apply(i);
        Apply((int)RecordId.Fault);
        ApplyPlace();
        _loaded = true;
        Earlier?.Counted(Logbook, _frames.Kept);
        _health.Memory = Judge();
    }

    /// <summary>Does one small step with at most one transfer of a page.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="edgeFar">True when no line edge is near and the bus may be used.</param>
    /// <param name="calmUs">For how long no button has been touched, µs.</param>
    public void Step(long nowUs, bool edgeFar, long calmUs)
    {
        _health.FramesNotKept = _frames.Lost + (_health.MemoryKeepsNothing ? _frames.Waiting : 0);
        if (!edgeFar) return;
        if (!_loaded)
        {
            if (!_link.Busy && nowUs - _triedUs >= AgainUs) Load(nowUs);
            return;
        }
        if (_health.StartAfresh && !_link.Busy && !_writer.Busy) ReleaseAll();
        if (_writer.Busy)
        {
            _writer.Step(nowUs);
            if (_writer.State == PageWriterState.Silent) _health.Memory = MemoryTrouble.Silent;
            return;
        }
        if (_job != NoJob) Finish(nowUs);
        else if (nowUs >= _notBeforeUs) Begin(nowUs, calmUs);
        if (_resting != 0 && nowUs >= _restUntilUs) _resting = 0;
    }

    // Begins the job that is most urgent.
    private void Begin(long nowUs, long calmUs)
    {
        if (_writer.Spares.Unkept)
        {
            SaveTable();
            return;
        }
        if (_forms.AlarmUnkept && Changed((int)RecordId.Site))
        {
            Save((int)RecordId.Site);
            return;
        }
        if (!_frames.Done && !Logbook.Held && _frames.Begin(nowUs))
        {
            _job = LogJob;
            return;
        }
        if (_link.Busy) return;
        if (Earlier != null && Earlier.Waits)
        {
            Earlier.Read(Logbook, _frames.Kept);
            return;
        }
        if (Logbook.Wiping)
        {
            if (Logbook.TryWipe()) _job = WipeJob;
            return;
        }
        if (calmUs < CalmUs || nowUs - _lookedUs < LookUs) return;
        _lookedUs = nowUs;
        int changed = FindChange();
        if (changed != NoJob) Save(changed);
    }

    private MemoryTrouble Judge()
    {
        bool cut = false;
        bool damaged = Logbook.Status == RecordStatus.Damaged;
        bool newer = Logbook.Status == RecordStatus.Newer;
        for (int i = 1; i <= StoreMap.Records; i++)
        {
            RecordStatus status = Records.Status((RecordId)i);
            damaged |= status == RecordStatus.Damaged;
            newer |= status == RecordStatus.Newer;
            cut |= status == RecordStatus.OneCopy || status == RecordStatus.Unfinished;
        }
        return newer ? MemoryTrouble.Newer : damaged ? MemoryTrouble.Damaged : cut ? MemoryTrouble.CutOff : Sound;
    }

    // The stored form is remembered, so that later changes can be found. A change that a person has made before this moment wins.
    private void Apply(int id)
    {
        bool untouched = !Differs(id, _forms.Encode(id, _changed));
        int length = Read(id);
        if (length < 0 || !untouched) return;
        if (!_forms.Decode((RecordId)id, _changed, length)) Records.Hold((RecordId)id);
        else Remember(id, _forms.Encode(id, _changed));
    }

    private void ApplyPlace()
    {
        int siteId = (int)RecordId.Site, tideId = (int)RecordId.Tide;
        int length = Read(siteId);
        SiteRecord? site = length < 0 ? null : _forms.ReadSite(_changed, length);
        if (length >= 0 && site == null) Records.Hold(RecordId.Site);
        length = Read(tideId);
        TideRecord? tide = length < 0 ? null : _forms.ReadTide(_changed, length);
        if (length >= 0 && tide == null) Records.Hold(RecordId.Tide);
        bool orphan = Records.Held(RecordId.Site) && tide != null && tide.Sum != 0;
        if (!_forms.PutBack(site, tide) || orphan) Records.Hold(RecordId.Tide);
        if (site != null && Records.Held(RecordId.Tide)) _forms.HeldTideSum = site.TideSum;
        // A place that was handed in is stored from now on. Place and tide must be stored together.
        if (!_forms.HasPlace) return;
        if (site == null) _storedLength[siteId] = 0;
        if (tide == null) _storedLength[tideId] = 0;
    }

    // Copies a sound record to _changed and remembers it. Returns the number of bytes; -1 when there is none.
    private int Read(int id)
    {
        RecordStatus status = Records.Status((RecordId)id);
        if (status != RecordStatus.Good && status != RecordStatus.OneCopy) return -1;
        int length = Records.Load((RecordId)id, _changed);
        if (length < 0) Records.Hold((RecordId)id);
        else Remember(id, length);
        return length;
    }

    // Only the length and a hash of what is stored are remembered, because a copy of each record would cost 1.2 kB of the heap.
    private void Remember(int id, int length)
    {
        _storedLength[id] = length;
        _storedSum[id] = SumOf(_changed, length);
    }

    private bool Differs(int id, int length) => length != _storedLength[id] || SumOf(_changed, length) != _storedSum[id];

    // FNV-1a of 64 bits (draft-eastlake-fnv, "The FNV Non-Cryptographic Hash Algorithm", from memory): two different records have the same
    // hash once in 10^19.
    private static long SumOf(byte[] bytes, int length)
    {
        ulong sum = 0xCBF29CE484222325;
        for (int i = 0; i < length; i++) sum = (sum ^ bytes[i]) * 0x100000001B3;
        long signed = (long)sum;
        return signed;
    }

    // Returns true when a record differs from what is stored. Its bytes are then in _changed.
    private bool Changed(int id)
    {
        if (Records.Held((RecordId)id) || (_resting & (1 << id)) != 0) return false;
        bool fresh = Records.NeedsFreshCopy((RecordId)id);
        if (!fresh && _forms.Same(id)) return false;
        _changedLength = _forms.Encode(id, _changed);
        _changedSum = SumOf(_changed, _changedLength);
        if (fresh || _changedLength != _storedLength[id] || _changedSum != _storedSum[id]) return true;
        _forms.Kept(id);
        return false;
    }

    // The first record that differs from what is stored; NoJob when none does.
    private int FindChange()
    {
        for (int i = 1; i <= StoreMap.Records; i++)
        {
            if (Changed(i)) return i;
        }
        return NoJob;
    }

    private void Save(int id)
    {
        if (Records.TrySave((RecordId)id, StoredForms.Version(id), _changed, _changedLength)) _job = id;
    }

    private void Finish(long nowUs)
    {
        int job = _job;
        _job = NoJob;
        if (_writer.State != PageWriterState.Done)
        {
            NotTaken(job, nowUs);
            return;
        }
        _failures = 0;
        if (job == LogJob)
        {
            _frames.Written();
            Earlier?.Counted(Logbook, _frames.Kept);
        }
        else if (job == TableJob) _writer.Spares.Written();
        else if (job != WipeJob)
        {
            Records.Written((RecordId)job);
            _storedLength[job] = _changedLength;
            _storedSum[job] = _changedSum;
            _forms.Kept(job);
            // Any other change is saved at once, because place and tide must be stored together.
            _lookedUs = nowUs - LookUs;
        }
        if (!_health.MemoryHeld) _health.Memory = Sound;
    }

    private void ReleaseAll()
    {
        for (int i = 1; i <= StoreMap.Records; i++) Records.Release((RecordId)i);
        Logbook.Release();
        _forms.HeldTideSum = -1;
        _health.StartAfresh = false;
        _health.Memory = Sound;
    }
}

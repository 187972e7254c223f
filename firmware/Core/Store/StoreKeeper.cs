using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Panel;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Store;

/// <summary>
/// Keeps the settings, the filters, the camera and the frames in the memory. Called by the panel thread; a call makes one
/// small transfer at the most, except for <see cref="Load"/>. Nothing is lost when calls stay away: what has changed is found
/// by comparing it with what was stored.
/// </summary>
public sealed class StoreKeeper
{
    /// <summary>Settings must have been left alone for this long before they are saved, µs.</summary>
    public const long CalmUs = 1_500_000;

    private const long LookUs = 1_000_000;
    private const long AgainUs = 5_000_000;
    private const int LogJob = 100;
    private const int NoJob = 0;

    private readonly PageWriter _writer;
    private readonly BoxSettings _settings;
    private readonly RunDesk _desk;
    private readonly BoxHealth _health;
    private readonly byte[][] _stored = new byte[StoreMap.Records + 1][];
    private readonly int[] _storedLength = new int[StoreMap.Records + 1];
    private readonly byte[][] _changed = new byte[StoreMap.Records + 1][];
    private readonly int[] _changedLength = new int[StoreMap.Records + 1];
    private readonly int[] _version = { 0, SettingsRecord.Version, KitRecord.Version, CameraRecord.Version, 0, 0 };
    private readonly Bytes _bytes = new Bytes(new byte[0], 0);
    private readonly LogEntry _first = new LogEntry();
    private readonly LogEntry _second = new LogEntry();
    private long _stoppedUs = -1;
    private long _stoppedExposureUs;
    private int _stoppedFrame = -1;
    private int _noted;
    private int _pendingFrames;
    private int _session;
    private int _job;
    private bool _loaded;
    private long _triedUs;
    private long _lookedUs;
    private long _notBeforeUs;

    /// <summary>Creates the keeper; reads nothing yet.</summary>
    /// <param name="memory">The memory.</param>
    /// <param name="settings">What is kept.</param>
    /// <param name="desk">Where frames come from.</param>
    /// <param name="health">Where trouble is told.</param>
    public StoreKeeper(IPageMemory memory, BoxSettings settings, RunDesk desk, BoxHealth health)
    {
        _writer = new PageWriter(memory);
        Records = new RecordStore(memory, _writer);
        Logbook = new Logbook(memory, _writer);
        _settings = settings;
        _desk = desk;
        _health = health;
        for (int i = 1; i <= StoreMap.Records; i++)
        {
            _stored[i] = new byte[StoreMap.Capacity((RecordId)i)];
            _changed[i] = new byte[StoreMap.Capacity((RecordId)i)];
            _changedLength[i] = -1;
        }
    }

    /// <summary>The records.</summary>
    public RecordStore Records { get; }

    /// <summary>The frames kept.</summary>
    public Logbook Logbook { get; }

    /// <summary>The board's clock time 0 as seconds since 2000-01-01 00:00 UTC; 0 while the time of day is not known.</summary>
    public long UtcSecondsAtZero { get; set; }

    /// <summary>Frames that came too fast to be noted since power-on.</summary>
    public int FramesLost { get; private set; }

    /// <summary>True when nothing waits to be written.</summary>
    public bool Settled => _loaded && !_writer.Busy && _job == NoJob && _noted == _desk.Log.Total && FindChange() == NoJob;

    /// <summary>
    /// Reads everything that the memory holds into the settings; about 130 ms at 400 kHz. What a person has changed since
    /// power-on stays as it is.
    /// </summary>
    public void Load(long nowUs)
    {
        bool late = _triedUs > 0;
        _triedUs = nowUs + 1;
        for (int i = 1; i <= StoreMap.Records && !late; i++) Remember(i);
        for (int i = 1; i <= StoreMap.Records; i++)
        {
            if (Records.Find((RecordId)i, KnownVersion(i)) == RecordStatus.NoAnswer)
            {
                _health.Memory = MemoryTrouble.Silent;
                return;
            }
        }
        if (Logbook.Scan() == RecordStatus.NoAnswer)
        {
            _health.Memory = MemoryTrouble.Silent;
            return;
        }
        _session = (Logbook.LastSession + 1) % LogEntry.Sessions;
        for (int i = 1; i <= (int)RecordId.Camera; i++) Apply(i);
        _loaded = true;
        _health.Memory = Judge();
    }

    /// <summary>Reads an opaque record. The number of bytes; -1 when there is none.</summary>
    /// <param name="id"><see cref="RecordId.Site"/> or <see cref="RecordId.Tide"/>.</param>
    /// <param name="into">As large as <see cref="StoreMap.Capacity"/> says.</param>
    public int LoadOpaque(RecordId id, byte[] into) => _loaded && !Records.Held(id) ? Records.Load(id, into) : -1;

    /// <summary>Keeps an opaque record as soon as there is time. False when it is too long or the memory holds something that must stay.</summary>
    /// <param name="id"><see cref="RecordId.Site"/> or <see cref="RecordId.Tide"/>.</param>
    /// <param name="payload">The bytes; copied.</param>
    /// <param name="length">How many.</param>
    public bool SaveOpaque(RecordId id, byte[] payload, int length)
    {
        int i = (int)id;
        if (length < 0 || length > _changed[i].Length || Records.Held(id) || _job == i) return false;
        for (int k = 0; k < length; k++) _changed[i][k] = payload[k];
        _changedLength[i] = length;
        return true;
    }

    /// <summary>One small step: at most one transfer of a page.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="edgeFar">True when no line edge is near and the bus may be used.</param>
    /// <param name="calmUs">How long no button has been touched, µs.</param>
    public void Step(long nowUs, bool edgeFar, long calmUs)
    {
        NoteStop(nowUs);
        if (!edgeFar) return;
        if (!_loaded)
        {
            if (!_desk.Busy && nowUs - _triedUs >= AgainUs) Load(nowUs);
            return;
        }
        if (_health.StartAfresh && !_desk.Busy) ReleaseAll();
        if (_writer.Busy)
        {
            _writer.Step(nowUs);
            if (_writer.State == PageWriterState.Silent) _health.Memory = MemoryTrouble.Silent;
            return;
        }
        if (_job != NoJob)
        {
            Finish(nowUs);
            return;
        }
        if (nowUs < _notBeforeUs) return;
        if (_noted < _desk.Log.Total && !Logbook.Held)
        {
            BeginFrames(nowUs);
            if (_job != NoJob) return;
        }
        if (_desk.Busy || calmUs < CalmUs || nowUs - _lookedUs < LookUs) return;
        _lookedUs = nowUs;
        int changed = FindChange();
        if (changed == NoJob) return;
        if (Records.TrySave((RecordId)changed, _version[changed], _changed[changed], _changedLength[changed])) _job = changed;
    }

    private static int KnownVersion(int id) => id switch
    {
        (int)RecordId.Settings => SettingsRecord.Version,
        (int)RecordId.Kit => KitRecord.Version,
        (int)RecordId.Camera => CameraRecord.Version,
        _ => 0,
    };

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
        return newer ? MemoryTrouble.Newer : damaged ? MemoryTrouble.Damaged : cut ? MemoryTrouble.CutOff : MemoryTrouble.None;
    }

    // What is stored is remembered, so that a change shows; a person's change made before this moment wins.
    private void Apply(int id)
    {
        RecordId record = (RecordId)id;
        RecordStatus status = Records.Status(record);
        if (status != RecordStatus.Good && status != RecordStatus.OneCopy) return;
        int length = Records.Load(record, _changed[id]);
        if (length < 0)
        {
            Records.Hold(record);
            return;
        }
        bool untouched = !Differs(id, _changedCopy, Encode(id, _changedCopy));
        for (int k = 0; k < length; k++) _stored[id][k] = _changed[id][k];
        _storedLength[id] = length;
        if (!untouched) return;
        _bytes.Restart(_stored[id], length);
        if (!Decode(record)) Records.Hold(record);
        else Remember(id);
    }

    private readonly byte[] _changedCopy = new byte[256];

    private bool Decode(RecordId id)
    {
        if (id == RecordId.Settings) return SettingsRecord.Take(_settings, _bytes);
        if (id == RecordId.Camera) return CameraRecord.Take(_settings.Camera, _bytes);
        FilterKit? kit = KitRecord.Take(_bytes);
        if (kit == null) return false;
        _settings.Kit = kit;
        _settings.Solve();
        return true;
    }

    private int Encode(int id, byte[] into)
    {
        _bytes.Restart(into, StoreMap.Capacity((RecordId)id));
        if (id == (int)RecordId.Settings) SettingsRecord.Put(_settings, _bytes);
        else if (id == (int)RecordId.Kit) KitRecord.Put(_settings.Kit, _bytes);
        else if (id == (int)RecordId.Camera) CameraRecord.Put(_settings.Camera, _bytes);
        return _bytes.At;
    }

    private void Remember(int id)
    {
        if (id <= (int)RecordId.Camera) _storedLength[id] = Encode(id, _stored[id]);
    }

    private bool Differs(int id, byte[] data, int length)
    {
        if (length != _storedLength[id]) return true;
        for (int i = 0; i < length; i++)
        {
            if (data[i] != _stored[id][i]) return true;
        }
        return false;
    }

    // The first record that differs from what is stored, its bytes in _changed; NoJob when none does.
    private int FindChange()
    {
        for (int i = 1; i <= StoreMap.Records; i++)
        {
            if (Records.Held((RecordId)i)) continue;
            if (i <= (int)RecordId.Camera)
            {
                _changedLength[i] = Encode(i, _changed[i]);
                if (Records.NeedsFreshCopy((RecordId)i) || Differs(i, _changed[i], _changedLength[i])) return i;
            }
            else if (_changedLength[i] >= 0)
            {
                return i;
            }
        }
        return NoJob;
    }

    private void Finish(long nowUs)
    {
        int job = _job;
        _job = NoJob;
        if (_writer.State != PageWriterState.Done)
        {
            _health.Memory = MemoryTrouble.Refuses;
            _notBeforeUs = nowUs + AgainUs;
            return;
        }
        if (job == LogJob)
        {
            Logbook.Written();
            _noted += _pendingFrames;
        }
        else
        {
            Records.Written((RecordId)job);
            for (int i = 0; i < _changedLength[job]; i++) _stored[job][i] = _changed[job][i];
            _storedLength[job] = _changedLength[job];
            _changedLength[job] = -1;
        }
        if (!_health.MemoryHeld) _health.Memory = MemoryTrouble.None;
    }

    private void ReleaseAll()
    {
        for (int i = 1; i <= StoreMap.Records; i++) Records.Release((RecordId)i);
        Logbook.Release();
        _health.StartAfresh = false;
        _health.Memory = MemoryTrouble.None;
    }

    // A frame that was stopped lasted until the stop, and not as long as was planned.
    private void NoteStop(long nowUs)
    {
        if (_desk.State != RunState.Stopped && _desk.State != RunState.Failed)
        {
            _stoppedUs = -1;
            return;
        }
        if (_stoppedUs >= 0) return;
        _stoppedUs = nowUs;
        FrameLog log = _desk.Log;
        if (log.Total == 0 || log.LastEndUs <= nowUs || log.LastStartUs >= nowUs) return;
        _stoppedFrame = log.Total - 1;
        _stoppedExposureUs = nowUs - log.LastStartUs;
    }

    private void BeginFrames(long nowUs)
    {
        FrameLog log = _desk.Log;
        while (!log.Has(_noted) && _noted < log.Total)
        {
            _noted++;
            FramesLost++;
        }
        if (!Fill(_noted, nowUs, _first)) return;
        bool two = Fill(_noted + 1, nowUs, _second);
        _pendingFrames = two ? 2 : 1;
        if (Logbook.TryAppend(_first, two ? _second : null)) _job = LogJob;
    }

    // False while the frame is not over yet.
    private bool Fill(int index, long nowUs, LogEntry entry)
    {
        FrameLog log = _desk.Log;
        if (!log.Has(index)) return false;
        long start = log.StartUs(index);
        entry.CutShort = index == _stoppedFrame;
        entry.ExposureUs = entry.CutShort ? _stoppedExposureUs : log.ExposureUs(index);
        if (start + entry.ExposureUs > nowUs) return false;
        entry.HasUtc = UtcSecondsAtZero > 0;
        entry.StartUtcSeconds = UtcSecondsAtZero + start / 1_000_000;
        entry.Session = _session;
        entry.StartTenths = (start + 50_000) / 100_000;
        entry.StopsHundredths = (int)(_settings.Kit.EffectiveStops.Value * 100 + 0.5);
        double light = _settings.Base.Ev100 * 100;
        entry.LightHundredths = (int)(light < 0 ? light - 0.5 : light + 0.5);
        entry.WaveThousandths = WaveAt(start);
        return true;
    }

    private int WaveAt(long atUs)
    {
        WaveRhythm rhythm = _desk.Waves.Rhythm;
        if (!rhythm.Ready) return -1;
        double period = rhythm.PeriodSeconds * 1e6;
        if (period <= 0) return -1;
        double into = Elementary.Wrap(atUs - rhythm.LastMarkUs, period);
        return (int)(into / period * 999.999);
    }
}

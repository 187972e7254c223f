using Intervalometer.Coast.Tide;
using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Settings.Store;

/// <summary>Encodes the settings as the bytes of each record, and decodes them.</summary>
/// <remarks>
/// To encode and compare the place and the tide takes about 12 thousand IL instructions (by counting). So they are looked at only when a
/// number that grows with every change has grown, or when a switch was moved. Encoding allocates nothing.
/// </remarks>
internal sealed class StoredForms
{
    private readonly BoxSettings _settings;
    private readonly ShoreDesk _shore;
    private readonly BoxHealth _health;
    private readonly Bytes _bytes = new Bytes(new byte[0], 0);
    private readonly byte[] _scratch;
    private readonly Snapshot _written = new Snapshot();
    private readonly Snapshot _atStart = new Snapshot();
    private readonly Snapshot _keptSite = new Snapshot();
    private readonly Snapshot _keptTide = new Snapshot();
    private TideSource? _summed;
    private long _sum;

    /// <summary>Creates the forms.</summary>
    /// <param name="settings">The settings of the camera side that are stored.</param>
    /// <param name="shore">The settings of the shore side that are stored.</param>
    /// <param name="health">The state of the box, of which the fault note is stored.</param>
    /// <param name="scratch">The keeper's buffer, which <see cref="Encode"/> and <see cref="PutBack"/> overwrite.</param>
    public StoredForms(BoxSettings settings, ShoreDesk shore, BoxHealth health, byte[] scratch)
    {
        _health = health;
        _scratch = scratch;
        _settings = settings;
        _shore = shore;
    }

    /// <summary>The checksum of the tide that the place's record keeps while the tide's record must stay as it is; -1 to work it out from the tide in use.</summary>
    public long HeldTideSum { get; set; } = -1;

    /// <summary>True when the place has been changed since <see cref="Begin"/>.</summary>
    public bool PlaceTouched => _atStart.Revision != _shore.Settings.Revision;

    /// <summary>True when a switch has been moved since <see cref="Begin"/>.</summary>
    public bool SwitchesTouched => !_atStart.SameSwitches(_shore);

    /// <summary>True when the alarm is not as it was last stored.</summary>
    public bool AlarmUnkept => _keptSite.Alarm != _shore.AlarmOn;

    /// <summary>True when the place has a tide of its own, wherever it came from.</summary>
    public bool HasPlace => _shore.Settings.HasGivenTide;

    /// <summary>The highest version of a record that this firmware understands.</summary>
    public static int Version(int id) => id switch
    {
        (int)RecordId.Settings => SettingsRecord.Version,
        (int)RecordId.Kit => KitRecord.Version,
        (int)RecordId.Camera => CameraRecord.Version,
        (int)RecordId.Site => SiteRecord.Version,
        (int)RecordId.Fault => FaultRecord.Version,
        _ => TideRecord.Version,
    };

    /// <summary>Says that every change from now on was made by a person.</summary>
    public void Begin() => _atStart.Take(_shore);

    /// <summary>Encodes a record. Returns the number of bytes.</summary>
    public int Encode(int id, byte[] into)
    {
        long sum = id == (int)RecordId.Site ? TideSum() : 0;
        _bytes.Restart(into, StoreMap.Capacity((RecordId)id));
        if (id == (int)RecordId.Settings) SettingsRecord.Put(_settings, _bytes);
        else if (id == (int)RecordId.Kit) KitRecord.Put(_settings.Kit, _bytes);
        else if (id == (int)RecordId.Camera)
        {
            CameraRecord.Put(_settings.Camera, _bytes);
            CameraRecord.Put(_settings.Lens, _bytes);
        }
        else if (id == (int)RecordId.Site) SiteRecord.Put(_shore, sum, _bytes);
        else if (id == (int)RecordId.Fault) FaultRecord.Put(_health.Fault, _bytes);
        else TideRecord.Put(_shore.Settings, _bytes);
        if (id == (int)RecordId.Site || id == (int)RecordId.Tide) _written.Take(_shore);
        return _bytes.At;
    }

    /// <summary>Notes that the record which was encoded last is what the memory holds.</summary>
    public void Kept(int id)
    {
        if (id == (int)RecordId.Site) _keptSite.Copy(_written);
        else if (id == (int)RecordId.Tide) _keptTide.Copy(_written);
    }

    /// <summary>True when nothing can have changed since the record was stored.</summary>
    public bool Same(int id) => id switch
    {
        (int)RecordId.Site => _keptSite.Same(_shore),
        (int)RecordId.Tide => _keptTide.Same(_shore),
        _ => false,
    };

    /// <summary>Decodes the settings, the kit, the camera or the fault. Returns false when the record is not valid.</summary>
    public bool Decode(RecordId id, byte[] data, int length)
    {
        _bytes.Restart(data, length);
        if (id == RecordId.Settings) return SettingsRecord.Take(_settings, _bytes);
        if (id == RecordId.Fault) return FaultRecord.Take(_health.Fault, _bytes);
        if (id == RecordId.Camera) return CameraRecord.Take(_settings.Camera, _bytes) && CameraRecord.Take(_settings.Lens, _bytes);
        FilterKit? kit = KitRecord.Take(_bytes);
        if (kit == null) return false;
        _settings.Kit = kit;
        _settings.Solve();
        return true;
    }

    /// <summary>Reads the record of the place. Returns null when it is not valid.</summary>
    public SiteRecord? ReadSite(byte[] data, int length)
    {
        _bytes.Restart(data, length);
        return SiteRecord.Take(_bytes);
    }

    /// <summary>Reads the record of the tide. Returns null when it is not valid.</summary>
    public TideRecord? ReadTide(byte[] data, int length)
    {
        _bytes.Restart(data, length);
        return TideRecord.Take(data, _bytes);
    }

    /// <summary>
    /// Restores the place, the switches and the tide, each unless a person has changed it. A place that was handed in stays when it was made later
    /// than the stored one, or when none is stored.
    /// </summary>
    /// <param name="site">The record of the place; null when there is none, or when it cannot be read.</param>
    /// <param name="tide">The record of the tide; null in the same cases.</param>
    /// <returns>False when the tide's record belongs to another place and must stay as it is.</returns>
    public bool PutBack(SiteRecord? site, TideRecord? tide)
    {
        if (site != null && !SwitchesTouched) site.UseSwitches(_shore);
        ShoreSettings settings = _shore.Settings;
        if (PlaceTouched || (site == null ? settings.HasGivenTide : site.Stamp < settings.Stamp)) return true;
        long wanted = site == null ? 0 : site.TideSum;
        bool own = TideSum() == wanted;
        if (site != null) site.UsePlace(settings);
        bool fits = tide == null || tide.Sum == wanted;
        // A power cut between saving the tide and saving the place leaves the earlier tide. The place in the firmware may then have the right one.
        if (tide != null && (fits || own)) tide.Use(settings, fits);
        if (!own && (tide == null || !fits)) settings.Give(null);
        return fits || (own && site != null);
    }

    private long TideSum()
    {
        if (HeldTideSum >= 0) return HeldTideSum;
        TideSource? given = _shore.Settings.GivenTide;
        if (given == null) return 0;
        if (given == _summed) return _sum;
        _summed = given;
        _sum = TideRecord.SumOf(given, _scratch, _bytes);
        return _sum;
    }

    /// <summary>The values on which a record of the shore side depends, which are cheap to compare.</summary>
    private sealed class Snapshot
    {
        private bool _dawn;
        private int _spray;

        public bool Set { get; private set; }

        public int Revision { get; private set; }

        public bool Alarm { get; private set; }

        public void Take(ShoreDesk shore)
        {
            Set = true;
            Revision = shore.Settings.Revision;
            Alarm = shore.AlarmOn;
            _dawn = shore.Settings.DawnOn;
            _spray = shore.Settings.SprayMinutes;
        }

        public void Copy(Snapshot other)
        {
            Set = other.Set;
            Revision = other.Revision;
            Alarm = other.Alarm;
            _dawn = other._dawn;
            _spray = other._spray;
        }

        public bool SameSwitches(ShoreDesk shore) => Alarm == shore.AlarmOn && _dawn == shore.Settings.DawnOn && _spray == shore.Settings.SprayMinutes;

        public bool Same(ShoreDesk shore) => Set && Revision == shore.Settings.Revision && SameSwitches(shore);
    }
}

using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;

namespace Intervalometer.Settings.Shore;

/// <summary>
/// Keeps everything up to date that the shore cards show: the day's tide curve, the way back, the sun, the mornings, the alarm, and the reminder
/// to wipe the lens. The panel thread calls <see cref="Pass"/>. Heavy work is done one small step a pass, and only far from any edge.
/// </summary>
/// <remarks>
/// While a run is on, only the way back is worked on, which allocates nothing. The most costly step takes 0.12 s on the device by estimate
/// (tests/Budgets counts its instructions), which is less than <see cref="QuietUs"/>.
/// </remarks>
public sealed class ShoreDesk
{
    /// <summary>No step begins when an edge is nearer than this, µs.</summary>
    public const long QuietUs = 250_000;

    /// <summary>How many minutes before the leave-by time the alarm first sounds.</summary>
    public const int PackUpSoonMinutes = 30;

    /// <summary>How many minutes before the leave-by time the alarm sounds again as a warning, because it is time to pack up.</summary>
    public const int WarningMinutes = 10;

    /// <summary>The step of the day's tide curve, seconds.</summary>
    public const int CurveStepSeconds = 600;

    /// <summary>How many points the day's curve has from one local midnight to the next.</summary>
    public const int DayPoints = 145;

    private const int CurvePoints = 240;
    private const int HorizonHours = 18;
    private const long SettleUs = 300_000;
    private const long WayEveryUs = 300_000_000;
    private const long WayPatienceUs = 30_000_000;
    private const long WipeShownUs = 30_000_000;
    private const int SearchDays = 60;
    private const int SearchKept = 8;

    // How many bytes a part takes while it works: its arrays and objects by counting, and as much again for a walker over 37 constituents.
    private const int SearchBytes = 4_000;
    private const int CurveBytes = 2_500;

    // When there is nothing left to give up, the work rests for this long before it is tried again, µs.
    private const long ShortRestUs = 10_000_000;

    private readonly BoxSettings _box;
    private TideCurve? _curve;
    private readonly SunSheet _sun = new SunSheet();
    private WayBackAlarm _alarm = new WayBackAlarm(PackUpSoonMinutes, WarningMinutes);
    private CoastPlace _place;
    private WayBack _way;
    private SprayTimer _spray;
    private Mornings? _search;
    private int _revision = -1;
    private int _seenRevision = -1;
    private int _clockRevision = -1;
    private long _changedUs;
    private long _secondUs = long.MinValue;
    private long _nowUs;
    private long _wayAskedUs;
    private bool _wayFresh;
    private int _curveDay = -1;
    private int _sprayMinutes = -1;
    private long _wipeUs = -1;
    private bool _searchWanted;
    private bool _restored;
    private long _restUs;

    /// <summary>Creates the shore side of a box.</summary>
    /// <param name="settings">The settings of the place.</param>
    /// <param name="box">The exposure settings, for the dawn's correction.</param>
    public ShoreDesk(ShoreSettings settings, BoxSettings box)
    {
        Settings = settings;
        _box = box;
        _place = settings.Place;
        _way = new WayBack(_place, HorizonHours);
        _spray = new SprayTimer(0, 0);
        Dawn = new DawnLight(box);
    }

    /// <summary>The settings of the place.</summary>
    public ShoreSettings Settings { get; }

    /// <summary>The time of day.</summary>
    public ShoreClock Clock { get; } = new ShoreClock();

    /// <summary>The dawn's correction.</summary>
    public DawnLight Dawn { get; }

    /// <summary>The place for which everything here was worked out.</summary>
    public CoastPlace Place => _place;

    /// <summary>The parts that were given up because the heap ran short.</summary>
    public SpareParts Spare { get; } = new SpareParts();

    /// <summary>
    /// Today's tide from local midnight on: <see cref="DayPoints"/> for the day, and half a day more for the turns of the tide. It is null until
    /// it has been worked out, and after it was given up.
    /// </summary>
    public TideCurve? Curve => CurveReady ? _curve : null;

    /// <summary>True when the curve has been worked out for this place and contains the present time, which need not be so after the clock was moved.</summary>
    public bool CurveReady => _curve != null && _curveDay >= 0 && _curve.Done && Now >= _curve.TimeAt(0) && Now <= _curve.TimeAt(_curve.Count - 1);

    /// <summary>Today's sun.</summary>
    public SunSheet Sun => _sun;

    /// <summary>The last finished result for the way back. It is uncertain before the first, and for a place without a low point.</summary>
    public WayBackResult Way => _wayFresh && _place.PathCount > 0 ? _way.Result : new WayBackResult(WayBackState.Uncertain, new UtcInstant(0), new UtcInstant(0), new UtcInstant(0), -1);

    /// <summary>True when the way back was worked out for the present place and clock.</summary>
    public bool WayReady => _wayFresh;

    /// <summary>The search for mornings; null until one was asked for while the clock was set.</summary>
    public Mornings? Search => _search;

    /// <summary>True when the way-back alarm is switched on.</summary>
    public bool AlarmOn { get; private set; }

    /// <summary>How urgent it is to leave; <see cref="WayBackLevel.Quiet"/> while the alarm is switched off.</summary>
    public WayBackLevel Level => AlarmOn ? _alarm.Level : WayBackLevel.Quiet;

    /// <summary>True when the alarm must be seen and heard.</summary>
    public bool AlarmUp => AlarmOn && _alarm.Sounding;

    /// <summary>True when the clock has been moved since the alarm was switched on.</summary>
    public bool ClockMoved => AlarmOn && _alarm.ClockMoved;

    /// <summary>True when the front of the lens should be wiped and no frame is open.</summary>
    public bool WipeDue { get; private set; }

    /// <summary>How long until the front of the lens should be wiped, µs; 0 when that is due, -1 when the reminder is off.</summary>
    public long WipeInUs(long nowUs) => _spray.LeftUs(nowUs);

    /// <summary>True before civil dawn and after civil dusk, when the place and the time are known.</summary>
    public bool IsNight { get; private set; }

    /// <summary>Grows when something that is shown has changed.</summary>
    public int Version { get; private set; }

    /// <summary>The board's time at the last pass, µs.</summary>
    public long NowUs => _nowUs;

    /// <summary>The time of day at the last pass. It means something only while the clock is set.</summary>
    public UtcInstant Now => Clock.Now(_nowUs);

    /// <summary>Switches the way-back alarm. Whoever switches it on says that the date and time shown are right. From then on a clock that moves raises the alarm.</summary>
    public void SetAlarm(bool on)
    {
        AlarmOn = on;
        _restored = false;
        Version++;
        if (!on) return;
        _alarm = new WayBackAlarm(PackUpSoonMinutes, WarningMinutes);
        if (Clock.IsSet) _alarm.AcceptClock(Now, _nowUs);
        AskWay();
    }

    /// <summary>
    /// Switches the alarm on after a restart of the box before which it was on, although nobody has looked at the clock since.
    /// </summary>
    /// <remarks>
    /// A clock chip that reports that it ran all the while still holds the time that was accepted, so it is accepted as soon as it is read.
    /// While it does not answer, the alarm is up, as for any clock that is not known. A chip that has stopped or holds nonsense, and a time
    /// set by hand since the start, are not the clock that was accepted. Then the alarm is up and stays up, even when the clock runs again,
    /// until a person looks at the time and switches the alarm off and on (<see cref="SetAlarm"/>).
    /// An alarm that was silenced is heard again after a restart.
    /// </remarks>
    public void RestoreAlarm()
    {
        AlarmOn = true;
        _restored = true;
        Version++;
        _alarm = new WayBackAlarm(PackUpSoonMinutes, WarningMinutes);
    }

    /// <summary>Notes that the alarm was seen. It is silent for 5 minutes, or until it becomes more urgent.</summary>
    public void Acknowledge(long nowUs)
    {
        _alarm.Acknowledge(nowUs);
        Version++;
    }

    /// <summary>Notes that somebody has looked at the lens.</summary>
    public void Wiped(long nowUs)
    {
        _spray.Looked(nowUs);
        _wipeUs = -1;
        if (WipeDue) Version++;
        WipeDue = false;
    }

    /// <summary>Asks for the search for mornings, which begins if it has not been done.</summary>
    public void WantMornings() => _searchWanted = true;

    /// <summary>
    /// Frees memory when the heap runs short in the panel thread: gives up the next part and drops everything that belongs to it. Work that was
    /// under way begins again. Returns false when nothing is left to give up; then everything but the way back rests for a while.
    /// </summary>
    public bool GiveUp()
    {
        if (_curve != null && !_curve.Done) _curveDay = -1;
        Version++;
        bool more = Spare.GiveUpNext();
        if (!Spare.Has(SparePart.QuickTide)) _place.Tide.SpareMemory();
        if (!_way.Done || (more && !Spare.Has(SparePart.QuickTide))) _way.Begin(Now, Clock.IsSet);
        if (!more)
        {
            _restUs = _nowUs + ShortRestUs;
            return false;
        }
        if (!Spare.Has(SparePart.Mornings)) _search = null;
        if (!Spare.Has(SparePart.DayCurve)) _curve = null;
        return true;
    }

    /// <summary>Does one pass of the panel thread.</summary>
    /// <param name="nowUs">The board's clock, µs.</param>
    /// <param name="roomUs">The time until the next planned edge, µs.</param>
    /// <param name="running">True while a run is on.</param>
    /// <param name="frameOpen">True while a frame is open.</param>
    public void Pass(long nowUs, long roomUs, bool running, bool frameOpen)
    {
        _nowUs = nowUs;
        if (!running && nowUs >= _restUs) Adopt(nowUs);
        if (Clock.Revision != _clockRevision)
        {
            _clockRevision = Clock.Revision;
            Forget();
        }
        if (_secondUs == long.MinValue || nowUs - _secondUs >= 1_000_000)
        {
            _secondUs = nowUs;
            EverySecond(nowUs);
        }
        Wipe(nowUs, frameOpen);
        if (roomUs >= QuietUs) Work(nowUs, running);
    }

    // A button that is held changes a setting eight times a second, so the work begins only when the setting has come to rest.
    private void Adopt(long nowUs)
    {
        if (_sprayMinutes != Settings.SprayMinutes)
        {
            _sprayMinutes = Settings.SprayMinutes;
            _spray = new SprayTimer(_sprayMinutes * 60, nowUs);
            _wipeUs = -1;
        }
        if (Settings.Revision == _revision) return;
        if (Settings.Revision != _seenRevision)
        {
            _wayFresh = false;
            _changedUs = _seenRevision < 0 ? nowUs - SettleUs : nowUs;
            _seenRevision = Settings.Revision;
        }
        if (nowUs - _changedUs < SettleUs) return;
        CoastPlace place = Settings.Place;
        // The objects that need memory are created first. If that fails, the new place is not taken over, and is tried again later.
        if (!Spare.Has(SparePart.QuickTide)) place.Tide.SpareMemory();
        WayBack way = new WayBack(place, HorizonHours);
        Dawn.MoveTo(place.Position);
        _place = place;
        _way = way;
        _revision = Settings.Revision;
        Forget();
    }

    private void Forget()
    {
        _curveDay = -1;
        _search = null;
        _sun.Begin(_place, Now);
        AskWay();
        Version++;
    }

    private void AskWay()
    {
        _wayFresh = false;
        _wayAskedUs = _nowUs;
        _way.Begin(Now, Clock.IsSet);
    }

    private void EverySecond(long nowUs)
    {
        Dawn.Watch(Clock, Settings.DawnOn, nowUs);
        IsNight = Clock.IsSet && _sun.IsNight(Now.Seconds);
        if (_way.Done && nowUs - _wayAskedUs >= WayEveryUs)
        {
            _wayAskedUs = nowUs;
            _way.Begin(Now, Clock.IsSet);
        }
        if (!AlarmOn) return;
        if (_restored) JudgeClock(nowUs);
        // After a change of place or clock the alarm waits for the first result, but not for long.
        if (!_wayFresh && !_way.Done && nowUs - _wayAskedUs < WayPatienceUs) return;
        bool was = _alarm.Sounding;
        WayBackLevel level = _alarm.Level;
        _alarm.Update(Now, Clock.IsSet, nowUs, Way);
        if (was != _alarm.Sounding || level != _alarm.Level) Version++;
    }

    private void JudgeClock(long nowUs)
    {
        ClockTrust trust = Clock.Trust;
        bool another = Clock.WasSetByHand || trust == ClockTrust.Stopped || trust == ClockTrust.Nonsense;
        if (another) _alarm.Distrust();
        else if (trust == ClockTrust.Chip) _alarm.AcceptClock(Clock.Now(nowUs), nowUs);
        else return;
        _restored = false;
    }

    private void Wipe(long nowUs, bool frameOpen)
    {
        bool due = _spray.Due(nowUs, frameOpen);
        if (due && _wipeUs < 0) _wipeUs = nowUs;
        if (due && nowUs - _wipeUs >= WipeShownUs)
        {
            Wiped(nowUs);
            due = false;
        }
        if (due != WipeDue) Version++;
        WipeDue = due;
    }

    private void Work(long nowUs, bool running)
    {
        PrintedTide? table = _place.Tide as PrintedTide;
        if (!running && table != null && !table.ShapeDone && Spare.Has(SparePart.QuickTide))
        {
            // The way back waits for the shape. Until it is found, as much is taken off as for a table of any shape.
            table.ShapeStep();
            return;
        }
        if (!_way.Done)
        {
            int bytes = _way.BytesToCome;
            if (bytes > 0 && !Spare.HasRoom(bytes))
            {
                GiveUp();
                return;
            }
            if (!_way.Step()) return;
            _wayFresh = _revision == Settings.Revision;
            Version++;
            return;
        }
        if (running || !Clock.IsSet || _revision < 0 || nowUs < _restUs) return;
        if (Dawn.Due(Settings.DawnOn, nowUs))
        {
            Dawn.Work(Clock, nowUs);
            Version++;
            return;
        }
        int today = _place.Offset.DayOf(Now);
        if (Spare.Has(SparePart.DayCurve) && !CurveWorked(today)) return;
        if (_sun.Day != today) _sun.Begin(_place, Now);
        if (!_sun.Done)
        {
            if (_sun.Step()) Version++;
            return;
        }
        if (!_searchWanted || !Spare.Has(SparePart.Mornings)) return;
        if (_search == null)
        {
            if (Spare.HasRoom(SearchBytes)) _search = new Mornings(_place, Settings.Wish, Now, SearchDays, SearchKept);
            else GiveUp();
            return;
        }
        if (_search.Done) return;
        int percent = _search.Percent;
        if (_search.Step() || _search.Percent != percent) Version++;
    }

    // Does one step of the day's curve. Returns true when nothing of it is left to do.
    private bool CurveWorked(int today)
    {
        if (_curve == null && !Spare.HasRoom(CurveBytes))
        {
            GiveUp();
            return false;
        }
        if (_curve == null) _curve = new TideCurve(CurvePoints);
        if (_curveDay != today)
        {
            _curve.Begin(_place.Tide, _place.Offset.MidnightBefore(Now), CurveStepSeconds, CurvePoints);
            _curveDay = today;
            return false;
        }
        if (_curve.Done) return true;
        if (_curve.Step()) Version++;
        return false;
    }
}

using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;

namespace Intervalometer.Settings.Shore;

/// <summary>The times of the sun on one local day, worked out one event at a time.</summary>
/// <remarks>The most costly step places the day. With calls weighted it costs 50 thousand IL instructions, which is 0.1 s at 500 thousand a second; tests/Budgets counts it.</remarks>
public sealed class SunSheet
{
    private const int Stages = 9;

    private SunDay? _day;
    private CoastPlace? _place;
    private UtcInstant _within;
    private int _stage = Stages;
    private long _nightUntil;
    private long _nightFrom;

    /// <summary>True when every event is known.</summary>
    public bool Done => _stage >= Stages && _day != null;

    /// <summary>The local day, as days since 2000-01-01; -1 before the first.</summary>
    public int Day { get; private set; } = -1;

    /// <summary>Sunrise.</summary>
    public SunEvent Rise { get; private set; }

    /// <summary>Sunset.</summary>
    public SunEvent Set { get; private set; }

    /// <summary>Civil dawn.</summary>
    public SunEvent Civil { get; private set; }

    /// <summary>Nautical dawn.</summary>
    public SunEvent Nautical { get; private set; }

    /// <summary>When the morning's golden light begins.</summary>
    public SunEvent GoldenFrom { get; private set; }

    /// <summary>When the morning's golden light ends.</summary>
    public SunEvent GoldenTo { get; private set; }

    /// <summary>Says that it is polar day or polar night; otherwise empty.</summary>
    public string Words { get; private set; } = "";

    /// <summary>
    /// True before civil dawn and after civil dusk of the day. It serves the brightness of the display alone, so dusk is taken to come as long after
    /// sunset as dawn comes before sunrise, which is right to a few minutes. False until the day has been worked out, and on a day that has no dawn
    /// or no sunset. It creates no object.
    /// </summary>
    /// <param name="nowSeconds">The time now, as <see cref="UtcInstant.Seconds"/>.</param>
    public bool IsNight(long nowSeconds) => Done && (nowSeconds < _nightUntil || nowSeconds > _nightFrom);

    /// <summary>Begins the local day that contains a moment.</summary>
    public void Begin(CoastPlace place, UtcInstant within)
    {
        _place = place;
        _within = within;
        Day = place.Offset.DayOf(within);
        _stage = 0;
        _day = null;
    }

    /// <summary>Works out the next event. Returns true when all are known.</summary>
    public bool Step()
    {
        if (_place == null || _stage >= Stages) return true;
        if (_stage == 0) _day = new SunDay(_place.Position, _place.Offset, _within);
        else if (_stage == 1) Rise = _day!.Rise;
        else if (_stage == 2) Set = _day!.Set;
        else if (_stage == 3) Civil = _day!.CivilDawn;
        else if (_stage == 4) Nautical = _day!.NauticalDawn;
        else if (_stage == 5) GoldenFrom = _day!.Morning(SunDay.GoldenLowDegrees);
        else if (_stage == 6) GoldenTo = _day!.Morning(SunDay.GoldenHighDegrees);
        else if (_stage == 7) Words = Rise.Happens ? "" : _day!.Words();
        else FindNight();
        _stage++;
        return _stage >= Stages;
    }

    private void FindNight()
    {
        bool dark = Civil.Happens && Rise.Happens && Set.Happens;
        _nightUntil = dark ? Civil.Time.Seconds : long.MinValue;
        _nightFrom = dark ? Set.Time.Seconds + Rise.Time.Seconds - Civil.Time.Seconds : long.MaxValue;
    }
}

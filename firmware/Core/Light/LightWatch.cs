using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Light;

/// <summary>
/// Judges the readings of a light sensor, and compares them with the reading at the moment when the camera's meter was read. Only
/// that ratio is used, so neither the diffuser nor the direction in which the sensor looks has to be calibrated.
/// </summary>
/// <remarks>
/// The light of the sky changes only so fast. Ramps of 200 W/m² in a second were measured at a cloud's edge under a high sun (Tomson, Fast dynamic
/// processes of solar radiation, Solar Energy 84, 2010; from memory). From a cloudy 150 W/m² that is 1.2 stops in the first second. A change faster than
/// <see cref="FastestStops"/> comes from a hand, a lamp or a turned box. Then no reading is used until the light is back where it was, or the
/// camera's meter is read again. The class has no clock and allocates nothing.
/// </remarks>
public sealed class LightWatch
{
    /// <summary>The most that the light of the sky changes in a second, or between two readings that are closer together, stops.</summary>
    public const double FastestStops = 1.5;

    /// <summary>The most that it changes between two readings, however far apart they are, stops (own choice).</summary>
    public const double MostStops = 5;

    /// <summary>A reading this close to the press that set the metered time counts as the reading at metering, µs.</summary>
    public const long NearUs = 5_000_000;

    /// <summary>A sensor that has given no reading for this long counts as silent, µs.</summary>
    public const long SilentUs = 5_000_000;

    // After a jump the light counts as back when it is this close to its earlier level, stops. A slow change of the sky may have moved it a little meanwhile.
    private const double BackStops = 0.5;
    private const double DriftStopsASecond = 0.01;

    private LightState _state;
    private double _lux;
    private long _atUs;
    private double _luxBefore;
    private long _beforeUs;
    private long _heardUs;
    private bool _has;
    private bool _latched;
    private bool _metering;
    private long _meteredUs;
    private double _referenceLux;

    /// <summary>What is known of the last reading.</summary>
    public LightState State => _state;

    /// <summary>The last trusted reading, in lx as the sensor sees it behind its diffuser; 0 before the first.</summary>
    public double Lux => _lux;

    /// <summary>The middle of the time in which that reading was taken, µs. It goes back when a jump shows that the last reading was taken partly in the jump.</summary>
    public long AtUs => _atUs;

    /// <summary>True when there is a reading from the moment at which the camera's meter was read.</summary>
    public bool HasReference => _referenceLux > 0;

    /// <summary>True when the last reading can be compared with the one at metering.</summary>
    public bool Usable => _state == LightState.Trusted && HasReference;

    /// <summary>The present light over the light at metering; 1 when there is no reading at metering.</summary>
    // divisor: a reference is above zero.
    public double Ratio => HasReference ? _lux / _referenceLux : 1;

    /// <summary>The same in stops; positive when it is brighter now.</summary>
    public double Stops => HasReference ? Elementary.Log2(Ratio) : 0;

    /// <summary>Notes that the camera's meter was read. From now on readings are compared with the light at this moment, and any earlier doubt is over.</summary>
    /// <param name="atUs">When, µs.</param>
    public void Meter(long atUs)
    {
        _referenceLux = 0;
        _metering = true;
        _meteredUs = atUs;
        bool near = _has && !_latched && Near(_atUs);
        _latched = false;
        if (near && _state == LightState.Trusted) Refer();
        else _has = false;
    }

    /// <summary>Takes a reading.</summary>
    /// <param name="state">The sensor's own judgement: Absent, Silent, TooDark, Saturated or Trusted.</param>
    /// <param name="lux">The light, lx; when it is too dark, the least that can be measured.</param>
    /// <param name="atUs">The middle of the time in which it was taken, µs.</param>
    public void Take(LightState state, double lux, long atUs)
    {
        if (state == LightState.Absent || state == LightState.Silent)
        {
            // A single transfer that failed does not make the sensor silent.
            if (state == LightState.Absent || atUs - _heardUs > SilentUs) _state = state;
            return;
        }
        _heardUs = atUs;
        if (_metering && !Near(atUs) && atUs > _meteredUs) _metering = false;
        if (state == LightState.Saturated || lux <= 0)
        {
            _state = state == LightState.Trusted ? LightState.TooDark : state;
            return;
        }
        // divisor: a light that was trusted is above zero.
        double moved = _has ? Elementary.Log2(lux / _lux) : 0;
        double seconds = (atUs - _atUs) / 1e6;
        // divisor: a constant
        double may = _latched ? BackStops + DriftStopsASecond * seconds : FastestStops * Elementary.Max(1, seconds);
        may = Elementary.Min(may, _latched ? 2 * BackStops : MostStops);
        if (state == LightState.TooDark)
        {
            bool fell = _has && (_latched ? _state == LightState.Covered : moved < -may);
            if (fell) Latch();
            _state = fell ? LightState.Covered : state;
            return;
        }
        if (moved > may || moved < -may)
        {
            Latch();
            _state = moved > 0 ? LightState.Jumped : LightState.Covered;
            return;
        }
        _latched = false;
        _luxBefore = _has ? _lux : lux;
        _beforeUs = _has ? _atUs : atUs;
        _has = true;
        _state = state;
        _lux = lux;
        _atUs = atUs;
        if (_metering && Near(atUs)) Refer();
    }

    // The last reading may have been taken while the hand was on its way, so the one before it becomes the last trusted one.
    private void Latch()
    {
        if (!_latched)
        {
            _lux = _luxBefore;
            _atUs = _beforeUs;
        }
        _latched = true;
    }

    private bool Near(long atUs) => atUs - _meteredUs <= NearUs && _meteredUs - atUs <= NearUs;

    private void Refer()
    {
        _referenceLux = _lux;
        _metering = false;
    }
}

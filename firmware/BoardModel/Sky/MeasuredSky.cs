using Intervalometer.Coast.Sky;
using Intervalometer.Core.Numerics;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>
/// A dawn that was measured minute by minute, on the sun's beam and on the light of the sky by themselves. It begins when the sun of
/// this place stands as high as it did there; before and after, the light grows and falls as a clear sky's.
/// </summary>
/// <remarks>
/// Of watts a square metre 110 lumen are made (common practice, no source): only ratios count. Between two minutes the light is
/// drawn out evenly, so that a cloud's edge is softer than it was.
/// </remarks>
public sealed class MeasuredSky : ISky
{
    private const double LumenPerWatt = 110;
    private const double MinuteSeconds = 60;
    private const double HalfDay = 43_200;
    // A figure is the mean of the minute that it ends.
    private const double MiddleSeconds = 30;
    // What the beam's instrument shows when there is no sun, W/m².
    private const double NoBeam = 1;

    private readonly SunTrack _sun;
    private readonly SkyView _view;
    private readonly double _begin;
    private readonly double[] _sky, _beam;

    /// <summary>Plays a record.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="place">Where it is played.</param>
    /// <param name="start">Time 0, UTC.</param>
    /// <param name="view">How the box and the camera stand to the sun.</param>
    public MeasuredSky(string name, GeoPosition place, DateTime start, SkyView view)
    {
        SkyRecord record = SkyRecord.Read(name);
        _sun = new SunTrack(place, start);
        _view = view;
        _sky = [.. record.Minutes.Select(m => m.Sky * LumenPerWatt)];
        _beam = [.. record.Minutes.Select(m => m.Beam > NoBeam ? m.Beam * LumenPerWatt : 0)];
        double first = new SunTrack(record.Place, record.First.AddSeconds(-MiddleSeconds)).AltitudeDegrees(0);
        _begin = Rising(first);
        Description = FormattableString.Invariant($"{name}, sun {view.AsideDegrees:0.#} degrees aside");
    }

    /// <inheritdoc />
    public string Description { get; }

    /// <summary>When the record begins, seconds.</summary>
    public double BeginsAt => _begin;

    /// <inheritdoc />
    public double Lux(long nowUs)
    {
        var (sky, beam, altitude) = At(nowUs / 1e6);
        return _view.AtBox([sky, sky, sky], beam, altitude);
    }

    /// <inheritdoc />
    public double Luminance(long nowUs)
    {
        var (sky, beam, altitude) = At(nowUs / 1e6);
        return _view.OfScene([sky, sky, sky], beam, altitude);
    }

    private (double Sky, double Beam, double Altitude) At(double seconds)
    {
        double altitude = _sun.AltitudeDegrees(seconds);
        double at = Elementary.Clamp((seconds - _begin) / MinuteSeconds, 0, _sky.Length - 1);
        double inside = _begin + at * MinuteSeconds;
        int whole = Math.Min((int)at, _sky.Length - 2);
        double part = at - whole;
        double grown = inside == seconds ? 1 : ClearSky.Lux(altitude) / ClearSky.Lux(_sun.AltitudeDegrees(inside));
        double beam = inside == seconds ? _beam[whole] + (_beam[whole + 1] - _beam[whole]) * part : 0;
        return (_sky[whole] * Elementary.Pow(_sky[whole + 1] / _sky[whole], part) * grown, beam, altitude);
    }

    // When the sun comes up through an altitude in the half day before or after time 0, seconds; 0 when it does not.
    private double Rising(double altitude)
    {
        double before = _sun.AltitudeDegrees(-HalfDay);
        for (double at = MinuteSeconds - HalfDay; at < HalfDay; at += MinuteSeconds)
        {
            double now = _sun.AltitudeDegrees(at);
            if (before < altitude && now >= altitude) return at - MinuteSeconds * (now - altitude) / (now - before);
            before = now;
        }
        return 0;
    }
}

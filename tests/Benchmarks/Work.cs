using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;

namespace Intervalometer.Benchmarks;

/// <summary>The pieces of the firmware's work that are timed. Place and constants are invented.</summary>
internal sealed class Work
{
    public const double Latitude = 50.20;
    public const double Longitude = -5.50;
    public const int SearchDays = 60;
    public const int SunDays = 365;
    public const int CurvePoints = 145;
    public const int CurveStepSeconds = 600;
    private const double MeanLevel = 3.15;

    private static readonly UtcInstant Start = new CivilTime(2031, 3, 14, 0, 0, 0).AsUtc();

    private readonly HarmonicTide _tide = new(Constants(), NodeSchedule.Daily);
    private readonly TideCurve _curve = new(CurvePoints);
    private readonly CosineLoop _cosines = new(Constants(), Start, MeanLevel);
    private readonly GeoPosition _position = new(Latitude, Longitude);
    private readonly CoastPlace _place;
    private readonly MorningWish _wish = new(60, 60, 3.4, 1.2, 40, true, false);
    private readonly FilterKit _kit = FilterKit.Starter();
    private readonly MeteredBase _metered = new BoxSettings().Base;
    private readonly ExposureAnswer _answer = new();
    private readonly WaveRhythm _rhythm = new();
    private readonly WaveRhythm _marked = new();
    private readonly long[] _gapsUs = new long[64];
    private int _gap;
    private long _markUs;

    public Work()
    {
        PathPoint[] path = [new("Sand neck", 3.8, 12, 0.4), new("Boulder gap", 4.4, 25, 0.5)];
        _place = new CoastPlace("Gannet Ledge", "invented chart datum", _position, new LocalOffset(0), _tide, path, 35);
        for (int i = 0; i < 2; i++) _kit[i].On = true;
        var dice = new Random(7);
        for (int i = 0; i < _gapsUs.Length; i++) _gapsUs[i] = 9_000_000 + dice.Next(4_000_000);
        for (int i = 0; i < 12; i++) _rhythm.LearnBackwash(3.0 + dice.NextDouble());
        for (int i = 0; i < _gapsUs.Length; i++) _rhythm.Mark(_markUs += _gapsUs[i]);
    }

    /// <summary>Midnight of the first day, milliseconds since 1970.</summary>
    public static long StartUnixMs { get; } = Start.Seconds * 1000 + new DateTimeOffset(2000, 1, 1, 0, 0, 0, TimeSpan.Zero).ToUnixTimeMilliseconds();

    /// <summary>
    /// All 37 constituents, each with some energy, as on a coast with a semidiurnal tide. M1 and M3, which the predictor
    /// defines otherwise, are small, so that the heights can be compared.
    /// </summary>
    public static IEnumerable<(string Name, double Amplitude, double Phase)> ConstantsList()
    {
        for (int i = 0; i < Constituents.Count; i++)
        {
            string name = Constituents.Name(i);
            double amplitude = name switch { "M2" => 1.70, "S2" => 0.57, "N2" => 0.33, "K2" => 0.16, "M4" => 0.11, "M1" or "M3" => 0.001, _ => 0.01 + 0.002 * (i % 7) };
            yield return (name, amplitude, i * 53 % 360);
        }
    }

    private static HarmonicConstants Constants()
    {
        var constants = new HarmonicConstants(MeanLevel);
        foreach ((string name, double amplitude, double phase) in ConstantsList()) constants.TrySet(name, amplitude, phase);
        return constants;
    }

    public double TideDay()
    {
        _curve.Begin(_tide, Start, CurveStepSeconds, CurvePoints);
        while (!_curve.Step())
        {
        }
        return _curve.TurnCount;
    }

    public double CosineDay() => _cosines.Day(CurvePoints, CurveStepSeconds);

    public double Search()
    {
        var search = new Mornings(_place, _wish, Start, SearchDays, 31);
        while (!search.Step())
        {
        }
        return search.Count;
    }

    public double SunYear()
    {
        double sum = 0;
        for (int day = 0; day < SunDays; day++)
        {
            var sun = new SunDay(_position, new LocalOffset(0), Start.PlusDays(day));
            sum += sun.Rise.Time.Seconds + sun.Set.Time.Seconds;
        }
        return sum;
    }

    public double Solve()
    {
        ExposureSolver.Solve(_metered, _kit, FilmCurve.None, ExposureSolver.DefaultLimitSeconds, _answer);
        return _answer.Seconds;
    }

    public double Mark()
    {
        _gap = (_gap + 1) & 63;
        _markUs += _gapsUs[_gap];
        _marked.Mark(_markUs);
        return _marked.PeriodSeconds;
    }

    public double Forecast() => _rhythm.TryForecast(_rhythm.LastMarkUs + 1_000_000, 1, out _, out double spread) ? spread : 0;

    public double Release()
    {
        _rhythm.TryRelease(_rhythm.LastMarkUs + 1_000_000, 1, 1.0, out _, out double chance);
        return chance;
    }

    /// <summary>Compares our results with those of the reference libraries, in words, to show that both did the same work.</summary>
    public string Agreement(ReferenceTimes theirs)
    {
        TideDay();
        CosineDay();
        double height = Enumerable.Range(0, Math.Min(CurvePoints, theirs.Heights.Length)).Max(i => Math.Abs(_curve.HeightMetres(i) - MeanLevel - theirs.Heights[i]));
        double cosine = Enumerable.Range(0, CurvePoints).Max(i => Math.Abs(_curve.HeightMetres(i) - _cosines.HeightMetres(i)));
        double turn = Enumerable.Range(0, Math.Min(_curve.TurnCount, theirs.TurnsMs.Length)).Max(i => Math.Abs(
            _curve.Turn(i).Time.SecondsSince(Start) - (theirs.TurnsMs[i] - StartUnixMs) / 1000));
        double rise = Enumerable.Range(0, SunDays).Max(day => Math.Abs(
            (new SunDay(_position, new LocalOffset(0), Start.PlusDays(day)).Rise.Time.SecondsSince(Start)) - (theirs.RisesMs[day] - StartUnixMs) / 1000));
        return FormattableString.Invariant(
            $"Found alike: {_curve.TurnCount} turns here and {theirs.TurnsMs.Length} there, within {turn:F0} s; {CurvePoints} heights here and {theirs.Heights.Length} there, within {height * 100:F1} cm (the loop of cosines within {cosine * 1000:F1} mm); {SunDays} sunrises within {rise:F0} s.");
    }
}

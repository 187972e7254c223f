using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>Turns a metered base, the filters on the lens and the film into a time for the dial, for bulb, or a refusal.</summary>
public static class ExposureSolver
{
    /// <summary>Limit on a time when the user set none, in seconds: 30 minutes.</summary>
    public const double DefaultLimitSeconds = 1800;

    /// <summary>Smallest limit, in seconds.</summary>
    public const double MinLimitSeconds = 1;

    /// <summary>Largest limit, in seconds: 2 hours.</summary>
    public const double MaxLimitSeconds = 7200;

    /// <summary>From this time on, cover the eyepiece, in seconds (common practice, no source).</summary>
    public const double EyepieceSeconds = 1;

    /// <summary>From this time on, let the tripod settle, in seconds: 2^-5, the mark 1/30 (common practice, no source).</summary>
    public const double SettleSeconds = 0.03125;

    /// <summary>From this much ND on, a graduated filter is easily forgotten, in stops (common practice, no source).</summary>
    public const double StrongNdStops = 9;

    // The mark 30 truly is 32 s; a longer time is bulb.
    private const double DialEndSeconds = 32;

    // Relative slack on the limits, against the last bits of the powers of two.
    private const double Slack = 1e-9;

    /// <summary>
    /// Solves t = 2^(shutter/3 + hand/3 + filter stops) s, then the film's correction, then dial, bulb or refusal.
    /// Allocates nothing and never throws on a value.
    /// </summary>
    /// <param name="metered">The reading without filters.</param>
    /// <param name="kit">The filters; those that are on count.</param>
    /// <param name="film">The film's correction.</param>
    /// <param name="limitSeconds">Longest time allowed, 1 to 7200 s; outside, the answer is a refusal. It holds for the wanted time; a dial mark may round up by a sixth of a stop.</param>
    /// <param name="answer">Filled in place, every member.</param>
    public static void Solve(in MeteredBase metered, FilterKit kit, FilmCurve film, double limitSeconds, ExposureAnswer answer)
    {
        double filterStops = kit.EffectiveStops.Value;
        double before = Elementary.Exp2((metered.Shutter.Index + metered.HandThirds) / 3.0 + filterStops);
        double seconds = film.Corrected(before);
        ShutterSetting dial = ShutterSetting.Nearest(seconds);
        double missed = dial.Index / 3.0 - Elementary.Log2(seconds);

        answer.BaseSeconds = metered.Shutter.Seconds;
        answer.FilterStops = new Stops(filterStops);
        answer.HandStops = Stops.FromThirds(metered.HandThirds);
        answer.BeforeFilmSeconds = before;
        answer.Seconds = seconds;
        answer.LimitSeconds = limitSeconds;
        answer.Dial = dial;
        answer.DialError = new Stops(missed);
        answer.Refusal = RefusalOf(seconds, missed, limitSeconds);
        answer.Kind = answer.Refusal != ExposureRefusal.None ? ExposureKind.Refused
            : seconds <= DialEndSeconds * (1 + Slack) ? ExposureKind.Dial
            : ExposureKind.Bulb;
        answer.OpenSeconds = answer.Kind == ExposureKind.Dial ? dial.Seconds
            : answer.Kind == ExposureKind.Bulb ? seconds
            : 0;
        answer.Reminders = answer.Kind == ExposureKind.Refused ? ExposureReminders.None : RemindersOf(before, answer.OpenSeconds, kit, film);
    }

    private static ExposureRefusal RefusalOf(double seconds, double missed, double limitSeconds)
    {
        bool limitFits = limitSeconds >= MinLimitSeconds && limitSeconds <= MaxLimitSeconds;
        if (!limitFits) return ExposureRefusal.BadLimit;
        if (seconds > limitSeconds * (1 + Slack)) return ExposureRefusal.AboveLimit;
        // Half a step short of the shortest mark, the mark would miss by more than a sixth of a stop.
        if (seconds < 1 && missed > 1.0 / 6 + Slack) return ExposureRefusal.BelowDial;
        return ExposureRefusal.None;
    }

    private static ExposureReminders RemindersOf(double beforeFilm, double open, FilterKit kit, FilmCurve film)
    {
        ExposureReminders found = ExposureReminders.None;
        if (open >= EyepieceSeconds) found |= ExposureReminders.CoverEyepiece;
        if (open >= SettleSeconds) found |= ExposureReminders.LetSettle;
        if (film.IsGuess(beforeFilm)) found |= ExposureReminders.FilmIsGuess;
        if (kit.NdStops.Value < StrongNdStops) return found;
        bool anyOn = false, anyOff = false, uncounted = false;
        for (int i = 0; i < kit.Count; i++)
        {
            Filter filter = kit[i];
            if (!FilterKinds.IsGrad(filter.Kind)) continue;
            if (!filter.On) anyOff = true;
            else
            {
                anyOn = true;
                if (filter.SharePercent == 0) uncounted = true;
            }
        }
        if (anyOff && !anyOn) found |= ExposureReminders.GradLeftOff;
        if (uncounted) found |= ExposureReminders.GradNotCounted;
        return found;
    }
}

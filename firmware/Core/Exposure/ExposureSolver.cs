using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>Works out from the metered reading, the filters on the lens and the film what to set: a dial time, a bulb time, or a refusal.</summary>
public static class ExposureSolver
{
    /// <summary>The limit on an exposure until the user sets one, in seconds: 30 minutes.</summary>
    public const double DefaultLimitSeconds = 1800;

    /// <summary>The smallest limit that can be set, in seconds.</summary>
    public const double MinLimitSeconds = 1;

    /// <summary>The largest limit that can be set, in seconds: 2 hours.</summary>
    public const double MaxLimitSeconds = 7200;

    /// <summary>Exposures of this length and more call for a covered eyepiece, in seconds (common practice, no source).</summary>
    public const double EyepieceSeconds = 1;

    /// <summary>Exposures of this length and more call for a settled tripod, in seconds: 2^-5, the figure 1/30 (common practice, no source).</summary>
    public const double SettleSeconds = 0.03125;

    /// <summary>With this much ND and more, a graduated filter is easily forgotten, in stops (common practice, no source).</summary>
    public const double StrongNdStops = 9;

    // The dial figure 30 is truly 32 s. A longer time needs bulb.
    private const double DialEndSeconds = 32;

    // Relative tolerance on the limits, because the powers of two are not exact in their last bits.
    private const double Slack = 1e-9;

    /// <summary>
    /// Computes t = 2^(shutter/3 + hand/3 + filter stops) s, applies the film's correction, and then chooses dial, bulb or refusal.
    /// It allocates nothing and throws for no value.
    /// </summary>
    /// <param name="metered">The reading without filters.</param>
    /// <param name="kit">The filters; only those that are on the lens count.</param>
    /// <param name="film">The film's correction.</param>
    /// <param name="limitSeconds">The longest time allowed, 1 to 7200 s; any other limit gives a refusal. The limit applies to the wanted time, so the dial mark may exceed it by a sixth of a stop.</param>
    /// <param name="answer">The object whose every member is filled.</param>
    /// <param name="brighterStops">How much brighter the scene is now than when the reading was taken, stops; negative when it is darker.</param>
    public static void Solve(in MeteredBase metered, FilterKit kit, FilmCurve film, double limitSeconds, ExposureAnswer answer, double brighterStops = 0)
    {
        double filterStops = kit.EffectiveStops.Value;
        double before = Elementary.Exp2((metered.Shutter.Index + metered.HandThirds) / 3.0 + filterStops - brighterStops);
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
        // From half a step below the shortest figure on, that figure would be off by more than a sixth of a stop.
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

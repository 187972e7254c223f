using System;

namespace Intervalometer.Core.Exposure;

/// <summary>How the exposure is to be made.</summary>
public enum ExposureKind
{
    /// <summary>Set the time on the camera's dial; the camera times the exposure.</summary>
    Dial = 0,

    /// <summary>Set the camera to bulb; the box times the exposure.</summary>
    Bulb = 1,

    /// <summary>There is no exposure; <see cref="ExposureAnswer.Refusal"/> says why.</summary>
    Refused = 2,
}

/// <summary>Why there is no exposure.</summary>
public enum ExposureRefusal
{
    /// <summary>There is an exposure.</summary>
    None = 0,

    /// <summary>The exposure would be longer than the limit that was set.</summary>
    AboveLimit = 1,

    /// <summary>The exposure would be shorter than the shortest time on the dial.</summary>
    BelowDial = 2,

    /// <summary>The limit itself is outside its range.</summary>
    BadLimit = 3,
}

/// <summary>What the photographer should think of before the release, as bits. All of it is common practice, no source.</summary>
[Flags]
public enum ExposureReminders
{
    /// <summary>There is nothing to think of.</summary>
    None = 0,

    /// <summary>Light through the eyepiece reaches the sensor. Set for exposures of 1 s and more.</summary>
    CoverEyepiece = 1,

    /// <summary>Shake shows in the picture. Set for exposures of 1/30 s (2^-5 s) and more.</summary>
    LetSettle = 2,

    /// <summary>ND filters of 9 stops or more are on and no graduated filter of the kit is: ND does not reduce the contrast between sky and sea.</summary>
    GradLeftOff = 4,

    /// <summary>ND filters of 9 stops or more are on, and a graduated filter that is on adds nothing to the time. That is right only when the foreground was metered.</summary>
    GradNotCounted = 8,

    /// <summary>The time lies beyond the film's table, so the table's last slope was extended.</summary>
    FilmIsGuess = 16,
}

/// <summary>The result of working out an exposure. It is created once, and every solve fills it again.</summary>
public sealed class ExposureAnswer
{
    /// <summary>Whether the camera's dial or the box times the exposure, or that there is none.</summary>
    public ExposureKind Kind { get; internal set; }

    /// <summary>Why there is no exposure when <see cref="Kind"/> is Refused; None otherwise.</summary>
    public ExposureRefusal Refusal { get; internal set; }

    /// <summary>The true metered time without filters, in seconds.</summary>
    public double BaseSeconds { get; internal set; }

    /// <summary>The light that the filters on the lens take.</summary>
    public Stops FilterStops { get; internal set; }

    /// <summary>The correction set by hand; positive gives a longer time.</summary>
    public Stops HandStops { get; internal set; }

    /// <summary>The time with filters and hand correction, before the film's correction, in seconds.</summary>
    public double BeforeFilmSeconds { get; internal set; }

    /// <summary>The exposure time with everything counted, in seconds. It is filled in even when the exposure is refused.</summary>
    public double Seconds { get; internal set; }

    /// <summary>The dial setting nearest to <see cref="Seconds"/>, or the end of the dial. Use it only when <see cref="Kind"/> is Dial.</summary>
    public ShutterSetting Dial { get; internal set; }

    /// <summary>How far the dial setting is from the wanted time, log2(dial/wanted): positive overexposes. At most a sixth of a stop when <see cref="Kind"/> is Dial.</summary>
    public Stops DialError { get; internal set; }

    /// <summary>How long the shutter will be open, in seconds: the dial setting's true time or the bulb time; 0 when refused.</summary>
    public double OpenSeconds { get; internal set; }

    /// <summary>The longest time allowed, in seconds, as it was given to this solve.</summary>
    public double LimitSeconds { get; internal set; }

    /// <summary>What the photographer should think of, as bits.</summary>
    public ExposureReminders Reminders { get; internal set; }
}

using System;

namespace Intervalometer.Core.Exposure;

/// <summary>How the answer is to be exposed.</summary>
public enum ExposureKind
{
    /// <summary>Set the camera's dial; the camera times it.</summary>
    Dial = 0,

    /// <summary>Set the camera to bulb; the release times it.</summary>
    Bulb = 1,

    /// <summary>No exposure: see the refusal.</summary>
    Refused = 2,
}

/// <summary>Why there is no exposure.</summary>
public enum ExposureRefusal
{
    /// <summary>There is one.</summary>
    None = 0,

    /// <summary>Longer than the limit that was set.</summary>
    AboveLimit = 1,

    /// <summary>Shorter than the dial goes.</summary>
    BelowDial = 2,

    /// <summary>The limit itself is outside its range.</summary>
    BadLimit = 3,
}

/// <summary>Things worth a thought before the release; bits. All common practice, no source.</summary>
[Flags]
public enum ExposureReminders
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>Light through the eyepiece reaches the sensor: exposures of 1 s and more.</summary>
    CoverEyepiece = 1,

    /// <summary>Shake shows: exposures of 1/30 s (2^-5 s) and more.</summary>
    LetSettle = 2,

    /// <summary>9 stops or more of ND are on and a graduated filter is left off: ND does not narrow the contrast of sky to sea.</summary>
    GradLeftOff = 4,

    /// <summary>9 stops or more of ND are on and a graduated filter is on but counts nothing: right only for a metered foreground.</summary>
    GradNotCounted = 8,

    /// <summary>The film's table has ended and its last slope is carried on.</summary>
    FilmIsGuess = 16,
}

/// <summary>An exposure worked out; made once and filled again by every solve.</summary>
public sealed class ExposureAnswer
{
    /// <summary>What to do with it.</summary>
    public ExposureKind Kind { get; internal set; }

    /// <summary>Why not, when <see cref="Kind"/> is Refused; else None.</summary>
    public ExposureRefusal Refusal { get; internal set; }

    /// <summary>True metered time without filters, in seconds.</summary>
    public double BaseSeconds { get; internal set; }

    /// <summary>What the filters that are on take.</summary>
    public Stops FilterStops { get; internal set; }

    /// <summary>Trim by hand; positive is longer.</summary>
    public Stops HandStops { get; internal set; }

    /// <summary>Time with filters and trim by hand, before the film's correction, in seconds.</summary>
    public double BeforeFilmSeconds { get; internal set; }

    /// <summary>Time to give, with everything, in seconds; also filled when refused.</summary>
    public double Seconds { get; internal set; }

    /// <summary>The dial setting nearest to <see cref="Seconds"/>, held at the ends of the dial; to be used when <see cref="Kind"/> is Dial.</summary>
    public ShutterSetting Dial { get; internal set; }

    /// <summary>How far the dial setting misses, log2(dial/wanted): positive overexposes. Within a sixth of a stop when <see cref="Kind"/> is Dial.</summary>
    public Stops DialError { get; internal set; }

    /// <summary>Time the shutter will be open: the dial setting's true time or the bulb time, in seconds; 0 when refused.</summary>
    public double OpenSeconds { get; internal set; }

    /// <summary>Longest time allowed, in seconds, as set for this solve.</summary>
    public double LimitSeconds { get; internal set; }

    /// <summary>Things worth a thought, as bits.</summary>
    public ExposureReminders Reminders { get; internal set; }
}

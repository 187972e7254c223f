using Intervalometer.Core.Numerics;

namespace Intervalometer.Core.Exposure;

/// <summary>Exposures in words and figures, the same on the device and the PC.</summary>
public static class ExposureText
{
    private const double LongestSeconds = 1e6;

    /// <summary>
    /// A time of 0 s or more as a figure with its unit: "0.122 ms", "15.63 ms", "0.315 s", "64.00 s", "128.0 s";
    /// a million seconds and more is "over 11 days".
    /// </summary>
    public static string Seconds(double seconds)
    {
        if (seconds >= LongestSeconds) return "over 11 days";
        if (seconds >= 100) return Fixed(seconds, 1) + " s";
        if (seconds >= 1) return Fixed(seconds, 2) + " s";
        if (seconds >= 0.1) return Fixed(seconds, 3) + " s";
        double milliseconds = seconds * 1000;
        return Fixed(milliseconds, milliseconds >= 1 ? 2 : 3) + " ms";
    }

    /// <summary>A time of 0 s or more, to the nearest second, as "2:08" or "1:04:00"; a million seconds and more is "over 11 days".</summary>
    public static string Clock(double seconds)
    {
        if (seconds >= LongestSeconds) return "over 11 days";
        long whole = Elementary.Round(seconds);
        return ClockOf((int)whole);
    }

    /// <summary>A dial figure's true time, such as "2^-6 = 15.63 ms" or "2^(-17/3) = 19.69 ms".</summary>
    public static string TrueTime(ShutterSetting shutter)
    {
        int index = shutter.Index;
        string power = index % 3 == 0 ? (index / 3).ToString() : "(" + index.ToString() + "/3)";
        return "2^" + power + " = " + Seconds(shutter.Seconds);
    }

    /// <summary>A difference below 1e12 stops to two places, such as "9.97" or "-0.03".</summary>
    public static string StopsOf(Stops stops) => Fixed(stops.Value, 2);

    /// <summary>A filter's printed strength as it was given, and its stops: "0.90 = 2.99 stops", "x64 = 6.00 stops", "3.00 stops".</summary>
    public static string Strength(Filter filter)
    {
        string stops = StopsOf(filter.Strength) + " stops";
        if (filter.Scale == FilterScale.Stops) return stops;
        double density = filter.Figure / 100.0;
        string given = filter.Scale == FilterScale.Factor ? "x" + filter.Figure.ToString() : Fixed(density, 2);
        return given + " = " + stops;
    }

    /// <summary>A trim in whole third stops, such as "+1 1/3", "-2/3" or "0".</summary>
    public static string Thirds(int thirds)
    {
        if (thirds == 0) return "0";
        int size = thirds < 0 ? -thirds : thirds;
        string text = thirds < 0 ? "-" : "+";
        if (size >= 3) text += (size / 3).ToString();
        if (size % 3 == 0) return text;
        return text + (size >= 3 ? " " : "") + (size % 3).ToString() + "/3";
    }

    /// <summary>What to set, in one line: the dial figure and its true time, the bulb time, or the refusal and its remedy.</summary>
    public static string Line(ExposureAnswer answer)
    {
        if (answer.Kind == ExposureKind.Refused) return Refusal(answer);
        if (answer.Kind == ExposureKind.Dial) return "Dial " + answer.Dial.Label + " (" + Seconds(answer.Dial.Seconds) + ")";
        return answer.Seconds >= 100
            ? "Bulb " + Seconds(answer.Seconds) + " (" + Clock(answer.Seconds) + ")"
            : "Bulb " + Seconds(answer.Seconds);
    }

    /// <summary>Why there is no exposure and what to do; empty when there is one.</summary>
    public static string Refusal(ExposureAnswer answer) => answer.Refusal switch
    {
        ExposureRefusal.AboveLimit => "Needs " + ClockAbove(answer.Seconds) + ", limit " + ClockBelow(answer.LimitSeconds) + ". Take a filter off, open up, raise ISO or the limit.",
        ExposureRefusal.BelowDial => "Needs " + Seconds(answer.Seconds) + ", dial ends at 1/8000. Add a filter, stop down or lower ISO.",
        ExposureRefusal.BadLimit => "Limit is outside 1 s to 2 h. Set it inside.",
        _ => "",
    };

    /// <summary>One reminder in words; empty when more or less than one bit is given.</summary>
    public static string Reminder(ExposureReminders one) => one switch
    {
        ExposureReminders.CoverEyepiece => "Cover the eyepiece.",
        ExposureReminders.LetSettle => "Let the tripod settle.",
        ExposureReminders.GradLeftOff => "Strong ND on, grads off: the sky is still brighter than the sea.",
        ExposureReminders.GradNotCounted => "A grad is on but not counted: right if the foreground was metered.",
        ExposureReminders.FilmIsGuess => "Beyond the film's table: bracket.",
        _ => "",
    };

    // The needed time is rounded up and the limit down, so that the two never show the same figure.
    private static string ClockAbove(double seconds)
    {
        if (seconds >= LongestSeconds) return Clock(seconds);
        double up = -Elementary.Floor(-seconds);
        return ClockOf((int)up);
    }

    private static string ClockBelow(double seconds)
    {
        double down = Elementary.Floor(seconds);
        return ClockOf((int)down);
    }

    private static string ClockOf(int whole)
    {
        int hours = whole / 3600;
        int minutes = whole / 60 % 60;
        string tail = TwoDigits(whole % 60);
        return hours > 0
            ? hours.ToString() + ":" + TwoDigits(minutes) + ":" + tail
            : minutes.ToString() + ":" + tail;
    }

    // The F formats of the two runtimes round ties differently, and 15.625 ms is a tie. Here ties round away from zero on both.
    private static string Fixed(double value, int places)
    {
        int scale = places == 1 ? 10 : places == 2 ? 100 : 1000;
        double size = Elementary.Abs(value);
        long units = Elementary.Round(size * scale);
        long whole = units / scale; // divisor: scale is 10, 100 or 1000
        string digits = (units - whole * scale).ToString();
        while (digits.Length < places) digits = "0" + digits;
        return (value < 0 && units != 0 ? "-" : "") + whole.ToString() + "." + digits;
    }

    private static string TwoDigits(int value) => value < 10 ? "0" + value.ToString() : value.ToString();
}

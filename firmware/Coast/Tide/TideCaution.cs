namespace Intervalometer.Coast.Tide;

/// <summary>The caution that must stand beside every tide height and every time left, on the device and in every export.</summary>
public static class TideCaution
{
    /// <summary>The whole caution, in two sentences.</summary>
    public const string Full =
        "This is a prediction of the tide alone: surge, swell, wave run-up, wind, pressure and rivers are in no prediction, and water can come earlier and higher. "
        + "Official tide tables, the coastguard and local advice come first; watch the water and leave early.";

    /// <summary>The caution for one narrow line.</summary>
    public const string Short = "Prediction only: no surge, swell, wind";

    /// <summary>The caution in lines of at most 21 characters, the width of the small display.</summary>
    public static string[] Lines() => new string[]
    {
        "Prediction only.",
        "Surge, swell and wind",
        "are in no prediction.",
        "Official tables, the",
        "coastguard and local",
        "advice come first.",
        "Watch the water.",
    };
}

namespace Intervalometer.Drivers.Ssd1306;

/// <summary>What is known of the display.</summary>
public enum Ssd1306State
{
    /// <summary>Nothing has been sent yet.</summary>
    NotInitialised = 0,

    /// <summary>The display did not acknowledge the last message; the next page sets it up again.</summary>
    NoAnswer = 1,

    /// <summary>The display is set up, and dark until it holds all pages of a first picture.</summary>
    Filling = 2,

    /// <summary>The display holds the pages that it acknowledged, and shows them unless it is switched off.</summary>
    Ready = 3,
}

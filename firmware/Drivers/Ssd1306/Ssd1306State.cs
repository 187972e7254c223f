namespace Intervalometer.Drivers.Ssd1306;

/// <summary>What is known of the display.</summary>
public enum Ssd1306State
{
    /// <summary>Nothing was sent yet.</summary>
    NotInitialised = 0,

    /// <summary>It did not acknowledge the last message; the next page sets it up anew.</summary>
    NoAnswer = 1,

    /// <summary>It is set up and dark until it holds all pages of a first picture.</summary>
    Filling = 2,

    /// <summary>It holds the pages it acknowledged, and shows them unless switched off.</summary>
    Ready = 3,
}

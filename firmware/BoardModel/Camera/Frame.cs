namespace Intervalometer.VirtualBoard.Camera;

/// <summary>One exposure as it really happened.</summary>
/// <param name="PressUs">The shutter contact closed (for the repeats of a held contact: the moment the camera began the next frame), µs.</param>
/// <param name="OpenUs">The sensor opened, µs.</param>
/// <param name="CloseUs">The sensor closed, µs.</param>
/// <param name="ReleaseUs">Bulb: the contact opened, µs. Dial: the same as <paramref name="PressUs"/>.</param>
/// <param name="Bulb">True when the contact decided the length.</param>
/// <param name="DialUs">The dial's true time, µs; 0 in bulb.</param>
/// <param name="HeldRepeat">True for the second and later frames of one held contact.</param>
public sealed record Frame(long PressUs, long OpenUs, long CloseUs, long ReleaseUs, bool Bulb, long DialUs, bool HeldRepeat);

/// <summary>A press that made no picture.</summary>
/// <param name="AtUs">When the contact closed, µs.</param>
/// <param name="Why">Why, in words.</param>
public sealed record MissedPress(long AtUs, string Why);

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>What the firmware was after when it closed the contact for a frame.</summary>
/// <param name="WantedUs">How long the frame was to be, µs; null for a contact that is held for many frames.</param>
/// <param name="MeteredUs">When the metered time was last set, µs; null when it never was. One that came from the memory counts as set at power-on.</param>
/// <param name="AnswerSeconds">What that light asks for through the glass, with the trim by hand and the film's correction, seconds.</param>
public sealed record FrameAim(long? WantedUs, long? MeteredUs, double AnswerSeconds);

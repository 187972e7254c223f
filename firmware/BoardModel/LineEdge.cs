using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.VirtualBoard;

/// <summary>One change of a release line.</summary>
/// <param name="Line">Half-press or shutter.</param>
/// <param name="Closed">True when the pin closes the contact.</param>
/// <param name="AtUs">When the pin changed, µs.</param>
/// <param name="PlannedUs">When the firmware had planned it, µs; null for an unplanned change such as a stop.</param>
public readonly record struct LineEdge(Line Line, bool Closed, long AtUs, long? PlannedUs);

namespace Intervalometer.VirtualBoard.Bus;

/// <summary>A transfer that ran while a planned line edge was less than <see cref="VirtualI2cBus.QuietUs"/> away, so that it could have delayed the edge.</summary>
/// <param name="StartUs">Start of the transfer, µs.</param>
/// <param name="EndUs">End of the transfer, µs.</param>
/// <param name="EdgeUs">The planned edge, µs.</param>
public readonly record struct BusViolation(long StartUs, long EndUs, long EdgeUs);

using Intervalometer.VirtualBoard.Rtc;

namespace Intervalometer.VirtualBoard.Bus;

/// <summary>The clock chip on the bus.</summary>
public sealed class ClockOnBus(Ds3231Model model) : IBusChip
{
    /// <inheritdoc />
    public bool Write(ReadOnlySpan<byte> data) => model.Write(data.ToArray());

    /// <inheritdoc />
    public bool Read(Span<byte> data)
    {
        var bytes = new byte[data.Length];
        bool acknowledged = model.Read(bytes);
        bytes.CopyTo(data);
        return acknowledged;
    }
}

using Intervalometer.Drivers.Battery;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Battery;

/// <summary>
/// A cell whose voltage changes at a constant rate. It is read through the divider of the gauge and a converter with the nominal reference. A reading
/// takes <see cref="ReadUs"/> and is recorded. The model never cuts the power.
/// </summary>
public sealed class BatteryModel(VirtualClock clock, BatteryOptions options) : IBatteryGauge
{
    /// <summary>How long a reading blocks the interpreter, µs (estimate).</summary>
    public const int ReadUs = 100;

    private const double HourUs = 3.6e9;

    private readonly GaugeScale _scale = new(GaugeScale.DesignReferenceMillivolts);
    private readonly List<long> _reads = [];
    private double _millivolts = options.Millivolts;
    private long _sinceUs = clock.NowUs;

    /// <summary>When each reading began, µs.</summary>
    public IReadOnlyList<long> ReadsUs => _reads;

    /// <summary>Terminal voltage now, mV. When it is set, the voltage goes on changing from the new value.</summary>
    public double Millivolts
    {
        get => Math.Max(0, _millivolts + options.PerHour * (clock.NowUs - _sinceUs) / HourUs);
        set
        {
            _millivolts = value;
            _sinceUs = clock.NowUs;
        }
    }

    /// <summary>False while the converter does not answer.</summary>
    public bool Answers { get; set; } = options.GaugeFitted;

    /// <inheritdoc />
    public int ReadMillivolts()
    {
        _reads.Add(clock.NowUs);
        clock.AdvanceTo(clock.NowUs + ReadUs);
        return Answers ? _scale.Millivolts(_scale.Count((int)Math.Round(Millivolts))) : -1;
    }
}

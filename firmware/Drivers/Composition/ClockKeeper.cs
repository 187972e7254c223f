using Intervalometer.Coast.Time;
using Intervalometer.Drivers.Ds3231;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Drivers.Composition;

/// <summary>Carries the time between the clock chip and the shore side. The chip is read at the start and every 10 minutes, and set when a person sets the time.</summary>
internal sealed class ClockKeeper
{
    private const long EveryUs = 600_000_000;
    private const long RetryUs = 10_000_000;
    private const long QuietUs = 1_000_000;

    private readonly Ds3231Clock? _chip;
    private readonly ShoreClock _clock;
    private long _dueUs;

    /// <summary>Creates the keeper. Without a chip, the time can only be set by hand.</summary>
    public ClockKeeper(ITwoWireDevice? chip, ShoreClock clock)
    {
        _chip = chip == null ? null : new Ds3231Clock(chip);
        _clock = clock;
    }

    /// <summary>Reads or sets the chip when that is due, while no run is on and no edge is near.</summary>
    public void Pass(long nowUs, long roomUs, bool running)
    {
        if (running || roomUs < QuietUs) return;
        bool setting = _clock.TakeSetting(nowUs, out UtcInstant time);
        if (setting && _chip != null) _chip.Set(time);
        if (nowUs >= _dueUs) Read(nowUs);
    }

    /// <summary>Reads the chip now.</summary>
    public void Read(long nowUs)
    {
        UtcInstant time = new UtcInstant(0);
        ClockState state = _chip == null ? ClockState.NoAnswer : _chip.Read(out time);
        if (state == ClockState.Running) _clock.Read(time, nowUs);
        else if (state == ClockState.Stopped) _clock.Fail(ClockTrust.Stopped);
        else if (state == ClockState.Nonsense) _clock.Fail(ClockTrust.Nonsense);
        else _clock.Fail(ClockTrust.NoAnswer);
        _dueUs = nowUs + (state == ClockState.Running || _chip == null ? EveryUs : RetryUs);
    }
}

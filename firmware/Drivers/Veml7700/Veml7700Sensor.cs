using Intervalometer.Core.Light;

namespace Intervalometer.Drivers.Veml7700;

/// <summary>
/// A VEML7700 that measures all the time. Gain and integration time follow the light by themselves. Light that cannot be measured is
/// reported as a named state. It makes at most one transfer a pass and allocates nothing after construction.
/// </summary>
/// <remarks>
/// There are five steps of sensitivity, each four or eight times the next one: from gain 2 in 800 ms down to gain 1/8 in 25 ms, for 0.1 lx to
/// 140,000 lx. A step is left before it is full, and entered only where it is less than half full, so that no light makes the chip switch to and fro.
/// </remarks>
public sealed class Veml7700Sensor
{
    /// <summary>With fewer counts than this at the finest step it is too dark to measure, because one count would be more than 4 %, 0.06 of a stop (own choice).</summary>
    public const int LeastCounts = 24;

    /// <summary>Below this light it is too dark to measure, lx.</summary>
    public const double DarkLux = LeastCounts * Veml7700Registers.FinestLux;

    /// <summary>How many steps of sensitivity there are.</summary>
    public const int Steps = 5;

    private const int Finest = Steps - 1;

    // A step is left for a coarser one above, and for a finer one when that would be filled to no more than this.
    private const int FullCounts = 50_000;
    private const int EnterCounts = 25_000;

    // A reading is fetched at most this often, µs, which is faster than the light changes and slower than the panel's passes.
    private const long EveryUs = 500_000;

    private const long RetryUs = 1_000_000;

    private readonly ITwoWireDevice _wire;
    private readonly byte[] _command = new byte[1];
    private readonly byte[] _word = new byte[2];
    private readonly byte[] _set = new byte[3];
    private int _step = 2;
    private bool _running;
    private bool _seen;
    private long _dueUs;

    /// <summary>Creates the driver of a chip on its bus. Sends nothing.</summary>
    public Veml7700Sensor(ITwoWireDevice wire)
    {
        _wire = wire;
    }

    /// <summary>The result of the last pass that did something.</summary>
    public LightState State { get; private set; }

    /// <summary>The light of the last reading, lx; <see cref="DarkLux"/> when it was too dark to measure.</summary>
    public double Lux { get; private set; }

    /// <summary>The middle of the time in which it was measured, µs: known to half of the integration time.</summary>
    public long AtUs { get; private set; }

    /// <summary>When the next transfer is due, µs.</summary>
    public long DueUs => _dueUs;

    /// <summary>True once the chip has answered.</summary>
    public bool Seen => _seen;

    /// <summary>Makes the transfer that is due.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <returns>True when <see cref="State"/> holds something new: a reading, or that the chip did not answer.</returns>
    public bool Pass(long nowUs)
    {
        if (nowUs < _dueUs) return false;
        if (!_running) return !Set(nowUs);
        return Fetch(nowUs);
    }

    /// <summary>Shuts the chip down, which then takes 0.5 µA in place of 45 (data sheet 84286). The next pass would start it again. False when it does not answer.</summary>
    public bool ShutDown()
    {
        _running = false;
        return Send(Veml7700Registers.ShutDown);
    }

    /// <summary>The word of ALS_CONF_0 for a step, power on.</summary>
    /// <param name="step">0 for the coarsest, to <see cref="Steps"/> - 1.</param>
    public static int Configuration(int step) => (GainBits(step) << Veml7700Registers.GainShift) | (TimeBits(step) << Veml7700Registers.TimeShift);

    /// <summary>How long a measurement takes at a step by the chip's own clock, µs.</summary>
    public static int IntegrationUs(int step) => step switch
    {
        0 => 25_000,
        3 => 200_000,
        4 => 800_000,
        _ => 100_000,
    };

    /// <summary>Light of one count at a step before the correction, lx.</summary>
    public static double LuxPerCount(int step) => Veml7700Registers.FinestLux * Coarser(step);

    /// <summary>
    /// The light that follows from the counts, corrected because the chip counts too little in bright light, by the polynomial of the application
    /// note 84323. The note asks for it above 1000 lx. At 100 lx it changes a hundredth of a stop; without it there would be a step of a tenth of a stop at 1000 lx.
    /// </summary>
    public static double Corrected(double lux) => (((6.0135e-13 * lux - 9.3924e-9) * lux + 8.1488e-5) * lux + 1.0023) * lux;

    // How much more light one count stands for than at the finest step.
    private static int Coarser(int step) => step switch
    {
        0 => 512,
        1 => 128,
        2 => 16,
        3 => 4,
        _ => 1,
    };

    private static int GainBits(int step) => step < 2 ? 2 : step == 2 ? 0 : 1;

    private static int TimeBits(int step) => step switch
    {
        0 => 12,
        3 => 1,
        4 => 3,
        _ => 0,
    };

    // Returns true when the chip took it. Its first measurement is then awaited.
    private bool Set(long nowUs)
    {
        if (!Send(Configuration(_step))) return Missing(nowUs);
        _seen = true;
        _running = true;
        _dueUs = nowUs + Veml7700Registers.SettleUs + Slowest(_step);
        return true;
    }

    private bool Send(int configuration)
    {
        _set[0] = Veml7700Registers.AlsConf0;
        _set[1] = (byte)(configuration & 0xFF);
        _set[2] = (byte)(configuration >> 8);
        return _wire.Write(_set);
    }

    private bool Missing(long nowUs)
    {
        // The chip may have lost its power as well, and is then shut down when the power comes back.
        _running = false;
        State = _seen ? LightState.Silent : LightState.Absent;
        AtUs = nowUs;
        _dueUs = nowUs + RetryUs;
        return false;
    }

    // Returns true when there is something new.
    private bool Fetch(long nowUs)
    {
        _command[0] = Veml7700Registers.Als;
        if (!_wire.WriteRead(_command, _word)) return !Missing(nowUs);
        int counts = _word[0] | (_word[1] << 8);
        int step = _step;
        // The last complete measurement ended at most one integration time ago, so its middle is one and a half to half of one ago.
        AtUs = nowUs - IntegrationUs(step);
        long slowest = Slowest(step);
        _dueUs = nowUs + (slowest > EveryUs ? slowest : EveryUs);
        if (counts == 0)
        {
            // It is night, or the chip lost its power for a moment and is shut down. Set again, it measures in either case.
            _running = false;
            _dueUs = nowUs;
        }
        if (counts > FullCounts && step > 0) Go(step - 1, nowUs);
        // divisor: a step is one or more.
        else if (step < Finest && (long)counts * Coarser(step) / Coarser(step + 1) < EnterCounts) Go(step + 1, nowUs);
        if (counts == Veml7700Registers.MostCounts)
        {
            State = LightState.Saturated;
            // A coarser step may still be able to measure it.
            return step == 0;
        }
        if (step < Finest && counts < LeastCounts) return false;
        bool dark = counts < LeastCounts;
        State = dark ? LightState.TooDark : LightState.Trusted;
        Lux = dark ? DarkLux : Corrected(counts * LuxPerCount(step));
        return true;
    }

    private void Go(int step, long nowUs)
    {
        _step = step;
        _running = false;
        _dueUs = nowUs;
    }

    private static long Slowest(int step) => (long)IntegrationUs(step) * Veml7700Registers.SlowestPercent / 100;
}

using Intervalometer.Drivers.Veml7700;
using Intervalometer.VirtualBoard.Bus;

namespace Intervalometer.VirtualBoard.Light;

/// <summary>
/// A VEML7700 at register level: six integration times, four gains, shut down at power-on, and a data register that holds the last
/// whole measurement and nothing newer. What the real chip would not do, or would do wrongly, is noted in <see cref="Complaints"/>.
/// </summary>
/// <remarks>
/// The light is looked at sixteen times in a measurement and averaged, or three times where these three lie on a line. After a change of ALS_CONF_0 the measurement under way is dropped and the
/// data register keeps what it held (data sheet 84366, Auto-Memorization: the last data is kept until a new measurement is done).
/// </remarks>
/// <param name="nowUs">The clock that drives it, µs.</param>
/// <param name="luxAt">The light on the chip at a time, lx.</param>
public sealed class Veml7700Model(Func<long> nowUs, Func<long, double> luxAt) : IBusChip
{
    private const int Looks = 16;
    // A light whose middle is this near to the mean of its ends changes evenly. The largest error is a twentieth of a count at 25,000 counts.
    private const double EvenShare = 2e-6;

    private readonly ushort[] _registers = Initial();
    private readonly List<string> _complaints = [];
    private int _command;
    private long _beganUs = long.MaxValue;
    private bool _fresh;

    /// <summary>What the real chip would refuse, or do other than was meant.</summary>
    public IReadOnlyList<string> Complaints => _complaints;

    /// <summary>False makes it stop acknowledging, as if unplugged.</summary>
    public bool Connected { get; set; } = true;

    /// <summary>How slow its own clock is, per cent of the nominal time: 90 to 110 by common practice, no source.</summary>
    public int ClockPercent { get; set; } = 100;

    /// <summary>Something before the sensor: the share of the light that comes through.</summary>
    public double Passes { get; set; } = 1;

    /// <summary>A register as it stands now.</summary>
    public int this[int command]
    {
        get
        {
            Measure();
            return _registers[command];
        }
    }

    /// <summary>The power goes and comes back: shut down, nothing measured.</summary>
    public void PowerCycle()
    {
        Initial().CopyTo(_registers, 0);
        _beganUs = long.MaxValue;
        _fresh = false;
    }

    /// <inheritdoc/>
    public bool Write(ReadOnlySpan<byte> data)
    {
        if (!Connected) return false;
        Measure();
        if (data.Length == 0) return true;
        _command = data[0];
        if (_command >= Veml7700Registers.Count) Complain($"there is no command code {_command:X2}");
        if (data.Length == 1) return true;
        if (data.Length != 3) Complain($"a register has two bytes, not {data.Length - 1}");
        else if (_command >= Veml7700Registers.Als) Complain($"command code {_command:X2} can only be read");
        else Store((ushort)(data[1] | (data[2] << 8)));
        return true;
    }

    /// <inheritdoc/>
    public bool Read(Span<byte> data)
    {
        if (!Connected) return false;
        Measure();
        if (data.Length != 2) Complain($"a register is read as two bytes, not {data.Length}");
        if (_command == Veml7700Registers.Als && !_fresh) Complain("read before the first measurement since it was set");
        ushort word = _command < Veml7700Registers.Count ? _registers[_command] : (ushort)0xFFFF;
        for (int i = 0; i < data.Length; i++) data[i] = (byte)(word >> (8 * (i & 1)));
        return true;
    }

    /// <summary>Gain of a word of ALS_CONF_0.</summary>
    public static double Gain(int word) => ((word >> Veml7700Registers.GainShift) & 3) switch { 0 => 1, 1 => 2, 2 => 0.125, _ => 0.25 };

    /// <summary>Integration time of a word of ALS_CONF_0, µs; 0 for bits that the data sheet does not have.</summary>
    public static int IntegrationUs(int word) => ((word >> Veml7700Registers.TimeShift) & 15) switch
    {
        12 => 25_000,
        8 => 50_000,
        0 => 100_000,
        1 => 200_000,
        2 => 400_000,
        3 => 800_000,
        _ => 0,
    };

    /// <summary>Counts for a light, by resolution and the bend of the application note, which the driver takes back out.</summary>
    public static int Counts(double lux, int word)
    {
        double low = 0, high = lux;
        while (high - low > 1e-9 * lux)
        {
            double middle = (low + high) / 2;
            if (Veml7700Sensor.Corrected(middle) < lux) low = middle;
            else high = middle;
        }
        double perCount = 0.0042 * (800_000.0 / IntegrationUs(word)) * (2 / Gain(word));
        return (int)Math.Min(Veml7700Registers.MostCounts, Math.Floor(low / perCount + 0.5));
    }

    private static ushort[] Initial()
    {
        var registers = new ushort[Veml7700Registers.Count];
        registers[Veml7700Registers.AlsConf0] = Veml7700Registers.ShutDown;
        return registers;
    }

    private void Store(ushort word)
    {
        if (_command == Veml7700Registers.AlsConf0)
        {
            if ((word & Veml7700Registers.Reserved) != 0) Complain($"reserved bits are set in ALS_CONF_0: {word:X4}");
            if (IntegrationUs(word) == 0) Complain($"no such integration time in ALS_CONF_0: {word:X4}");
            bool was = (_registers[Veml7700Registers.AlsConf0] & Veml7700Registers.ShutDown) != 0;
            bool off = (word & Veml7700Registers.ShutDown) != 0 || IntegrationUs(word) == 0;
            _beganUs = off ? long.MaxValue : nowUs() + (was ? Veml7700Registers.SettleUs : 0);
            _fresh = false;
        }
        _registers[_command] = word;
    }

    // Every measurement that has ended by now; only the last one can still be read.
    private void Measure()
    {
        long now = nowUs();
        int word = _registers[Veml7700Registers.AlsConf0];
        if (_beganUs == long.MaxValue) return;
        long each = (long)IntegrationUs(word) * ClockPercent / 100;
        long ended = (now - _beganUs) / each;
        if (now < _beganUs || ended < 1) return;
        _beganUs += ended * each;
        _registers[Veml7700Registers.Als] = (ushort)Counts(MeanLux(_beganUs - each, each) * Passes, word);
        _fresh = true;
    }

    private double MeanLux(long fromUs, long lastsUs)
    {
        double middle = luxAt(fromUs + lastsUs / 2), ends = (luxAt(fromUs) + luxAt(fromUs + lastsUs)) / 2;
        if (Math.Abs(middle - ends) <= EvenShare * middle) return middle;
        double sum = 0;
        for (int i = 0; i < Looks; i++) sum += luxAt(fromUs + lastsUs * (2 * i + 1) / (2 * Looks));
        return sum / Looks;
    }

    private void Complain(string what) => _complaints.Add($"{nowUs()} us: {what}");
}

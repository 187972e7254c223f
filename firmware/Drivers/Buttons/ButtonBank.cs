using System.Device.Gpio;
using Intervalometer.Core;
using Intervalometer.Settings;

namespace Intervalometer.Drivers.Buttons;

/// <summary>
/// Six buttons to ground, whose pins are low while pressed. The first edge of a press counts at once and with its own time. After that the
/// contact may bounce for <see cref="LockoutUs"/> without effect. Only the release thread samples the buttons. Nothing is allocated
/// after construction.
/// </summary>
/// <remarks>
/// Pin events only record the time of the first falling edge. So the time of a press is known better than from sampling, and a tap that is
/// shorter than the time between two samples is not lost.
/// </remarks>
public sealed class ButtonBank
{
    /// <summary>How many buttons the board has.</summary>
    public const int Count = 6;

    /// <summary>After a change, a button is ignored for this long, µs: longer than the 30 ms for which a worn contact may bounce (common practice, no source).</summary>
    public const long LockoutUs = 50_000;

    /// <summary>A button that has been down for this long counts as stuck and not as held, µs. No setting takes half a minute of holding.</summary>
    public const long StuckUs = 30_000_000;

    // Pin events carry no time, and come late when the runtime is busy. An event that follows a change within this time, µs, may belong to
    // that change and its bounce, so it is no press of its own.
    private const long LateEventUs = 400_000;

    // The time of an event is used for a press when the event came at most this long before the sample, µs.
    private const long StampUs = 150_000;

    // When a press was sampled before its event came, the event is expected for this long, µs, and is then not taken for another press.
    private const long OwedUs = 2_000_000;

    private readonly IMicrosClock _clock;
    private readonly GpioPin[] _pins = new GpioPin[Count];
    private readonly bool[] _down = new bool[Count];
    private readonly bool[] _downAtStart = new bool[Count];
    private readonly long[] _changedUs = new long[Count];
    private readonly long[] _fellUs = new long[Count];
    private readonly long[] _eventUs = new long[Count];
    private readonly long[] _owedUs = new long[Count];
    private readonly int[] _pinNumbers;

    /// <summary>Opens the six pins as inputs. The board has their pull-up resistors.</summary>
    /// <param name="gpio">The pin controller.</param>
    /// <param name="pinNumbers">The pin numbers in the order of <see cref="Button"/>.</param>
    /// <param name="clock">The clock that times the presses.</param>
    public ButtonBank(GpioController gpio, int[] pinNumbers, IMicrosClock clock)
    {
        _clock = clock;
        _pinNumbers = pinNumbers;
        for (int i = 0; i < Count; i++)
        {
            _changedUs[i] = -LockoutUs;
            _pins[i] = gpio.OpenPin(pinNumbers[i], PinMode.Input);
            _pins[i].ValueChanged += OnPinChanged;
            // A contact that is closed before the box starts is stuck or leant on, so it is not a press.
            _down[i] = _pins[i].Read() == PinValue.Low;
            _downAtStart[i] = _down[i];
        }
    }

    /// <summary>The first button that is stuck: it has been down since before the box started, or for longer than <see cref="StuckUs"/>. -1 when none is.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public int StuckButton(long nowUs)
    {
        for (int i = 0; i < Count; i++)
        {
            if (_down[i] && (_downAtStart[i] || nowUs - _changedUs[i] > StuckUs)) return i;
        }
        return -1;
    }

    /// <summary>How long the button that was sampled last had been down, if it came up just now, µs; otherwise 0.</summary>
    public long HeldUs { get; private set; }

    /// <summary>Samples one button. Returns true when it went down just now; <paramref name="atUs"/> is then the time of that edge.</summary>
    /// <param name="button">The button.</param>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="atUs">When the press began, µs.</param>
    public bool Sample(Button button, long nowUs, out long atUs)
    {
        int i = (int)button;
        atUs = nowUs;
        HeldUs = 0;
        if (nowUs - _changedUs[i] < LockoutUs) return false;
        bool level = _pins[i].Read() == PinValue.Low;
        long fell = _fellUs[i];
        bool stamped = fell > _changedUs[i] + LockoutUs;
        bool tapped = !_down[i] && fell > _changedUs[i] + LateEventUs;
        if (level == _down[i] && !tapped) return false;
        if (!_down[i])
        {
            if (stamped && nowUs - fell < StampUs) atUs = fell;
            else _owedUs[i] = nowUs + OwedUs;
            _down[i] = true;
            _changedUs[i] = nowUs;
            return true;
        }
        _down[i] = false;
        bool wasPress = !_downAtStart[i];
        _downAtStart[i] = false;
        HeldUs = wasPress ? nowUs - _changedUs[i] : 0;
        _changedUs[i] = nowUs;
        return false;
    }

    private void OnPinChanged(object sender, PinValueChangedEventArgs change)
    {
        for (int i = 0; i < Count; i++)
        {
            if (_pinNumbers[i] != change.PinNumber) continue;
            long now = _clock.NowUs;
            // An edge soon after another, falling or rising, is bounce. It may be the bounce of a press, or that of a release whose events come
            // late, because late events come together.
            bool bounce = _eventUs[i] != 0 && now - _eventUs[i] <= LockoutUs;
            _eventUs[i] = now;
            if (bounce || change.ChangeType != PinEventTypes.Falling) return;
            bool seen = _down[i] || now < _owedUs[i];
            _owedUs[i] = 0;
            if (!seen) _fellUs[i] = now;
            return;
        }
    }
}

using System;
using System.Device.Adc;
using Intervalometer.Drivers.Battery;

namespace Intervalometer.Esp32;

/// <summary>The battery through the ESP32's first converter, channel 6 on <see cref="PinMap.Battery"/>. Without an answer it reads -1 for good.</summary>
public sealed class EspBatteryGauge : IBatteryGauge
{
    // By design; what the BENCH card was set to is reckoned in afterwards.
    private const int ReferenceMillivolts = GaugeScale.DesignReferenceMillivolts;

    // The runtime's channel number of GPIO 34 (nf-interpreter, System.Device.Adc for the ESP32).
    private const int Channel = 6;

    private readonly GaugeScale _scale = new GaugeScale(ReferenceMillivolts);
    private readonly AdcChannel? _channel;

    /// <summary>Opens the channel.</summary>
    public EspBatteryGauge()
    {
        try
        {
            _channel = new AdcController().OpenChannel(Channel);
        }
        catch (Exception)
        {
            _channel = null;
        }
    }

    /// <inheritdoc/>
    public int ReadMillivolts()
    {
        if (_channel == null) return -1;
        try
        {
            return _scale.Millivolts(_channel.ReadValue());
        }
        catch (Exception)
        {
            return -1;
        }
    }
}

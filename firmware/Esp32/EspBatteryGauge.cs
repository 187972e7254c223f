using System;
using System.Device.Adc;
using Intervalometer.Drivers.Battery;

namespace Intervalometer.Esp32;

/// <summary>The battery through the ESP32's ADC1, channel 6 on <see cref="PinMap.Battery"/>. When the converter cannot be opened, every reading is -1.</summary>
public sealed class EspBatteryGauge : IBatteryGauge
{
    // The reference by design. The correction that was set on the BENCH card is applied afterwards.
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

using Intervalometer.Tests.DeviceBoard;

namespace System.Device.Adc;

public enum AdcChannelMode
{
    SingleEnded = 0,
    Differential,
}

public abstract class AdcControllerBase
{
    public abstract bool IsChannelModeSupported(AdcChannelMode channelMode);
    public abstract AdcChannel OpenChannel(int channelNumber);
    public abstract int ChannelCount { get; }
    public abstract AdcChannelMode ChannelMode { get; set; }
    public abstract int MaxValue { get; }
    public abstract int MinValue { get; }
    public abstract int ResolutionInBits { get; }
}

public class AdcController : AdcControllerBase
{
    private const int Bits = 12;

    public AdcController() => Bench.PowerOn();
    public override int ChannelCount => 8;
    public override AdcChannelMode ChannelMode { get; set; }
    public override int MaxValue => (1 << Bits) - 1;
    public override int MinValue => 0;
    public override int ResolutionInBits => Bits;
    public override bool IsChannelModeSupported(AdcChannelMode channelMode) => channelMode == AdcChannelMode.SingleEnded;
    public override AdcChannel OpenChannel(int channelNumber) => new AdcChannel(this);
}

public abstract class AdcChannelBase
{
    private readonly AdcController _controller;

    internal AdcChannelBase(AdcController controller) => _controller = controller;
    public abstract int ReadValue();
    public double ReadRatio() => ReadValue() / 4095.0;
    public AdcController Controller => _controller;
}

public class AdcChannel : AdcChannelBase, IDisposable
{
    internal AdcChannel(AdcController controller)
        : base(controller)
    {
    }

    public override int ReadValue() => Script.BatteryCount();

    public void Dispose()
    {
    }
}

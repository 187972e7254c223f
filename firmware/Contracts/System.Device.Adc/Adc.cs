// This contract is declaration-only: it never runs and is not for flashing. See ../README.md.
#nullable disable

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
    public AdcController() => throw new NotImplementedException();
    public override int ChannelCount => throw new NotImplementedException();
    public override AdcChannelMode ChannelMode { get => throw new NotImplementedException(); set => throw new NotImplementedException(); }
    public override int MaxValue => throw new NotImplementedException();
    public override int MinValue => throw new NotImplementedException();
    public override int ResolutionInBits => throw new NotImplementedException();
    public override bool IsChannelModeSupported(AdcChannelMode channelMode) => throw new NotImplementedException();
    public override AdcChannel OpenChannel(int channelNumber) => throw new NotImplementedException();
}

public abstract class AdcChannelBase
{
    public abstract int ReadValue();
    public double ReadRatio() => throw new NotImplementedException();
    public AdcController Controller => throw new NotImplementedException();
}

public class AdcChannel : AdcChannelBase, IDisposable
{
    internal AdcChannel() => throw new NotImplementedException();
    public override int ReadValue() => throw new NotImplementedException();
    public void Dispose() => throw new NotImplementedException();
}

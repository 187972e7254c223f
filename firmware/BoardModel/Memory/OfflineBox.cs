using Intervalometer.Core.Release;
using Intervalometer.Core.Link;
using Intervalometer.Drivers;
using Intervalometer.Drivers.At24c32;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Memory;

/// <summary>The firmware's own store on a model of the memory, without the rest of the box. It reads images and makes them.</summary>
public sealed class OfflineBox
{
    private const int StepUs = 11_000;
    private const int MostSteps = 20_000;

    private readonly VirtualClock _clock = new();
    private readonly At24c32Model _chip;

    /// <summary>Starts on an image, or on a blank chip.</summary>
    public OfflineBox(byte[]? cells = null)
    {
        _chip = new At24c32Model(_clock);
        if (cells is not null) _chip.Fill(cells);
        Settings = new BoxSettings();
        Shore = new ShoreDesk(new ShoreSettings(), Settings);
        Keeper = new StoreKeeper(new At24c32(new Wire(_chip)), Settings, Shore, new RunLink(new NoLines()), Health);
        Keeper.Load(_clock.NowUs);
    }

    /// <summary>The camera side.</summary>
    public BoxSettings Settings { get; }

    /// <summary>The shore side.</summary>
    public ShoreDesk Shore { get; }

    /// <summary>What is wrong with the memory.</summary>
    public BoxHealth Health { get; } = new();

    /// <summary>The store.</summary>
    public StoreKeeper Keeper { get; }

    /// <summary>The payload of a record; null when the memory holds no sound copy.</summary>
    public byte[]? Payload(RecordId id)
    {
        if (Keeper.Records.Status(id) is not (RecordStatus.Good or RecordStatus.OneCopy)) return null;
        var bytes = new byte[StoreMap.Capacity(id)];
        int length = Keeper.Records.Load(id, bytes);
        return length < 0 ? null : bytes[..length];
    }

    /// <summary>Lets the store write whatever was changed, and gives the cells.</summary>
    public byte[] Settle()
    {
        for (int i = 0; i < MostSteps; i++)
        {
            _clock.AdvanceTo(_clock.NowUs + StepUs);
            Keeper.Step(_clock.NowUs, true, long.MaxValue);
            if (Keeper.Settled) return _chip.Snapshot();
        }
        throw new InvalidOperationException("The store does not come to rest on a sound chip.");
    }

    private sealed class Wire(At24c32Model chip) : ITwoWireDevice
    {
        public bool Write(byte[] data) => chip.Write(data);

        public bool Read(byte[] data) => chip.Read(data);

        public bool WriteRead(byte[] output, byte[] input) => chip.Write(output) && chip.Read(input);
    }

    private sealed class NoLines : IReleaseLines
    {
        public void Set(ReleaseLine line, bool closed)
        {
        }

        public void OpenAll()
        {
        }
    }
}

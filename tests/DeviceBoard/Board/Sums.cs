namespace Intervalometer.Tests.DeviceBoard;

/// <summary>The checksums of the pictures that the display showed one after the other. If there are many, only the newest are kept.</summary>
public sealed class Sums
{
    private const int Room = 80;

    private readonly int[] _sums = new int[Room];
    private int _count;

    /// <summary>Forgets every checksum.</summary>
    public void Clear() => _count = 0;

    /// <summary>Keeps a checksum that differs from the one before.</summary>
    public void Add(int sum)
    {
        if (_count > 0 && _sums[(_count - 1) % Room] == sum) return;
        _sums[_count % Room] = sum;
        _count++;
    }

    /// <summary>Every checksum that is kept, the newest first, each after a space.</summary>
    public string Words()
    {
        string words = "";
        for (int i = _count - 1; i >= 0 && i >= _count - Room; i--) words += " " + _sums[i % Room].ToString("X8");
        return words;
    }
}

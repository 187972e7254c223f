using Intervalometer.Core.Exposure;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The stacks in the record of the kit.</summary>
[TestClass]
public class StoreStackTests
{
    /// <summary>A record of older firmware ends before the stacks: its filters are read, and there are no stacks.</summary>
    [TestMethod]
    public void AKitWithoutStacksIsReadAsItWas()
    {
        byte[] data = new byte[240];
        Bytes bytes = new Bytes(data, data.Length);
        KitRecord.Put(StoreTests.FullKit(), bytes);
        Assert.IsFalse(bytes.Bad, "a full kit and all its stacks fit");
        int before = bytes.At - 2 * FilterStacks.Slots;
        FilterKit? old = KitRecord.Take(new Bytes(data, before));
        Assert.IsTrue(old != null);
        Assert.AreEqual(FilterKit.Capacity, old!.Count);
        Assert.AreEqual(0, old.Stacks.Count);
        // A stack of filters that the kit does not have makes no sense.
        data[0] = 0;
        data[1] = 1;
        Assert.IsTrue(KitRecord.Take(new Bytes(data, 3)) == null);
    }
}

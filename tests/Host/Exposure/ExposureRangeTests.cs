using Intervalometer.Core.Exposure;

namespace Intervalometer.Tests.Host.Exposure;

/// <summary>Every range holds at both its ends, and one step outside is refused in one line that names the value.</summary>
[TestClass]
public class ExposureRangeTests
{
    private static void Range(int low, int high, Action<int> set)
    {
        set(low);
        set(high);
        foreach (int outside in new[] { low - 1, high + 1 })
        {
            string message = Assert.ThrowsExactly<ArgumentException>(() => set(outside)).Message;
            Assert.IsTrue(message.Contains(outside.ToString()) && message.EndsWith('.') && !message.Contains('\n'), message);
        }
    }

    private static Filter NewFilter() => new("ND", FilterKind.Nd);

    [TestMethod] public void Shutter() => Range(-39, 15, i => _ = new ShutterSetting(i));
    [TestMethod] public void Aperture() => Range(0, 36, i => _ = new ApertureSetting(i));
    [TestMethod] public void Iso() => Range(-6, 24, i => _ = new IsoSetting(i));
    [TestMethod] public void Film() => Range(0, 7, i => _ = new FilmCurve(i));
    [TestMethod] public void HandTrim() => Range(-30, 30, i => _ = new MeteredBase(default, default, default, i));
    [TestMethod] public void Trim() => Range(-20, 20, i => NewFilter().TrimTenths = i);
    [TestMethod] public void Effect() => Range(0, 20, i => NewFilter().EffectTenths = i);
    [TestMethod] public void StrengthInStops() => Range(0, 2000, i => NewFilter().SetStrength(FilterScale.Stops, i));
    [TestMethod] public void StrengthInDensity() => Range(0, 600, i => NewFilter().SetStrength(FilterScale.Density, i));
    [TestMethod] public void StrengthAsFactor() => Range(1, 1000000, i => NewFilter().SetStrength(FilterScale.Factor, i));

    [TestMethod]
    public void Share()
    {
        foreach (int share in new[] { 0, 50, 100 }) NewFilter().SharePercent = share;
        foreach (int share in new[] { -50, 1, 49, 101 })
        {
            string message = Assert.ThrowsExactly<ArgumentException>(() => NewFilter().SharePercent = share).Message;
            Assert.AreEqual($"Filter ND: share {share} is not 0, 50 or 100. Use one of these.", message);
        }
    }

    [TestMethod]
    public void PlacesInTheKit()
    {
        FilterKit kit = FilterKit.Starter();
        foreach (int place in new[] { -1, FilterKit.Capacity, FilterKit.Capacity + 5 })
        {
            string expected = $"Filter kit: no place {place + 1} among 13. Choose one that is listed.";
            Assert.AreEqual(expected, Assert.ThrowsExactly<ArgumentException>(() => _ = kit[place]).Message);
            Assert.AreEqual(expected, Assert.ThrowsExactly<ArgumentException>(() => kit.RemoveAt(place)).Message);
            Assert.AreEqual(expected, Assert.ThrowsExactly<ArgumentException>(() => kit.Rename(place, "X")).Message);
            Assert.AreEqual(expected, Assert.ThrowsExactly<ArgumentException>(() => kit.Move(place, 0)).Message);
            Assert.AreEqual(expected, Assert.ThrowsExactly<ArgumentException>(() => kit.Move(0, place)).Message);
        }
        Assert.AreEqual("Filter kit: no filter called X. Check the name.", Assert.ThrowsExactly<ArgumentException>(() => kit.Remove("X")).Message);
        Assert.AreEqual("Filter kit: nd 1.8 is there already. Choose another name.", Assert.ThrowsExactly<ArgumentException>(() => kit.Rename(0, "nd 1.8")).Message);
        Assert.AreEqual(13, kit.Count);
    }

    // Names are for a 128-dot panel: no starter filter carries more than trade notation, and all are off.
    [TestMethod]
    public void StarterKitIsPlainAndOff()
    {
        FilterKit kit = FilterKit.Starter();
        string[] names = Enumerable.Range(0, kit.Count).Select(i => kit[i].Name).ToArray();
        CollectionAssert.AreEqual(new[] { "ND 0.9", "ND 1.8", "ND 3.0", "GRAD 0.9H", "GRAD 0.9S", "GRAD 0.9R", "GRAD 0.6H", "GRAD 0.6S", "GRAD 0.6R", "GRAD 1.2H", "GRAD 1.2S", "GRAD 1.2R", "POL" }, names);
        Assert.IsFalse(Enumerable.Range(0, kit.Count).Any(i => kit[i].On));
        string[] words = Enumerable.Range(0, FilterKinds.Count).Select(i => FilterKinds.Words((FilterKind)i)).ToArray();
        CollectionAssert.AreEqual(new[] { "ND", "hard grad", "soft grad", "reverse grad", "polariser", "other" }, words);
    }
}

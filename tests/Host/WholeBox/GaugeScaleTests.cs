using Intervalometer.Drivers.Battery;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>The gauge's scale against the maker's line for an uncalibrated chip.</summary>
[TestClass]
public class GaugeScaleTests
{
    /// <summary>esp-idf, esp_adc_cal: ADC1 at 11 dB reads 2.99991113 times the reference over 4096 counts, plus 142.19 mV; twice that is the cell.</summary>
    [TestMethod]
    public void EveryCountIsWithinTwoMillivoltsOfTheMakersLine()
    {
        foreach (int reference in new[] { 1000, 1100, 1200 })
        {
            var scale = new GaugeScale(reference);
            for (int count = 0; count <= GaugeScale.MostCounts; count++)
            {
                double cell = 2 * (2.99991113 * reference * count / 4096 + 142.18959459);
                Assert.AreEqual(cell, scale.Millivolts(count), 2, $"reference {reference} mV, count {count}");
            }
        }
    }

    [TestMethod]
    public void ACountOutsideTheConverterIsNoReading()
    {
        var scale = new GaugeScale(1100);
        Assert.AreEqual(-1, scale.Millivolts(-1));
        Assert.AreEqual(-1, scale.Millivolts(4096));
    }

    [TestMethod]
    public void TheCountOfAVoltageReadsBackWithinAStep()
    {
        var scale = new GaugeScale(1100);
        for (int millivolts = 300; millivolts <= 6800; millivolts += 7)
        {
            Assert.AreEqual(millivolts, scale.Millivolts(scale.Count(millivolts)), 3, $"{millivolts} mV");
        }
        Assert.AreEqual(0, scale.Count(0));
        Assert.AreEqual(GaugeScale.MostCounts, scale.Count(9000));
    }

    /// <summary>A chip at either end of the maker's 1000 to 1200 mV, read as if it were at 1100: what the doc comment says.</summary>
    [TestMethod]
    public void AnUncalibratedChipMisreadsByAsMuchAsIsStated()
    {
        var design = new GaugeScale(GaugeScale.DesignReferenceMillivolts);
        Assert.AreEqual(3820, design.Millivolts(new GaugeScale(1000).Count(3500)), 5);
        Assert.AreEqual(3230, design.Millivolts(new GaugeScale(1200).Count(3500)), 5);
        Assert.AreEqual(design.Millivolts(2000), new GaugeScale(1100).Millivolts(2000));
        Assert.AreEqual(new GaugeScale(1200).Millivolts(2000), new GaugeScale(5000).Millivolts(2000), "the figure is kept within what a chip can have");
    }
}

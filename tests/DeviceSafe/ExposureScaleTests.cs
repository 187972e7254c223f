using Intervalometer.Core.Exposure;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Stops and the three third-stop scales: facts that must hold on the device and the PC alike.</summary>
[TestClass]
public class ExposureScaleTests
{
    [TestMethod]
    public void DensitiesAndFactorsAreStops()
    {
        // ISO 5-1: density is log10 of 1/transmittance; a stop is a factor of two.
        Check.Near(0.997, Stops.FromDensity(0.3).Value, 0.0005, "0.3");
        Check.Near(1.993, Stops.FromDensity(0.6).Value, 0.0005, "0.6");
        Check.Near(2.990, Stops.FromDensity(0.9).Value, 0.0005, "0.9");
        Check.Near(5.979, Stops.FromDensity(1.8).Value, 0.0005, "1.8");
        Check.Near(9.966, Stops.FromDensity(3.0).Value, 0.0005, "3.0");
        Assert.IsTrue(Stops.FromFactor(8).Value == 3, "factor 8");
        Assert.IsTrue(Stops.FromFactor(64).Value == 6, "factor 64");
        Check.Near(8.644, Stops.FromFactor(400).Value, 0.0005, "factor 400");
        Check.Near(9.966, Stops.FromFactor(1000).Value, 0.0005, "factor 1000");
        Check.Near(3.0, Stops.FromDensity(3.0).Density, 1e-12, "back to density");
        Assert.IsTrue(new Stops(10).Factor == 1024, "2^10");
        Assert.AreEqual("9.97", ExposureText.StopsOf(Stops.FromDensity(3.0)));
    }

    [TestMethod]
    public void StopsAddAndCompare()
    {
        Stops one = new Stops(1);
        Stops third = Stops.FromThirds(1);
        Assert.IsTrue((one + one).Value == 2 && (one - one).Value == 0 && (-one).Value == -1, "sums");
        Assert.IsTrue(third < one && one > third && third <= one && one >= Stops.FromThirds(3), "stops compare in their order");
        Assert.AreEqual(-1, third.CompareTo(one));
        Assert.AreEqual(0, one.CompareTo(one));
        Assert.AreEqual(1, one.CompareTo(third));
    }

    [TestMethod]
    public void ShutterFiguresStandForPowersOfTwo()
    {
        IsMark("1/8000", -39);
        IsMark("1/6400", -38);
        IsMark("1/4000", -36);
        IsMark("1/1000", -30);
        IsMark("1/60", -18);
        IsMark("1/50", -17);
        IsMark("1/15", -12);
        IsMark("1/13", -11);
        IsMark("0.3", -5);
        IsMark("0.5", -3);
        IsMark("1", 0);
        IsMark("15", 12);
        IsMark("30", 15);
        Assert.IsTrue(Shutter("1/60").Seconds == 0.015625, "1/60 is 2^-6 s");
        Assert.IsTrue(Shutter("15").Seconds == 16, "15 is 16 s");
        Assert.IsTrue(Shutter("30").Seconds == 32, "30 is 32 s");
    }

    [TestMethod]
    public void ApertureAndIsoFiguresStandForPowersOfTwo()
    {
        ApertureSetting aperture;
        IsoSetting iso;
        string problem;
        Assert.IsTrue(ApertureSetting.TryParse("f/8", out aperture, out problem), problem);
        Assert.IsTrue(aperture.Number == 8 && aperture.Index == 18, "f/8");
        Assert.IsTrue(ApertureSetting.TryParse(" F5.6 ", out aperture, out problem), problem);
        Check.Near(5.656854, aperture.Number, 1e-6, "f/5.6");
        Assert.IsTrue(ApertureSetting.TryParse("11", out aperture, out problem), problem);
        Assert.AreEqual(21, aperture.Index);
        Assert.IsTrue(IsoSetting.TryParse("ISO 100", out iso, out problem), problem);
        Assert.IsTrue(iso.Speed == 100 && iso.Index == 0, "ISO 100");
        Assert.IsTrue(IsoSetting.TryParse("25600", out iso, out problem), problem);
        Assert.IsTrue(iso.Speed == 25600, "ISO 25600");
    }

    [TestMethod]
    public void ManyWaysToWriteOneFigure()
    {
        Assert.AreEqual(-18, Shutter("1/60s").Index);
        Assert.AreEqual(-18, Shutter(" 1/60 S ").Index);
        Assert.AreEqual(-3, Shutter("1/2").Index);
        Assert.AreEqual(3, Shutter("2.0").Index);
    }

    [TestMethod]
    public void RefusalsNameTheNearestFigures()
    {
        Refused("1/70", "Shutter '1/70': not a third-stop figure. Nearest: 1/80 or 1/60.");
        Refused("60", "Shutter '60': above the scale. The largest is 30.");
        Refused("1/9000", "Shutter '1/9000': below the scale. The smallest is 1/8000.");
        Refused("soon", "Shutter 'soon': not a value. Write 1/60, 0.5 or 8.");
        Refused("", "Shutter '': not a value. Write 1/60, 0.5 or 8.");
        Refused(null, "Shutter '': not a value. Write 1/60, 0.5 or 8.");
        Refused("1/0", "Shutter '1/0': not a value. Write 1/60, 0.5 or 8.");
        Refused("1/", "Shutter '1/': not a value. Write 1/60, 0.5 or 8.");
        Refused("-1", "Shutter '-1': not a value. Write 1/60, 0.5 or 8.");
        Refused("1.2.3", "Shutter '1.2.3': not a value. Write 1/60, 0.5 or 8.");
        Refused("1234567890123", "Shutter '123456789012..': not a value. Write 1/60, 0.5 or 8.");
        ApertureSetting aperture;
        IsoSetting iso;
        string problem;
        Assert.IsFalse(ApertureSetting.TryParse("f/8.5", out aperture, out problem));
        Assert.AreEqual("Aperture 'f/8.5': not a third-stop figure. Nearest: 8 or 9.", problem);
        Assert.IsFalse(IsoSetting.TryParse("iso 12", out iso, out problem));
        Assert.AreEqual("ISO 'iso 12': below the scale. The smallest is 25.", problem);
    }

    [TestMethod]
    public void NearestAndStepsStayOnTheDial()
    {
        Assert.AreEqual(0, ShutterSetting.Nearest(1.1).Index);
        Assert.AreEqual(1, ShutterSetting.Nearest(1.2).Index);
        Assert.AreEqual(15, ShutterSetting.Nearest(1e9).Index);
        Assert.AreEqual(-39, ShutterSetting.Nearest(0).Index);
        Assert.AreEqual(15, ShutterSetting.Max.Step(5).Index);
        Assert.AreEqual(0, ApertureSetting.Min.Step(-1).Index);
        Assert.AreEqual(23, IsoSetting.Max.Step(-1).Index);
    }

    [TestMethod]
    public void TimesReadPlainly()
    {
        Assert.AreEqual("64.00 s", ExposureText.Seconds(64));
        Assert.AreEqual("128.0 s", ExposureText.Seconds(128));
        Assert.AreEqual("0.315 s", ExposureText.Seconds(Shutter("0.3").Seconds));
        Assert.AreEqual("0.122 ms", ExposureText.Seconds(Shutter("1/8000").Seconds));
        Assert.AreEqual("over 11 days", ExposureText.Seconds(1e300));
        Assert.AreEqual("2:08", ExposureText.Clock(128));
        Assert.AreEqual("1:04:00", ExposureText.Clock(3840));
        Assert.AreEqual("over 11 days", ExposureText.Clock(1e300));
        Assert.AreEqual("2^-6 = 15.63 ms", ExposureText.TrueTime(Shutter("1/60")));
        Assert.AreEqual("2^(-17/3) = 19.69 ms", ExposureText.TrueTime(Shutter("1/50")));
        Assert.AreEqual("2^5 = 32.00 s", ExposureText.TrueTime(Shutter("30")));
        Assert.AreEqual("-0.03", ExposureText.StopsOf(new Stops(-0.034)));
        Assert.AreEqual("0.00", ExposureText.StopsOf(new Stops(-0.004)));
        Assert.AreEqual("0", ExposureText.Thirds(0));
        Assert.AreEqual("+1 1/3", ExposureText.Thirds(4));
        Assert.AreEqual("-2/3", ExposureText.Thirds(-2));
        Assert.AreEqual("-10", ExposureText.Thirds(-30));
    }

    private static void IsMark(string label, int index)
    {
        Assert.AreEqual(index, Shutter(label).Index, label);
        Assert.AreEqual(label, new ShutterSetting(index).Label);
    }

    private static ShutterSetting Shutter(string text)
    {
        ShutterSetting value;
        string problem;
        Assert.IsTrue(ShutterSetting.TryParse(text, out value, out problem), problem);
        return value;
    }

    private static void Refused(string? text, string expected)
    {
        ShutterSetting value;
        string problem;
        Assert.IsFalse(ShutterSetting.TryParse(text, out value, out problem), expected);
        Assert.AreEqual(expected, problem);
    }
}

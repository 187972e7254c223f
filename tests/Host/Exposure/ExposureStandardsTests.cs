using System.Globalization;
using Intervalometer.Core.Exposure;

namespace Intervalometer.Tests.Host.Exposure;

/// <summary>Scales, filters and film against published tables. The arithmetic here is .NET's own, not the project's.</summary>
[TestClass]
public class ExposureStandardsTests
{
    private static readonly ShutterSetting[] Shutters = Enumerable.Range(ShutterSetting.MinIndex, 55).Select(i => new ShutterSetting(i)).ToArray();
    private static readonly ApertureSetting[] Apertures = Enumerable.Range(ApertureSetting.MinIndex, 37).Select(i => new ApertureSetting(i)).ToArray();
    private static readonly IsoSetting[] Speeds = Enumerable.Range(IsoSetting.MinIndex, 31).Select(i => new IsoSetting(i)).ToArray();

    // Renard series R10, ISO 3:1973 preferred numbers, one decade (from memory).
    private static readonly double[] R10 = [1.00, 1.25, 1.60, 2.00, 2.50, 3.15, 4.00, 5.00, 6.30, 8.00];

    private static double Printed(string label) => label.StartsWith("1/", StringComparison.Ordinal)
        ? 1 / double.Parse(label[2..], CultureInfo.InvariantCulture)
        : double.Parse(label, CultureInfo.InvariantCulture);

    // Exif 2.2 (JEITA CP-3451) annex on APEX units, exposure time against Tv (from memory).
    [TestMethod]
    [DataRow("30", -5), DataRow("15", -4), DataRow("8", -3), DataRow("4", -2), DataRow("2", -1), DataRow("1", 0)]
    [DataRow("1/2", 1), DataRow("1/4", 2), DataRow("1/8", 3), DataRow("1/15", 4), DataRow("1/30", 5), DataRow("1/60", 6)]
    [DataRow("1/125", 7), DataRow("1/250", 8), DataRow("1/500", 9), DataRow("1/1000", 10), DataRow("1/2000", 11)]
    public void ShutterFiguresHaveTheirApexTimeValue(string text, int timeValue)
    {
        Assert.IsTrue(ShutterSetting.TryParse(text, out ShutterSetting shutter, out string problem), problem);
        Assert.AreEqual(Math.Pow(2, -timeValue), shutter.Seconds);
    }

    // The same annex, f-number against Av (from memory).
    [TestMethod]
    [DataRow("f/1", 0), DataRow("f/1.4", 1), DataRow("f/2", 2), DataRow("f/2.8", 3), DataRow("f/4", 4), DataRow("f/5.6", 5)]
    [DataRow("f/8", 6), DataRow("f/11", 7), DataRow("f/16", 8), DataRow("f/22", 9), DataRow("f/32", 10), DataRow("f/45", 11), DataRow("f/64", 12)]
    public void ApertureFiguresHaveTheirApexApertureValue(string text, int apertureValue)
    {
        Assert.IsTrue(ApertureSetting.TryParse(text, out ApertureSetting aperture, out string problem), problem);
        Assert.AreEqual(Math.Pow(2, apertureValue / 2.0), aperture.Number, 1e-12);
    }

    // APEX speed value Sv = log2(speed / 3.125), so ISO 100 is 5 (ASA PH2.5-1960, as the Exif annex repeats it).
    [TestMethod]
    [DataRow("25", 3), DataRow("50", 4), DataRow("100", 5), DataRow("200", 6), DataRow("400", 7), DataRow("800", 8), DataRow("1600", 9), DataRow("3200", 10)]
    public void SpeedFiguresHaveTheirApexSpeedValue(string text, int speedValue)
    {
        Assert.IsTrue(IsoSetting.TryParse(text, out IsoSetting speed, out string problem), problem);
        Assert.AreEqual(speedValue, Math.Log2(speed.Speed / 3.125), 1e-12);
    }

    // EV 15 at ISO 100 is f/16 at 1/125, EV 0 is f/1 at 1 s (ISO 2720 exposure values, as in every handbook's EV table).
    [TestMethod]
    [DataRow("1", "1", "100", 0.0, 0.0)]
    [DataRow("16", "1/125", "100", 15.0, 15.0)]
    [DataRow("8", "1/30", "100", 11.0, 11.0)]
    [DataRow("8", "1/30", "400", 11.0, 9.0)]
    [DataRow("2.8", "4", "1600", 1.0, -3.0)]
    public void ExposureValuesMatchTheTable(string aperture, string shutter, string iso, double ev, double ev100)
    {
        Assert.IsTrue(ApertureSetting.TryParse(aperture, out ApertureSetting n, out _));
        Assert.IsTrue(ShutterSetting.TryParse(shutter, out ShutterSetting t, out _));
        Assert.IsTrue(IsoSetting.TryParse(iso, out IsoSetting s, out _));
        MeteredBase metered = new(n, s, t, 0);
        Assert.AreEqual(ev, metered.Ev, 1e-12);
        Assert.AreEqual(Math.Log2(n.Number * n.Number / t.Seconds), metered.Ev, 1e-12);
        Assert.AreEqual(ev100, metered.Ev100, 1e-12);
    }

    [TestMethod]
    public void TrueValuesMatchTheLibrary()
    {
        foreach (ShutterSetting s in Shutters) Assert.AreEqual(1, s.Seconds / Math.Pow(2, s.Index / 3.0), 1e-15, s.Label);
        foreach (ApertureSetting a in Apertures) Assert.AreEqual(1, a.Number / Math.Pow(2, a.Index / 6.0), 1e-15, a.Label);
        foreach (IsoSetting i in Speeds) Assert.AreEqual(1, i.Speed / (100 * Math.Pow(2, i.Index / 3.0)), 1e-15, i.Label);
    }

    // A third-stop figure that strayed a sixth of a stop would be nearer to its neighbour.
    [TestMethod]
    public void EveryPrintedFigureIsWithinASixthOfAStop()
    {
        foreach (ShutterSetting s in Shutters) Assert.AreEqual(0, Math.Log2(Printed(s.Label) / s.Seconds), 1.0 / 6, s.Label);
        foreach (ApertureSetting a in Apertures) Assert.AreEqual(0, 2 * Math.Log2(Printed(a.Label) / a.Number), 1.0 / 6, a.Label);
        foreach (IsoSetting i in Speeds) Assert.AreEqual(0, Math.Log2(Printed(i.Label) / i.Speed), 1.0 / 6, i.Label);
    }

    // Third stops of f-number as the public encyclopaedia's table of typical scales prints them, f/1 to f/22, and on by common practice.
    [TestMethod]
    public void ApertureFiguresAreTheTypicalThirdStopScale() => Assert.AreEqual(
        "1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 18 20 22 25 29 32 36 40 45 51 57 64",
        string.Join(' ', Apertures.Select(a => a.Label)));

    // ISO 2240 and ISO 5800 give arithmetic speeds on the R10 series of ISO 3, with 32 and 64 for 31.5 and 63; from 12800 up
    // cameras double 6400 instead (common practice, no source).
    [TestMethod]
    public void SpeedFiguresFollowThePreferredNumbers()
    {
        foreach (IsoSetting speed in Speeds.Where(s => s.Label is not ("12800" or "25600")))
        {
            double printed = Printed(speed.Label);
            double mantissa = printed / Math.Pow(10, Math.Floor(Math.Log10(printed) + 1e-9));
            Assert.IsTrue(R10.Any(r => Math.Abs(r / mantissa - 1) < 0.017), speed.Label);
        }
    }

    // Up to 1 s the figures follow R10 too, but for the doubled series 1/4, 1/8, 1/15 .. that carries the whole stops
    // (ISO 516 nominal exposure times): then the whole stops, and figures within 8 per cent of R10 between them.
    [TestMethod]
    public void ShutterFiguresFollowThePreferredNumbers()
    {
        string[] whole = ["1/4000", "1/2000", "1/1000", "1/500", "1/250", "1/125", "1/60", "1/30", "1/15", "1/8", "1/4", "0.5", "1", "2", "4", "8", "15", "30"];
        CollectionAssert.AreEqual(whole, Shutters.Where(s => s.Index % 3 == 0).Skip(1).Select(s => s.Label).ToArray());
        foreach (ShutterSetting shutter in Shutters.Where(s => s.Index % 3 != 0))
        {
            double printed = Printed(shutter.Label);
            if (printed < 1) printed = 1 / printed;
            double mantissa = printed / Math.Pow(10, Math.Floor(Math.Log10(printed) + 1e-9));
            Assert.IsTrue(R10.Any(r => Math.Abs(r / mantissa - 1) < 0.08), shutter.Label);
        }
    }

    // Density, stops and transmittance as a published table of neutral-density filters rounds them: the round stops hold
    // within a twentieth of a stop.
    [TestMethod]
    [DataRow(30, 1, 50.0), DataRow(60, 2, 25.0), DataRow(90, 3, 12.5), DataRow(120, 4, 6.25), DataRow(150, 5, 3.125)]
    [DataRow(180, 6, 1.563), DataRow(210, 7, 0.781), DataRow(240, 8, 0.391), DataRow(270, 9, 0.195), DataRow(300, 10, 0.098), DataRow(390, 13, 0.012)]
    public void DensitiesMatchTheFilterTable(int densityHundredths, int roundStops, double transmittancePercent)
    {
        Filter filter = new("ND", FilterKind.Nd);
        filter.SetStrength(FilterScale.Density, densityHundredths);
        Assert.AreEqual(roundStops, filter.Strength.Value, 0.05);
        Assert.AreEqual(0, Math.Log2(1 / filter.Strength.Factor / (transmittancePercent / 100)), 0.1);
        Assert.AreEqual(densityHundredths / 100.0 / Math.Log10(2), filter.Strength.Value, 1e-13);
    }

    // "Compensating for reciprocity law failure": t' = t^p, the powers of nine films, read in reproductions of the sheet.
    [TestMethod]
    [DataRow("power 1.31", 1.31), DataRow("power 1.26", 1.26), DataRow("power 1.41", 1.41), DataRow("power 1.33", 1.33)]
    [DataRow("power 1.43", 1.43), DataRow("power 1.25", 1.25)]
    public void ThePowersOfTheSheetHold(string label, double exponent)
    {
        FilmCurve film = Enumerable.Range(0, FilmCurve.Count).Select(i => new FilmCurve(i)).Single(f => f.Label == label);
        foreach (double seconds in new[] { 1.0, 2, 10, 60, 175, 1800 })
            Assert.AreEqual(1, film.Corrected(seconds) / Math.Pow(seconds, exponent), 1e-13, $"{label} at {seconds} s");
        Assert.AreEqual(0.25, film.Corrected(0.25));
    }

    // Publication F-4017 (from memory; 12 times at 100 s agrees with a reader's quotation): between the tabled points, log-log.
    [TestMethod]
    [DataRow(0.1, 0.1), DataRow(1, 2), DataRow(10, 50), DataRow(100, 1200)]
    public void TheTableHolds(double metered, double given)
    {
        FilmCurve film = new(FilmCurve.Count - 1);
        Assert.AreEqual(given, film.Corrected(metered), 1e-9 * given);
        double next = film.Corrected(metered * 10), middle = film.Corrected(metered * Math.Sqrt(10));
        Assert.AreEqual(1, middle / Math.Sqrt(given * next), 1e-12, "the log-log middle is the geometric mean");
    }
}

using System;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Optics;
using Intervalometer.Settings;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Depth of field: worked examples, the limits of what can be set, and the same bits on the device and the PC.</summary>
[TestClass]
public class DepthFigureTests
{
    private const int F8 = 18;

    private static DepthOfField At(int focal, int aperture, double circle, double metres) =>
        new DepthOfField(new FocalLength(focal), new ApertureSetting(aperture), new BlurCircle(circle), new Distance(metres));

    /// <summary>
    /// A 50 mm lens at f/8 with a circle of 0.030 mm: 2500 / 0.24 + 50 = 10,467 mm; focused there, half of it to infinity is sharp
    /// (the numerical example of Wikipedia's "Hyperfocal distance", from memory).
    /// </summary>
    [TestMethod]
    public void TheHyperfocalDistanceOfAFiftyIsAsInTheExample()
    {
        DepthOfField depth = At(50, F8, 30, 10.466666666666667);
        Check.Near(10.467, depth.Hyperfocal.Metres, 0.0005, "hyperfocal");
        Check.Near(10.467 / 2, depth.Near.Metres, 0.0005, "half of it");
        Check.Near(30, depth.AtInfinity.Micrometres, 1e-6, "infinity is just sharp");
        Check.Near(1, depth.AtInfinity.Times(new BlurCircle(30)), 1e-6, "one circle");
        Assert.IsTrue(At(50, F8, 30, 10.47).Far.IsInfinite);
        Assert.IsFalse(At(50, F8, 30, 10.46).Far.IsInfinite);
    }

    /// <summary>
    /// An army's correspondence course: a 2 inch lens at f/8 with a circle of 0.002 inch is sharp from 10.4 feet on when it is focused at 20.8 feet
    /// (SS0507, learning event 10, "Calculate hyperfocal distance", at armycommunications.tpub.com). It takes f squared over N c, without the f that is added here.
    /// </summary>
    [TestMethod]
    public void TheHyperfocalDistanceIsThatOfTheCourse()
    {
        DepthOfField depth = At(51, F8, 50.8, 20.8 * 0.3048);
        Check.Near(20.8, depth.Hyperfocal.Metres / 0.3048, 20.8 * 0.02, "feet");
        Check.Near(10.4, depth.Near.Metres / 0.3048, 10.4 * 0.01, "feet");
    }

    /// <summary>50 mm, f/8, 0.030 mm, focused at 5 m: 12,500,000 over 2500 + 0.24 · 4950 and over 2500 - 0.24 · 4950, worked by hand.</summary>
    [TestMethod]
    public void NearAndFarLimitAreThoseWorkedByHand()
    {
        DepthOfField depth = At(50, F8, 30, 5);
        Check.Near(12_500_000.0 / 3688 / 1000, depth.Near.Metres, 1e-9, "near");
        Check.Near(12_500_000.0 / 1312 / 1000, depth.Far.Metres, 1e-9, "far");
        Check.Near(2500.0 / (8 * 4950) * 1000, depth.AtInfinity.Micrometres, 1e-9, "blur of infinity");
    }

    // Core's own values on .NET 10, so that a device which runs this shows that it calculates as the PC does.
    [TestMethod]
    public void TheDeviceReckonsToTheSameBits()
    {
        Same(1.4455057381614993, At(24, 15, 30, 2.5).Near.Metres, "near, 24 mm");
        Same(41.12414236303023, At(24, 15, 30, 2.5).AtInfinity.Micrometres, "blur, 24 mm");
        Same(9.139947862896689, At(85, 20, 20, 7.3).Far.Metres, "far, 85 mm");
        Same(35.925539376469494, At(85, 20, 20, 7.3).Hyperfocal.Metres, "hyperfocal, 85 mm");
        Same(3.5105091444539966, At(210, 28, 105, 4.4).Near.Metres, "near, 210 mm");
        Same(5.893221081655643, At(210, 28, 105, 4.4).Far.Metres, "far, 210 mm");
    }

    private static void Same(double expected, double actual, string what) => Assert.IsTrue(actual == expected, what + " is not the same to the last bit");

    [TestMethod]
    public void WhatMakesNoSenseIsRefusedInWords()
    {
        Assert.AreEqual("Depth of field: the focus must be further away than the focal length, and not at infinity.", Refused(0));
        Assert.AreEqual("Focal length 7 mm: outside 8 to 600. Use one inside.", Refused(1));
        Assert.AreEqual("Film format 8: outside 0 to 7. Use 2 for 36 x 24 mm.", Refused(2));
        Assert.AreEqual("Distance: not above zero. Use metres from the lens.", Refused(3));
        Assert.AreEqual("Blur circle: not above zero. Use its diameter in micrometres.", Refused(4));
        Assert.AreEqual("Depth of field: the focus must be further away than the focal length, and not at infinity.", Refused(5));
    }

    private static string Refused(int what)
    {
        try
        {
            double made = what switch
            {
                0 => At(600, F8, 30, 0.6).Near.Metres,
                1 => new FocalLength(7).Millimetres,
                2 => new FilmFormat(8).Index,
                3 => new Distance(0).Metres,
                4 => new BlurCircle(0).Micrometres,
                _ => new DepthOfField(new FocalLength(50), new ApertureSetting(F8), new BlurCircle(30), Distance.Infinity).Near.Metres,
            };
            return "made " + made.ToString("F2");
        }
        catch (ArgumentException problem)
        {
            return problem.Message;
        }
    }

    [TestMethod]
    public void ALongLensMovesTheFocusToWhereItReaches()
    {
        LensSettings lens = new LensSettings();
        lens.FocusCentimetres = 5;
        Assert.AreEqual(LensSettings.LeastFocus, lens.FocusCentimetres);
        lens.FocalMillimetres = 1000;
        Assert.AreEqual(FocalLength.Most, lens.FocalMillimetres);
        Assert.AreEqual(120, lens.FocusCentimetres, "twice the focal length");
        lens.FocalMillimetres = 0;
        Assert.AreEqual(FocalLength.Least, lens.FocalMillimetres);
        lens.FocusCentimetres = 99_999;
        Assert.AreEqual(LensSettings.MostFocus, lens.FocusCentimetres);
        lens.FormatIndex = 99;
        Assert.AreEqual(FilmFormat.Count - 1, lens.FormatIndex);
    }
}

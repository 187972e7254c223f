using System;
using Intervalometer.Core.Exposure;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Every figure on the three scales, and the error messages just outside the limits of scales, filters and kit.</summary>
[TestClass]
public class ExposureLimitsTests
{
    // What a constructor or a setter says, by number; empty when it takes the value.
    private static string Said(int what, int value)
    {
        try
        {
            Filter filter = new Filter("A", FilterKind.Polariser);
            switch (what)
            {
                case 0: new ApertureSetting(value).Step(0); break;
                case 1: new IsoSetting(value).Step(0); break;
                case 2: new ShutterSetting(value).Step(0); break;
                case 3: new MeteredBase(ApertureSetting.Min, IsoSetting.Min, ShutterSetting.Min, value).Ev.ToString(); break;
                case 4: new FilmCurve(value).ToString(); break;
                case 5: filter.TrimTenths = value; break;
                case 6: filter.EffectTenths = value; break;
                case 7: filter.SharePercent = value; break;
                case 8: filter.SetStrength(FilterScale.Stops, value); break;
                case 9: filter.SetStrength(FilterScale.Density, value); break;
                default: filter.SetStrength(FilterScale.Factor, value); break;
            }
            return "";
        }
        catch (ArgumentException problem)
        {
            return problem.Message;
        }
    }

    private static void Between(int what, int least, int most, string below, string above)
    {
        Assert.AreEqual("", Said(what, least));
        Assert.AreEqual("", Said(what, most));
        Assert.AreEqual(below, Said(what, least - 1));
        Assert.AreEqual(above, Said(what, most + 1));
    }

    [TestMethod]
    public void WhatIsJustOutsideIsRefusedInWords()
    {
        Between(0, 0, 36, "Aperture index -1: outside 0 (f/1) to 36 (f/64).", "Aperture index 37: outside 0 (f/1) to 36 (f/64).");
        Between(1, -6, 24, "ISO index -7: outside -6 (25) to 24 (25600).", "ISO index 25: outside -6 (25) to 24 (25600).");
        Between(2, -39, 15, "Shutter index -40: outside -39 (1/8000) to 15 (30 s).", "Shutter index 16: outside -39 (1/8000) to 15 (30 s).");
        Between(4, 0, 7, "Film curve -1: outside 0 to 7. Use 0 for none.", "Film curve 8: outside 0 to 7. Use 0 for none.");
        IsRefused(3, -30, 30);
        IsRefused(5, -Filter.MaxTrimTenths, Filter.MaxTrimTenths);
        IsRefused(6, 0, Filter.MaxEffectTenths);
        IsRefused(8, 0, Filter.MaxStopsHundredths);
        IsRefused(9, 0, Filter.MaxDensityHundredths);
        IsRefused(10, 1, Filter.MaxFactor);
        for (int share = -1; share <= 101; share++)
        {
            bool taken = share == 0 || share == 50 || share == 100;
            Assert.AreEqual(taken, Said(7, share).Length == 0, "share " + share.ToString());
        }
    }

    // Outside, the value that was given is named.
    private static void IsRefused(int what, int least, int most)
    {
        Assert.AreEqual("", Said(what, least));
        Assert.AreEqual("", Said(what, most));
        Assert.IsTrue(Said(what, least - 1).IndexOf((least - 1).ToString()) > 0, "below " + least.ToString());
        Assert.IsTrue(Said(what, most + 1).IndexOf((most + 1).ToString()) > 0, "above " + most.ToString());
    }

    /// <summary>Figures in thirds as engraved on lenses, meters and dials (common practice, no source; whole stops as in ISO 516 and ISO 2720).</summary>
    [TestMethod]
    public void TheScalesReadAsEngraved()
    {
        string apertures = "", isos = "", times = "";
        for (int i = ApertureSetting.MinIndex; i <= ApertureSetting.MaxIndex; i++) apertures += new ApertureSetting(i).Label + " ";
        for (int i = IsoSetting.MinIndex; i <= IsoSetting.MaxIndex; i++) isos += new IsoSetting(i).Label + " ";
        for (int i = ShutterSetting.MinIndex; i <= ShutterSetting.MaxIndex; i++) times += new ShutterSetting(i).Label + " ";
        Assert.AreEqual(
            "1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 18 20 22 25 29 32 36 40 45 51 57 64 ",
            apertures);
        Assert.AreEqual(
            "25 32 40 50 64 80 100 125 160 200 250 320 400 500 640 800 1000 1250 1600 2000 2500 3200 4000 5000 6400 8000 10000 12800 16000 20000 25600 ",
            isos);
        Assert.AreEqual(
            "1/8000 1/6400 1/5000 1/4000 1/3200 1/2500 1/2000 1/1600 1/1250 1/1000 1/800 1/640 1/500 1/400 1/320 1/250 1/200 1/160 "
                + "1/125 1/100 1/80 1/60 1/50 1/40 1/30 1/25 1/20 1/15 1/13 1/10 1/8 1/6 1/5 1/4 0.3 0.4 0.5 0.6 0.8 1 1.3 1.6 2 2.5 3.2 "
                + "4 5 6 8 10 13 15 20 25 30 ",
            times);
    }

    /// <summary>Exposure value by ISO 2720: f/8 at 1/60 s is EV 12 by true times, and 3 less at ISO 800 for the same light at ISO 100.</summary>
    [TestMethod]
    public void LightIsReckonedBackToIsoHundred()
    {
        MeteredBase metered = new MeteredBase(new ApertureSetting(18), new IsoSetting(9), new ShutterSetting(-18), 0);
        Check.Near(12, metered.Ev, 1e-12, "as metered");
        Check.Near(9, metered.Ev100, 1e-12, "at ISO 100");
    }

    private static FilterKit Six()
    {
        FilterKit kit = new FilterKit();
        kit.Add(new Filter("ND 0.9", FilterKind.Nd));
        kit.Add(new Filter("ND 1.8", FilterKind.Nd));
        kit.Add(new Filter("ND 3.0", FilterKind.Nd));
        kit.Add(new Filter("GRAD 0.6H", FilterKind.HardGrad));
        kit.Add(new Filter("GRAD 0.9R", FilterKind.ReverseGrad));
        kit.Add(new Filter("POL", FilterKind.Polariser));
        return kit;
    }

    private static string KitSaid(int what, int place, string name)
    {
        FilterKit kit = Six();
        try
        {
            switch (what)
            {
                case 0: return kit[place].Name;
                case 1: kit.RemoveAt(place); break;
                case 2: kit.Remove(name); break;
                case 3: kit.Move(place, 0); break;
                case 4: kit.Move(0, place); break;
                default: kit.Rename(place, name); break;
            }
            string names = "";
            for (int i = 0; i < kit.Count; i++) names += kit[i].Name + ";";
            return names;
        }
        catch (ArgumentException problem)
        {
            return problem.Message;
        }
    }

    [TestMethod]
    public void AKitKeepsItsOrderAndNamesThePlaceThatIsNotThere()
    {
        string before = "Filter kit: no place 0 among 6. Choose one that is listed.";
        string behind = "Filter kit: no place 7 among 6. Choose one that is listed.";
        for (int what = 0; what <= 5; what++)
        {
            if (what == 2) continue;
            Assert.AreEqual(before, KitSaid(what, -1, "NEW"));
            Assert.AreEqual(behind, KitSaid(what, 6, "NEW"));
        }
        Assert.AreEqual("ND 0.9;ND 3.0;GRAD 0.6H;GRAD 0.9R;POL;", KitSaid(1, 1, ""));
        Assert.AreEqual("ND 1.8;ND 3.0;GRAD 0.6H;GRAD 0.9R;POL;", KitSaid(2, 0, "nd 0.9"));
        Assert.AreEqual("Filter kit: no filter called NONE. Check the name.", KitSaid(2, 0, "NONE"));
        Assert.AreEqual("POL;ND 0.9;ND 1.8;ND 3.0;GRAD 0.6H;GRAD 0.9R;", KitSaid(3, 5, ""));
        Assert.AreEqual("ND 1.8;ND 3.0;GRAD 0.6H;GRAD 0.9R;POL;ND 0.9;", KitSaid(4, 5, ""));
        Assert.AreEqual("ND 0.9;ND 1.8;ND 3.0;GRAD 0.6H;GRAD 0.9R;NEW;", KitSaid(5, 5, "NEW"));
        Assert.AreEqual("Filter kit: nd 0.9 is there already. Choose another name.", KitSaid(5, 1, "nd 0.9"));
        Assert.AreEqual("Filter name of 0 characters: use 1 to 10.", KitSaid(5, 1, ""));
    }

    [TestMethod]
    public void KindsHaveTheTradesWords()
    {
        string words = "";
        int grads = 0;
        for (int i = 0; i < FilterKinds.Count; i++)
        {
            words += FilterKinds.Words((FilterKind)i) + ";";
            if (FilterKinds.IsGrad((FilterKind)i)) grads += 1 << i;
        }
        Assert.AreEqual("ND;hard grad;soft grad;reverse grad;polariser;other;", words);
        Assert.AreEqual((1 << (int)FilterKind.HardGrad) | (1 << (int)FilterKind.SoftGrad) | (1 << (int)FilterKind.ReverseGrad), grads);
    }
}

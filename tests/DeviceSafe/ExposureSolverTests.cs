using System;
using Intervalometer.Core.Exposure;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Filters, film and the solved answer: facts that must hold on the device and the PC alike.</summary>
[TestClass]
public class ExposureSolverTests
{
    private const int SixtiethIndex = -18;

    [TestMethod]
    public void WholeStopsFromTheSixtiethAreExact()
    {
        ExposureAnswer ten = Solve(SixtiethIndex, Nd(1000));
        Assert.IsTrue(ten.Seconds == 16, "1/60 and 10 stops");
        Assert.IsTrue(ten.Kind == ExposureKind.Dial, "on the dial");
        Assert.AreEqual("15", ten.Dial.Label);
        Assert.IsTrue(ten.DialError.Value == 0, "no rounding");
        Assert.AreEqual("Dial 15 (16.00 s)", ExposureText.Line(ten));

        ExposureAnswer twelve = Solve(SixtiethIndex, Nd(1200));
        Assert.IsTrue(twelve.Seconds == 64 && twelve.OpenSeconds == 64, "1/60 and 12 stops");
        Assert.IsTrue(twelve.Kind == ExposureKind.Bulb, "beyond the dial");
        Assert.AreEqual("Bulb 64.00 s", ExposureText.Line(twelve));
        Assert.AreEqual("Bulb 128.0 s (2:08)", ExposureText.Line(Solve(SixtiethIndex, Nd(1300))));
    }

    [TestMethod]
    public void MultiplyingThePrintedFigureWouldMiss()
    {
        double printed = 1024.0 / 60;
        Check.Near(17.07, printed, 0.005, "printed 1/60 times 1024");
        Check.Near(0.09, Stops.FromFactor(printed / 16).Value, 0.005, "stops off");
    }

    [TestMethod]
    public void NdThreeIsNotTenStops()
    {
        Filter filter = new Filter("ND 3.0", FilterKind.Nd);
        filter.SetStrength(FilterScale.Density, 300);
        ExposureAnswer answer = Solve(SixtiethIndex, KitOf(filter));
        // 2^-6 * 10^3.0, computed by hand.
        Check.Near(15.625, answer.Seconds, 1e-9, "1/60 and ND 3.0");
        Assert.AreEqual("15", answer.Dial.Label);
        Check.Near(0.0342, answer.DialError.Value, 0.0001, "overexposed by the rest to ten");
        Assert.AreEqual("3.00 = 9.97 stops", ExposureText.Strength(filter));
    }

    [TestMethod]
    public void TheDialEndsAtTrueThirtyTwoSeconds()
    {
        ExposureAnswer end = Solve(15, new FilterKit());
        Assert.IsTrue(end.Kind == ExposureKind.Dial, "30 itself");
        Assert.IsTrue(end.OpenSeconds == 32, "open 32 s");
        Assert.IsTrue(Solve(15, Nd(1)).Kind == ExposureKind.Bulb, "a hundredth of a stop more");
        Assert.IsTrue(Solve(12, Nd(97)).Kind == ExposureKind.Dial, "a little less rounds to the figure of the dial");
    }

    [TestMethod]
    public void HandTrimIsAppliedInThirds()
    {
        MeteredBase metered = new MeteredBase(new ApertureSetting(21), new IsoSetting(0), new ShutterSetting(-17), -1);
        ExposureAnswer answer = new ExposureAnswer();
        ExposureSolver.Solve(metered, Nd(1000), FilmCurve.None, ExposureSolver.DefaultLimitSeconds, answer);
        Assert.IsTrue(answer.Seconds == 16, "1/50 less a third is 1/60");
        Check.Near(-1.0 / 3, answer.HandStops.Value, 1e-12, "hand stops");
        // EV = log2(N^2/t): f/11 is 2^(21/6), 1/50 is 2^(-17/3).
        Check.Near(38.0 / 3, metered.Ev, 1e-12, "EV");
        Check.Near(38.0 / 3, metered.Ev100, 1e-12, "EV at ISO 100");
    }

    [TestMethod]
    public void RefusalsSayWhyAndWhatToDo()
    {
        Refused(Solve(15, Nd(1000)), "Needs 9:06:08, limit 30:00. Take a filter off, open up, raise ISO or the limit.");
        Refused(Solve(15, Nd(2000)), "Needs over 11 days, limit 30:00. Take a filter off, open up, raise ISO or the limit.");
        Refused(Solve(3, Nd(1), 2), "Needs 0:03, limit 0:02. Take a filter off, open up, raise ISO or the limit.");
        Refused(Solve(0, new FilterKit(), 0.5), "Limit is outside 1 s to 2 h. Set it inside.");
        Refused(Solve(0, new FilterKit(), 7201), "Limit is outside 1 s to 2 h. Set it inside.");
        MeteredBase metered = new MeteredBase(new ApertureSetting(0), new IsoSetting(0), new ShutterSetting(-39), -1);
        ExposureAnswer answer = new ExposureAnswer();
        ExposureSolver.Solve(metered, new FilterKit(), FilmCurve.None, 60, answer);
        Refused(answer, "Needs 0.097 ms, dial ends at 1/8000. Add a filter, stop down or lower ISO.");
    }

    [TestMethod]
    public void RemindersFollowTimeAndFilters()
    {
        Assert.IsTrue(Solve(-16, new FilterKit()).Reminders == ExposureReminders.None, "1/40");
        Assert.IsTrue(Solve(-15, new FilterKit()).Reminders == ExposureReminders.LetSettle, "1/30");
        ExposureReminders slow = ExposureReminders.LetSettle | ExposureReminders.CoverEyepiece;
        Assert.IsTrue(Solve(0, new FilterKit()).Reminders == slow, "1 s");

        FilterKit kit = FilterKit.Starter();
        kit[kit.Find("nd 3.0")].On = true;
        Assert.IsTrue(Solve(SixtiethIndex, kit).Reminders == (slow | ExposureReminders.GradLeftOff), "the grads are off the lens");
        Filter grad = kit[kit.Find("grad 0.6h")];
        grad.On = true;
        Assert.IsTrue(Solve(SixtiethIndex, kit).Reminders == (slow | ExposureReminders.GradNotCounted), "the grad is on the lens and does not count");
        grad.SharePercent = 50;
        Assert.IsTrue(Solve(SixtiethIndex, kit).Reminders == slow, "the grad is on the lens and counts");
        kit[kit.Find("ND 3.0")].On = false;
        kit[kit.Find("ND 0.9")].On = true;
        kit[kit.Find("ND 1.8")].On = true;
        kit[kit.Find("POL")].On = true;
        grad.On = false;
        Assert.IsTrue(kit.EffectiveStops.Value > 9 && kit.NdStops.Value < 9, "a polariser is no ND");
        Assert.IsTrue(Solve(SixtiethIndex, kit).Reminders == slow, "8.97 stops of ND and a polariser");
        Assert.AreEqual("Cover the eyepiece.", ExposureText.Reminder(ExposureReminders.CoverEyepiece));
        Assert.AreEqual("", ExposureText.Reminder(slow));
    }

    [TestMethod]
    public void FilterCountsTrimEffectAndShare()
    {
        Filter filter = new Filter("A", FilterKind.Nd);
        filter.SetStrength(FilterScale.Stops, 600);
        filter.TrimTenths = 4;
        filter.EffectTenths = 20;
        Check.Near(6.4, filter.EffectiveStops.Value, 1e-12, "trim; an effect is a polariser's alone");
        filter.Kind = FilterKind.SoftGrad;
        Check.Near(0, filter.EffectiveStops.Value, 0, "grad over the sky only");
        filter.SharePercent = 50;
        Check.Near(3.2, filter.EffectiveStops.Value, 1e-12, "half");
        filter.SharePercent = 100;
        Check.Near(6.4, filter.EffectiveStops.Value, 1e-12, "all");
        Filter polariser = new Filter("POL", FilterKind.Polariser);
        Check.Near(2.0, polariser.EffectiveStops.Value, 1e-12, "full effect");
        polariser.EffectTenths = 3;
        polariser.TrimTenths = -20;
        Check.Near(0, polariser.EffectiveStops.Value, 0, "no filter adds light");
        Assert.AreEqual("reverse grad", FilterKinds.Words(FilterKind.ReverseGrad));
    }

    [TestMethod]
    public void KitRefusesInPlainWords()
    {
        FilterKit kit = FilterKit.Starter();
        Assert.AreEqual(FilterKit.Capacity, kit.Count);
        Assert.IsTrue(kit.EffectiveStops.Value == 0, "no filter is on the lens at first");
        Assert.AreEqual("Filter kit: full at 13. Remove one before adding X.", AddProblem(kit, "X"));
        kit.Remove("grad 1.2s");
        Assert.AreEqual("Filter kit: pol is there already. Choose another name.", AddProblem(kit, "pol"));
        Assert.AreEqual("Filter name of 11 characters: use 1 to 10.", AddProblem(kit, "ABCDEFGHIJK"));
        Assert.AreEqual("Filter name of 0 characters: use 1 to 10.", AddProblem(kit, ""));
        Assert.AreEqual("Filter name, character 2: use plain letters, figures and signs.", AddProblem(kit, "A\tB"));
        Assert.AreEqual("Filter name ' A': leave no space at either end.", AddProblem(kit, " A"));
        kit.Move(0, 2);
        Assert.AreEqual("ND 1.8", kit[0].Name);
        Assert.AreEqual("ND 3.0", kit[1].Name);
        Assert.AreEqual("ND 0.9", kit[2].Name);
        kit.Move(2, 0);
        Assert.AreEqual("ND 0.9", kit[0].Name);
        kit.Remove("nd 1.8");
        Assert.AreEqual(FilterKit.Capacity - 2, kit.Count);
        Assert.AreEqual(-1, kit.Find("ND 1.8"));
        Assert.AreEqual("", AddProblem(kit, "X"));
        kit.Rename(0, "nd 0.9");
        Assert.AreEqual("nd 0.9", kit[0].Name);
    }

    [TestMethod]
    public void FilmFollowsTheSheets()
    {
        // "Compensating for reciprocity law failure", read in reproductions: t' = t^1.31 for a common film.
        FilmCurve power = new FilmCurve(3);
        Assert.AreEqual("power 1.31", power.Label);
        Check.Near(20.4, power.Corrected(10), 0.05, "10 s");
        Check.Near(213.5, power.Corrected(60), 0.1, "60 s");
        Assert.IsTrue(power.Corrected(0.5) == 0.5, "none below 1 s");
        // Publication F-4017, from memory.
        FilmCurve table = new FilmCurve(7);
        Assert.AreEqual("table", table.Label);
        Check.Near(0.1, table.Corrected(0.1), 1e-12, "0.1 s");
        Check.Near(2, table.Corrected(1), 1e-9, "1 s");
        Check.Near(50, table.Corrected(10), 1e-9, "10 s");
        Check.Near(1200, table.Corrected(100), 1e-6, "100 s");
        Assert.IsTrue(table.IsGuess(101) && !table.IsGuess(100) && !power.IsGuess(1000), "end of the table");
        Assert.IsTrue(FilmCurve.None.Corrected(1000) == 1000, "digital");
    }

    /// <summary>The list of films was once longer and in another order. A stored film must still mean the same exponent.</summary>
    [TestMethod]
    public void WhatTheMemoryHoldsKeepsItsPower()
    {
        double[] powers = new double[] { 1, 1.31, 1.26, 1.26, 1.41, 1.33, 1.43, 1.31, 1.33, 1.25 };
        for (int kept = 0; kept < powers.Length; kept++)
        {
            double given = FilmCurve.FromKept(kept).Corrected(2);
            Check.Near(powers[kept], Intervalometer.Core.Numerics.Elementary.Log2(given), 1e-12, "power");
        }
        Check.Near(50, FilmCurve.FromKept(FilmCurve.LastKept).Corrected(10), 1e-9, "the table");
        for (int i = 0; i < FilmCurve.Count; i++) Assert.AreEqual(i, FilmCurve.FromKept(new FilmCurve(i).Kept).Index);
    }

    [TestMethod]
    public void FilmIsAppliedAfterFilters()
    {
        MeteredBase metered = new MeteredBase(new ApertureSetting(18), new IsoSetting(6), new ShutterSetting(SixtiethIndex), 0);
        ExposureAnswer answer = new ExposureAnswer();
        ExposureSolver.Solve(metered, Nd(1000), new FilmCurve(3), ExposureSolver.DefaultLimitSeconds, answer);
        Assert.IsTrue(answer.BeforeFilmSeconds == 16, "before film");
        // 16^1.31 = 2^5.24.
        Check.Near(37.79, answer.Seconds, 0.01, "after film");
        Assert.IsTrue(answer.Kind == ExposureKind.Bulb, "beyond the dial");
    }

    [TestMethod]
    public void BeyondTheTableTheFilmIsAGuess()
    {
        MeteredBase metered = new MeteredBase(new ApertureSetting(18), new IsoSetting(6), new ShutterSetting(15), 0);
        ExposureAnswer answer = new ExposureAnswer();
        ExposureSolver.Solve(metered, Nd(200), new FilmCurve(7), ExposureSolver.MaxLimitSeconds, answer);
        Assert.IsTrue((answer.Reminders & ExposureReminders.FilmIsGuess) != 0, "128 s metered");
        Assert.AreEqual("Beyond the film's table: bracket.", ExposureText.Reminder(ExposureReminders.FilmIsGuess));
        ExposureSolver.Solve(metered, Nd(100), new FilmCurve(7), ExposureSolver.MaxLimitSeconds, answer);
        Assert.IsTrue((answer.Reminders & ExposureReminders.FilmIsGuess) == 0, "64 s metered");
    }

    private static string AddProblem(FilterKit kit, string name)
    {
        try
        {
            kit.Add(new Filter(name, FilterKind.Other));
            return "";
        }
        catch (ArgumentException e)
        {
            return e.Message;
        }
    }

    private static void Refused(ExposureAnswer answer, string expected)
    {
        Assert.IsTrue(answer.Kind == ExposureKind.Refused, expected);
        Assert.IsTrue(answer.OpenSeconds == 0, "a refusal opens nothing");
        Assert.AreEqual(expected, ExposureText.Line(answer));
    }

    private static ExposureAnswer Solve(int shutterIndex, FilterKit kit) => Solve(shutterIndex, kit, ExposureSolver.DefaultLimitSeconds);

    private static ExposureAnswer Solve(int shutterIndex, FilterKit kit, double limitSeconds)
    {
        MeteredBase metered = new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(shutterIndex), 0);
        ExposureAnswer answer = new ExposureAnswer();
        ExposureSolver.Solve(metered, kit, FilmCurve.None, limitSeconds, answer);
        return answer;
    }

    private static FilterKit Nd(int stopsHundredths)
    {
        Filter filter = new Filter("ND", FilterKind.Nd);
        filter.SetStrength(FilterScale.Stops, stopsHundredths);
        return KitOf(filter);
    }

    private static FilterKit KitOf(Filter filter)
    {
        FilterKit kit = new FilterKit();
        filter.On = true;
        kit.Add(filter);
        return kit;
    }
}

using Intervalometer.Core.Exposure;
using Intervalometer.Core.Light;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The light of a frame added up: against closed forms of the same integral.</summary>
[TestClass]
public class LightSumTests
{
    private const long Second = 1_000_000;
    private const long Start = 100 * Second;

    private static LightSum Frame(double metered, double longest, int film = 0)
    {
        LightSum sum = new LightSum();
        double planned = new FilmCurve(film).Corrected(metered);
        sum.Begin(Start, metered, new FilmCurve(film), planned, longest, 1, Start - Second);
        return sum;
    }

    /// <summary>Under a light that does not change the frame is as long as its plan.</summary>
    [TestMethod]
    public void ASteadyLightEndsTheFrameAtItsPlan()
    {
        LightSum sum = Frame(240, 480);
        Check.Near(240, sum.EndSeconds, 1e-9, "before any reading");
        for (int i = 1; i <= 100; i++) sum.Take(1, Start + i * Second);
        Check.Near(240, sum.EndSeconds, 1e-9, "after a hundred");
        Check.Near(100 / 240.0, sum.Share(Start + 100 * Second), 1e-9, "collected");
        Check.Near(0.5, sum.Share(Start + 120 * Second), 1e-9, "interpolated between readings");
        Assert.IsTrue(sum.End == LightEnd.Enough);
        Assert.AreEqual(Start + 240 * Second, sum.EndUs);
    }

    /// <summary>A light that doubles every two minutes: 2^(t/120) has the integral (2^(t/120) - 1) 120/ln 2, so 240 s are collected after 120 log2(1 + 2 ln 2) = 150.53 s.</summary>
    [TestMethod]
    public void ALightThatDoublesEndsItAsTheIntegralSays()
    {
        LightSum sum = Frame(240, 480);
        double expected = 120 * Elementary.Log2(1 + 2 * Elementary.Ln2);
        for (int i = 1; i <= 150; i++) sum.Take(Elementary.Exp2(i / 120.0), Start + i * Second);
        Check.Near(expected, sum.EndSeconds, 0.01, "end");
        Check.Near(1, sum.Share(sum.EndUs), 1e-6, "collected at the end");
    }

    /// <summary>The same with no reading after the first: the drift alone gives the same end.</summary>
    [TestMethod]
    public void ADriftGivesTheEndInClosedForm()
    {
        LightSum sum = Frame(240, 480);
        sum.Take(1, Start);
        sum.Drift = 1 / 120.0;
        sum.Predict();
        double expected = 120 * Elementary.Log2(1 + 2 * Elementary.Ln2);
        Check.Near(expected, sum.EndSeconds, 1e-6, "end");
        Check.Near(1, sum.Share(sum.EndUs), 1e-6, "collected at the end");
    }

    /// <summary>A light that fades so fast that the frame can never collect enough ends at the longest time.</summary>
    [TestMethod]
    public void AFadingLightEndsAtTheLongestTime()
    {
        LightSum sum = Frame(240, 480);
        sum.Drift = -1 / 60.0;
        sum.Predict();
        Assert.IsTrue(sum.End == LightEnd.Longest);
        Check.Near(480, sum.EndSeconds, 1e-9, "end");
        sum.Drift = 0;
        for (int i = 1; i <= 100; i++) sum.Take(0.25, Start + i * Second);
        Assert.IsTrue(sum.End == LightEnd.Longest);
        Check.Near(480, sum.EndSeconds, 1e-9, "end under a quarter of the light");
    }

    /// <summary>Eight times the light would end a frame of 240 s after 30 s; none is shorter than a quarter of its plan.</summary>
    [TestMethod]
    public void AFrameIsNeverShorterThanItsShare()
    {
        LightSum sum = Frame(240, 480);
        for (int i = 1; i <= 40; i++) sum.Take(8, Start + i * Second);
        Assert.IsTrue(sum.End == LightEnd.Shortest);
        Check.Near(240 * LightSum.ShortestShare, sum.EndSeconds, 1e-9, "end");
    }

    /// <summary>Between a reading before the shutter opens and one after it the light is taken as straight: only what falls inside counts.</summary>
    [TestMethod]
    public void OnlyTheLightOfTheFrameCounts()
    {
        LightSum sum = Frame(10, 20);
        // From 1 at a second before to 3 a second after: 2 as the shutter opens, so 2.5 s in the first second.
        sum.Take(3, Start + Second);
        Check.Near(0.25, sum.Share(Start + Second), 1e-9, "collected");
        Check.Near(1 + 7.5 / 3, sum.EndSeconds, 1e-9, "end");
    }

    /// <summary>Readings that are not later than the last change nothing.</summary>
    [TestMethod]
    public void AnOldReadingIsLeftOut()
    {
        LightSum sum = Frame(10, 20);
        sum.Take(2, Start + Second);
        double end = sum.EndSeconds;
        sum.Take(9, Start + Second);
        sum.Take(9, Start);
        Check.Near(end, sum.EndSeconds, 0, "end");
    }

    /// <summary>A reading that was taken half under a hand is taken back, and what follows is summed from the one before.</summary>
    [TestMethod]
    public void AReadingCanBeTakenBack()
    {
        LightSum sum = Frame(10, 20);
        sum.Take(1, Start + Second);
        sum.Take(0.2, Start + 2 * Second);
        sum.TakeBack();
        Check.Near(10, sum.EndSeconds, 1e-9, "end");
        sum.Take(1, Start + 4 * Second);
        Check.Near(0.4, sum.Share(Start + 4 * Second), 1e-9, "collected");
    }

    /// <summary>On film the frame lasts f(W / mean light): under a light that does not change that is the film's own time.</summary>
    [TestMethod]
    public void AFilmGetsItsOwnTimeByTheMeanLight()
    {
        for (int film = 1; film < FilmCurve.Count; film++)
        {
            FilmCurve curve = new FilmCurve(film);
            LightSum sum = Frame(20, 100_000, film);
            for (int i = 1; i <= 10; i++) sum.Take(1, Start + i * Second);
            Check.Near(curve.Corrected(20), sum.EndSeconds, 1e-6 * curve.Corrected(20), "steady, film " + film.ToString());
            // Twice the light from the start on: the film's time for half of the metered time.
            sum.Begin(Start, 20, curve, curve.Corrected(20), 100_000, 2, Start - Second);
            for (int i = 1; i <= 10; i++) sum.Take(2, Start + i * Second);
            Check.Near(curve.Corrected(10), sum.EndSeconds, 0.002 * curve.Corrected(10), "double, film " + film.ToString());
        }
    }
}

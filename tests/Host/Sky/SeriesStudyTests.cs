using Intervalometer.VirtualBoard.Study;

namespace Intervalometer.Tests.Host.Sky;

/// <summary>A small study of drawn series through the whole box: what each frame collects, and how much neighbours differ, with exposures that follow the light and with one exposure.</summary>
[TestClass]
public class SeriesStudyTests
{
    // One of each kind of sky; the command's own seed is another.
    private const int Series = 8, Seed = 7;

    private static readonly Lazy<SeriesStudy> Played = new(() => SeriesStudy.Play(Seed, Series));

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void AFollowedSeriesIsNearerToWhatWasMetered()
    {
        var text = new StringWriter();
        Played.Value.Write(text);
        TestContext.WriteLine(text.ToString());
        double[] followed = SeriesStudy.Errors(Played.Value.Series, follows: true), one = SeriesStudy.Errors(Played.Value.Series, follows: false);
        Assert.HasCount(Series * SeriesPlay.Frames, followed);
        Assert.IsLessThan(DawnStudy.Size(one, 0.5) / 4, DawnStudy.Size(followed, 0.5));
        Assert.IsLessThan(DawnStudy.Size(one, 0.95) / 2, DawnStudy.Size(followed, 0.95));
        Assert.IsGreaterThan(85, DawnStudy.RightPercent(followed));
    }

    /// <summary>Neighbours differ by less than the light of the scene does, in the middle and at the edges of clouds.</summary>
    [TestMethod]
    public void AFollowedSeriesFlickersLessThanTheScene()
    {
        double[] followed = SeriesStudy.Steps(Played.Value.Series, follows: true), scene = SeriesStudy.Steps(Played.Value.Series, follows: false);
        Assert.HasCount(Series * (SeriesPlay.Frames - 1), followed);
        foreach (double share in new[] { 0.5, 0.95 }) Assert.IsLessThan(DawnStudy.Size(scene, share), DawnStudy.Size(followed, share), $"{share}");
    }

    [TestMethod]
    public void OneExposureIsTheSameForAllFrames()
    {
        foreach (PlayedSeries series in Played.Value.Series)
        {
            Assert.IsLessThan(0.01, series.One.Max(f => f.ExposureSeconds) - series.One.Min(f => f.ExposureSeconds));
            Assert.AreEqual(series.One[0].ErrorStops, series.Followed[0].ErrorStops, 0.15, "the first frame of both is the metered one, but for the seconds until Fire");
        }
    }
}

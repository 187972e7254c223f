using Intervalometer.Core.Exposure;
using Intervalometer.Core.Optics;

namespace Intervalometer.Tests.Host.Optics;

/// <summary>
/// The limits of what is sharp against rays that are traced one by one through a thin lens. The tracing knows no formula for the depth
/// of field: a ray that meets the lens at a height is bent by that height over the focal length (small angles, any textbook), and film
/// stands where the rays of the thing that is focused meet again.
/// </summary>
[TestClass]
public class DepthOfFieldTests
{
    private const int Rays = 41;

    // Where two rays from a point on the axis meet behind the lens, millimetres.
    private static double MeetAt(double from, double focal)
    {
        (double height, double slope)[] rays = [.. new[] { 1.0, 2.0 }.Select(y => (y, y / from - y / focal))];
        return (rays[1].height - rays[0].height) / (rays[0].slope - rays[1].slope);
    }

    /// <summary>How wide the rays of a point on the axis lie on the film, micrometres; 0 for the distance is infinity.</summary>
    private static double Spot(double focal, double number, double focus, double from)
    {
        double film = MeetAt(focus, focal), radius = focal / number / 2, low = double.MaxValue, high = double.MinValue;
        for (int i = 0; i < Rays; i++)
        {
            double height = radius * (2.0 * i / (Rays - 1) - 1);
            double slope = (from == 0 ? 0 : height / from) - height / focal;
            double hit = height + slope * film;
            low = Math.Min(low, hit);
            high = Math.Max(high, hit);
        }
        return (high - low) * 1000;
    }

    // The distance at which the spot is as large as the circle, between one where it is smaller and one where it is larger.
    private static double Edge(Func<double, double> spot, double circle, double smaller, double larger)
    {
        for (int i = 0; i < 200; i++)
        {
            double middle = (smaller + larger) / 2;
            if (spot(middle) <= circle) smaller = middle;
            else larger = middle;
        }
        return smaller;
    }

    [TestMethod]
    public void EveryLimitIsWhereTheTracedSpotIsAsLargeAsTheCircle()
    {
        var random = new Random(24);
        int ending = 0, endless = 0;
        for (int n = 0; n < 5_000; n++)
        {
            int focal = random.Next(FocalLength.Least, FocalLength.Most + 1);
            var aperture = new ApertureSetting(random.Next(ApertureSetting.MinIndex, ApertureSetting.MaxIndex + 1));
            BlurCircle circle = new FilmFormat(random.Next(FilmFormat.Count)).Circle;
            double focus = 2 * focal + Math.Pow(10, random.NextDouble() * 5);
            var depth = new DepthOfField(new FocalLength(focal), aperture, circle, new Distance(focus / 1000));
            double Of(double from) => Spot(focal, Math.Pow(2, aperture.Index / 6.0), focus, from);
            string what = $"{focal} mm f/{aperture.Label} {circle.Micrometres} um at {focus} mm";
            Assert.AreEqual(Of(0), depth.AtInfinity.Micrometres, 1e-6 * Of(0) + 1e-6, what);
            double near = Edge(Of, circle.Micrometres, focus, focal / 1000.0);
            Assert.AreEqual(near, depth.Near.Metres * 1000, 1e-6 * near, what + ": near");
            Assert.AreEqual(depth.Far.IsInfinite, Of(0) <= circle.Micrometres, what + ": far");
            if (depth.Far.IsInfinite)
            {
                endless++;
                continue;
            }
            ending++;
            // So far away that its spot is that of infinity, to a millionth.
            double far = Edge(Of, circle.Micrometres, focus, 1e12);
            Assert.AreEqual(far, depth.Far.Metres * 1000, 1e-4 * far, what + ": far");
        }
        Assert.IsTrue(ending > 200 && endless > 200, $"{ending} with an end, {endless} without");
    }

    [TestMethod]
    public void FocusedAtTheHyperfocalDistanceInfinityIsJustSharp()
    {
        foreach (int focal in new[] { 14, 24, 35, 50, 85, 210 })
        {
            for (int aperture = 15; aperture <= 21; aperture++)
            {
                var circle = new FilmFormat(FilmFormat.FullFrame).Circle;
                var any = new DepthOfField(new FocalLength(focal), new ApertureSetting(aperture), circle, new Distance(3));
                double traced = Spot(focal, Math.Pow(2, aperture / 6.0), any.Hyperfocal.Metres * 1000, 0);
                Assert.AreEqual(30, traced, 1e-6, $"{focal} mm");
            }
        }
    }

    /// <summary>The circles in use follow the diagonal of the picture: 36 x 24 mm has 43.3 mm and 0.030 mm (common practice, no source).</summary>
    [TestMethod]
    public void TheCirclesFollowTheDiagonal()
    {
        (double Wide, double High)[] sizes = [(17.3, 13), (23.6, 15.7), (36, 24), (43.8, 32.9), (56, 41.5), (56, 56), (69.5, 56), (121, 96)];
        Assert.HasCount(FilmFormat.Count, sizes);
        for (int i = 0; i < sizes.Length; i++)
        {
            double diagonal = Math.Sqrt(sizes[i].Wide * sizes[i].Wide + sizes[i].High * sizes[i].High);
            var format = new FilmFormat(i);
            Assert.AreEqual(diagonal / 1442 * 1000, format.Circle.Micrometres, 0.03 * format.Circle.Micrometres, format.Label);
        }
    }
}

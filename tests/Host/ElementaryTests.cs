using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.Host;

/// <summary>Core's own elementary functions against the .NET maths library on dense grids.</summary>
[TestClass]
public class ElementaryTests
{
    private static void WorstRelative(Func<double, double> ours, Func<double, double> theirs, double from, double to, int steps, double limit)
    {
        double worst = 0, at = from;
        for (int i = 0; i <= steps; i++)
        {
            double x = from + (to - from) * i / steps;
            double expected = theirs(x);
            double error = Math.Abs(ours(x) - expected) / Math.Max(Math.Abs(expected), 1e-300);
            if (error > worst) { worst = error; at = x; }
        }
        Assert.IsTrue(worst <= limit, $"worst relative error {worst:E2} at {at:R}, limit {limit:E2}");
    }

    private static void WorstAbsolute(Func<double, double> ours, Func<double, double> theirs, double from, double to, int steps, double limit)
    {
        double worst = 0, at = from;
        for (int i = 0; i <= steps; i++)
        {
            double x = from + (to - from) * i / steps;
            double error = Math.Abs(ours(x) - theirs(x));
            if (error > worst) { worst = error; at = x; }
        }
        Assert.IsTrue(worst <= limit, $"worst absolute error {worst:E2} at {at:R}, limit {limit:E2}");
    }

    [TestMethod] public void Exp2MatchesLibrary() => WorstRelative(Elementary.Exp2, x => Math.Pow(2, x), -60, 60, 200_000, 4e-16);
    [TestMethod] public void ExpMatchesLibrary() => WorstRelative(Elementary.Exp, Math.Exp, -40, 40, 200_000, 2e-14);
    [TestMethod] public void Log2MatchesLibrary() => WorstAbsolute(Elementary.Log2, Math.Log2, 1e-6, 1000, 200_000, 4e-15);
    [TestMethod] public void SqrtMatchesLibrary() => WorstRelative(Elementary.Sqrt, Math.Sqrt, 1e-9, 1e7, 200_000, 3e-16);
    [TestMethod] public void SinMatchesLibrary() => WorstAbsolute(Elementary.Sin, Math.Sin, -1000, 1000, 400_000, 4e-16);
    [TestMethod] public void CosMatchesLibrary() => WorstAbsolute(Elementary.Cos, Math.Cos, -1000, 1000, 400_000, 4e-16);
    [TestMethod] public void AtanMatchesLibrary() => WorstAbsolute(Elementary.Atan, Math.Atan, -50, 50, 200_000, 5e-16);
    [TestMethod] public void AsinMatchesLibrary() => WorstAbsolute(Elementary.Asin, Math.Asin, -1, 1, 200_000, 5e-16);
    [TestMethod] public void AcosMatchesLibrary() => WorstAbsolute(Elementary.Acos, Math.Acos, -1, 1, 200_000, 8e-16);

    [TestMethod]
    public void WholePowersOfTwoAreExactBothWays()
    {
        for (int n = -300; n <= 300; n++)
        {
            Assert.AreEqual(Math.Pow(2, n), Elementary.Exp2(n));
            Assert.AreEqual((double)n, Elementary.Log2(Math.Pow(2, n)));
        }
    }

    [TestMethod]
    public void Atan2CoversAllQuadrants()
    {
        for (int i = 0; i < 3600; i++)
        {
            double a = (i - 1799.5) / 10 * Math.PI / 180;
            Assert.AreEqual(Math.Atan2(Math.Sin(a), Math.Cos(a)), Elementary.Atan2(Math.Sin(a), Math.Cos(a)), 5e-16 * 4);
        }
    }
}

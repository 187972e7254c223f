using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Where one piece of the sky's light ends and the next begins, and the hour angle all round the day.</summary>
[TestClass]
public class SkyLimitTests
{
    // One piece by its published coefficients: D. Vallado, Fundamentals of Astrodynamics and Applications, table 5-1.
    private static double Piece(double altitude, double l0, double l1, double l2, double l3)
    {
        double x = altitude / 90.0;
        return ((l3 * x + l2) * x + l1) * x + l0;
    }

    private static double Log10(double altitude) => SkyLight.Log2Lux(altitude) * 0.30102999566398119521;

    [TestMethod]
    public void EachAltitudeBelongsToThePieceAboveIt()
    {
        Check.Near(Piece(20, 3.74, 3.97, -4.07, 1.47), Log10(20), 1e-9, "20 degrees");
        Check.Near(Piece(5, 3.05, 13.28, -45.98, 64.33), Log10(5), 1e-9, "5 degrees");
        Check.Near(Piece(-0.8, 2.88, 22.26, -207.64, 1034.30), Log10(-0.8), 1e-9, "sunrise");
        Check.Near(Piece(0.5, 2.88, 22.26, -207.64, 1034.30), Log10(0.5), 1e-9, "just above the horizon");
        Check.Near(Piece(-5, 2.88, 21.81, -258.11, -858.36), Log10(-5), 1e-9, "-5 degrees");
        Check.Near(Piece(-12, 2.70, 12.17, -431.69, -1899.83), Log10(-12), 1e-9, "-12 degrees");
    }

    /// <summary>From -180 to 180 degrees, 15 degrees more each hour.</summary>
    [TestMethod]
    public void TheHourAngleGoesOnceRoundADay()
    {
        GeoPosition place = new GeoPosition(50, -5);
        UtcInstant start = new CivilTime(2031, 3, 14, 0, 0, 0).AsUtc();
        double before = Sun.At(start, place).HourAngleDegrees;
        for (int hour = 1; hour <= 24; hour++)
        {
            double angle = Sun.At(start.PlusHours(hour), place).HourAngleDegrees;
            Assert.IsTrue(angle >= -180 && angle < 180);
            double step = angle - before;
            if (step < 0) step += 360;
            Check.Near(15, step, 0.02, "an hour");
            before = angle;
        }
    }

    /// <summary>A reading of nothing, or of less, is no reading.</summary>
    [TestMethod]
    public void AReadingBelowZeroIsNone()
    {
        DawnExposure dawn = new DawnExposure(new GeoPosition(50, -5));
        UtcInstant start = new CivilTime(2031, 3, 14, 6, 0, 0).AsUtc();
        dawn.Read(start, 10);
        dawn.Read(start, -3);
        Assert.IsTrue(dawn.ReadingSeconds == 0);
        Assert.IsTrue(dawn.FrameAt(start).State == DawnState.NoReading);
    }
}

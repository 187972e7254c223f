using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>
/// The very bits of Core's elementary functions, so that a device which runs this shows that it calculates as the PC does.
/// The values are Core's own on .NET 10; each was compared with mpmath 1.3.0 at 60 digits, and where it is not the nearest
/// double the comment says by how many units in the last place.
/// </summary>
[TestClass]
public class ElementaryBitsTests
{
    private static void Same(double expected, double actual, string what) => Assert.IsTrue(actual == expected, what + " is not the same to the last bit");

    [TestMethod]
    public void PowersOfTwoAreTheSameToTheLastBit()
    {
        Same(3.146729627982717e-308, Elementary.Exp2(-1021.5), "Exp2 -1021.5"); // -1
        Same(7.293613762026802e-19, Elementary.Exp2(-60.25), "Exp2 -60.25"); // +1
        Same(0.35355339059327373, Elementary.Exp2(-1.5), "Exp2 -1.5"); // -1
        Same(0.7937188645720145, Elementary.Exp2(-0.3333), "Exp2 -0.3333");
        Same(1.0000693171203765, Elementary.Exp2(0.0001), "Exp2 0.0001");
        Same(1.414213562373095, Elementary.Exp2(0.5), "Exp2 0.5"); // -1
        Same(9.999805262976516, Elementary.Exp2(3.3219), "Exp2 3.3219");
        Same(1002.9263847290135, Elementary.Exp2(9.97), "Exp2 9.97");
        Same(9999.914191870173, Elementary.Exp2(13.2877), "Exp2 13.2877");
        Same(7.55836856415967e307, Elementary.Exp2(1022.75), "Exp2 1022.75"); // +1
    }

    [TestMethod]
    public void ExponentialsAreTheSameToTheLastBit()
    {
        Same(4.248354255291581e-18, Elementary.Exp(-40.0), "Exp -40"); // -10
        Same(0.2231301601484298, Elementary.Exp(-1.5), "Exp -1.5"); // -1
        Same(0.999000499833375, Elementary.Exp(-0.001), "Exp -0.001");
        Same(2.0137527074704766, Elementary.Exp(0.7), "Exp 0.7");
        Same(2.718281828459045, Elementary.Exp(1.0), "Exp 1");
        Same(244.69193226422047, Elementary.Exp(5.5), "Exp 5.5"); // +3
        Same(2.353852668370204e17, Elementary.Exp(40.0), "Exp 40"); // +13
    }

    [TestMethod]
    public void LogarithmsToBaseTwoAreTheSameToTheLastBit()
    {
        Same(-996.5784284662087, Elementary.Log2(1e-300), "Log2 1E-300");
        Same(-66.43856189774725, Elementary.Log2(1e-20), "Log2 1E-20");
        Same(-8.380821783940931, Elementary.Log2(0.003), "Log2 0.003");
        Same(-0.5145731728297582, Elementary.Log2(0.7), "Log2 0.7"); // +1
        Same(-0.01449956969511509, Elementary.Log2(0.99), "Log2 0.99"); // -1
        Same(0.5849625007211562, Elementary.Log2(1.5), "Log2 1.5");
        Same(1.584962500721156, Elementary.Log2(3.0), "Log2 3");
        Same(9.965784284662087, Elementary.Log2(1000.0), "Log2 1000");
        Same(83.04820237218406, Elementary.Log2(1e25), "Log2 1E+25");
        Same(996.5784284662087, Elementary.Log2(1e300), "Log2 1E+300");
    }

    [TestMethod]
    public void LogarithmsToBaseTenAreTheSameToTheLastBit()
    {
        Same(-2.6989700043360187, Elementary.Log10(0.002), "Log10 0.002");
        Same(0.3010299956639812, Elementary.Log10(2.0), "Log10 2");
        Same(2.6989700043360187, Elementary.Log10(500.0), "Log10 500");
        Same(12.0, Elementary.Log10(1000000000000.0), "Log10 1000000000000");
    }

    [TestMethod]
    public void RootsAreTheSameToTheLastBit()
    {
        Same(1e-06, Elementary.Sqrt(1e-12), "Sqrt 1E-12");
        Same(0.5477225575051661, Elementary.Sqrt(0.3), "Sqrt 0.3");
        Same(0.99498743710662, Elementary.Sqrt(0.99), "Sqrt 0.99");
        Same(1.414213562373095, Elementary.Sqrt(2.0), "Sqrt 2"); // -1
        Same(1.7320508075688772, Elementary.Sqrt(3.0), "Sqrt 3");
        Same(256.0019531175495, Elementary.Sqrt(65537.0), "Sqrt 65537");
        Same(3162277.6601683795, Elementary.Sqrt(10000000000000.0), "Sqrt 10000000000000");
    }

    [TestMethod]
    public void SinesAreTheSameToTheLastBit()
    {
        Same(-0.8268795405320026, Elementary.Sin(-1000.0), "Sin -1000"); // -1
        Same(-0.5984721441039564, Elementary.Sin(-2.5), "Sin -2.5"); // +1
        Same(-0.09983341664682815, Elementary.Sin(-0.1), "Sin -0.1");
        Same(0.479425538604203, Elementary.Sin(0.5), "Sin 0.5");
        Same(0.9320390859672263, Elementary.Sin(1.2), "Sin 1.2");
        Same(0.8084964038195901, Elementary.Sin(2.2), "Sin 2.2");
        Same(-0.7568024953079282, Elementary.Sin(4.0), "Sin 4");
        Same(-0.7055403255703919, Elementary.Sin(5.5), "Sin 5.5");
        Same(-0.5063656411097588, Elementary.Sin(100.0), "Sin 100");
        Same(-0.7040813137533816, Elementary.Sin(12345.678), "Sin 12345.678");
    }

    [TestMethod]
    public void CosinesAreTheSameToTheLastBit()
    {
        Same(0.5623790762907029, Elementary.Cos(-1000.0), "Cos -1000");
        Same(-0.8011436155469337, Elementary.Cos(-2.5), "Cos -2.5");
        Same(0.9950041652780257, Elementary.Cos(-0.1), "Cos -0.1"); // -1
        Same(0.8775825618903728, Elementary.Cos(0.5), "Cos 0.5");
        Same(0.3623577544766736, Elementary.Cos(1.2), "Cos 1.2");
        Same(-0.5885011172553458, Elementary.Cos(2.2), "Cos 2.2");
        Same(-0.6536436208636119, Elementary.Cos(4.0), "Cos 4");
        Same(0.70866977429126, Elementary.Cos(5.5), "Cos 5.5");
        Same(0.862318872287684, Elementary.Cos(100.0), "Cos 100"); // +1
        Same(0.7101193587160628, Elementary.Cos(12345.678), "Cos 12345.678");
    }

    [TestMethod]
    public void ArcTangentsAreTheSameToTheLastBit()
    {
        Same(-1.550798992821746, Elementary.Atan(-50.0), "Atan -50");
        Same(-0.9827937232473289, Elementary.Atan(-1.5), "Atan -1.5"); // +1
        Same(-0.7328151017865066, Elementary.Atan(-0.9), "Atan -0.9");
        Same(-0.19739555984988075, Elementary.Atan(-0.2), "Atan -0.2"); // +1
        Same(0.09966865249116201, Elementary.Atan(0.1), "Atan 0.1"); // -2
        Same(0.3926875054336764, Elementary.Atan(0.4142), "Atan 0.4142"); // -1
        Same(0.5404195002705842, Elementary.Atan(0.6), "Atan 0.6");
        Same(0.7597627548757707, Elementary.Atan(0.95), "Atan 0.95"); // -1
        Same(0.7853981633974484, Elementary.Atan(1.0), "Atan 1"); // +1
        Same(0.8097835725701668, Elementary.Atan(1.05), "Atan 1.05"); // -1
        Same(1.2490457723982544, Elementary.Atan(3.0), "Atan 3");
        Same(1.5707953267948966, Elementary.Atan(1000000.0), "Atan 1000000");
    }

    [TestMethod]
    public void ArcSinesAreTheSameToTheLastBit()
    {
        Same(-1.5707963267948966, Elementary.Asin(-1.0), "Asin -1");
        Same(-1.4292568534704693, Elementary.Asin(-0.99), "Asin -0.99");
        Same(-0.3046926540153976, Elementary.Asin(-0.3), "Asin -0.3"); // -1
        Same(0.20135792079033082, Elementary.Asin(0.2), "Asin 0.2"); // +1
        Same(0.775397496610753, Elementary.Asin(0.7), "Asin 0.7");
        Same(1.5707963267948966, Elementary.Asin(1.0), "Asin 1");
    }

    [TestMethod]
    public void ArcCosinesAreTheSameToTheLastBit()
    {
        Same(3.141592653589793, Elementary.Acos(-1.0), "Acos -1");
        Same(3.0000531802653656, Elementary.Acos(-0.99), "Acos -0.99"); // -1
        Same(1.8754889808102941, Elementary.Acos(-0.3), "Acos -0.3");
        Same(1.3694384060045657, Elementary.Acos(0.2), "Acos 0.2"); // -1
        Same(0.7953988301841436, Elementary.Acos(0.7), "Acos 0.7");
        Same(0.0, Elementary.Acos(1.0), "Acos 1");
    }

    [TestMethod]
    public void AnglesOfAPointAreTheSameToTheLastBit()
    {
        Same(0.46364760900080615, Elementary.Atan2(1.0, 2.0), "Atan2 1,2"); // +1
        Same(2.677945044588987, Elementary.Atan2(1.0, -2.0), "Atan2 1,-2");
        Same(-2.677945044588987, Elementary.Atan2(-1.0, -2.0), "Atan2 -1,-2");
        Same(-0.46364760900080615, Elementary.Atan2(-1.0, 2.0), "Atan2 -1,2"); // -1
        Same(1.5707963267948966, Elementary.Atan2(3.0, 0.0), "Atan2 3,0");
        Same(-1.5707963267948966, Elementary.Atan2(-3.0, 0.0), "Atan2 -3,0");
        Same(3.141592653589793, Elementary.Atan2(0.0, -1.0), "Atan2 0,-1");
        Same(0.0, Elementary.Atan2(0.0, 1.0), "Atan2 0,1");
    }

    [TestMethod]
    public void PowersAreTheSameToTheLastBit()
    {
        Same(1.2598919398737178, Elementary.Pow(2.0, 0.3333), "Pow 2,0.3333");
        Same(0.003162277660168379, Elementary.Pow(10.0, -2.5), "Pow 10,-2.5"); // -1
        Same(582.622237229761, Elementary.Pow(1.7, 12.0), "Pow 1.7,12"); // +2
        Same(0.14142135623730953, Elementary.Pow(0.02, 0.5), "Pow 0.02,0.5"); // +1
    }

    [TestMethod]
    public void OutsideTheirRangeFunctionsAreHeldAtItsEnd()
    {
        Same(Elementary.Exp2(-1022), Elementary.Exp2(-5000), "Exp2 far below");
        Same(Elementary.Exp2(1023), Elementary.Exp2(5000), "Exp2 far above");
        Assert.IsTrue(Elementary.Exp2(-1022) < 3e-308 && Elementary.Exp2(1023) > 8e307);
        Same(0, Elementary.Pow(0, 2), "Pow of nothing");
        Same(0, Elementary.Pow(-2, 2), "Pow below zero");
        Same(0, Elementary.Sqrt(0), "Sqrt of nothing");
        Same(0, Elementary.Wrap(5, 0), "Wrap without a period");
        Same(0, Elementary.Wrap(7, 7), "Wrap of one period");
        Same(6, Elementary.Wrap(-1, 7), "Wrap below zero");
        // A hair below zero would round up to the period itself.
        Same(0, Elementary.Wrap(-1e-20, 7), "Wrap a hair below zero");
        Same(-3, Elementary.Floor(-2.5), "Floor below zero");
        Same(-2, Elementary.Floor(-2), "Floor of a whole number");
        Assert.AreEqual(3L, Elementary.Round(2.5));
    }
}

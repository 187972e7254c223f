using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Exact bits that must be the same on the device and the PC.</summary>
[TestClass]
public class ElementaryTests
{
    [TestMethod]
    public void WholePowersOfTwoAreExact()
    {
        double value = 1;
        for (int n = 0; n <= 60; n++)
        {
            Assert.IsTrue(Elementary.Exp2(n) == value, "2^" + n.ToString());
            Assert.IsTrue(Elementary.Log2(value) == n, "log2 2^" + n.ToString());
            value *= 2;
        }
    }
}

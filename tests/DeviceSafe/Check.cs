namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Checks that both test frameworks lack in a common form.</summary>
public static class Check
{
    /// <summary>Fails unless |actual - expected| is at most the tolerance.</summary>
    public static void Near(double expected, double actual, double tolerance, string what)
    {
        double error = actual - expected;
        if (error < 0) error = -error;
        Assert.IsTrue(error <= tolerance, what + ": expected " + expected.ToString("F6") + ", got " + actual.ToString("F6"));
    }
}

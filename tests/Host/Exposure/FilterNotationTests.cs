using Intervalometer.Core.Exposure;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.Exposure;

/// <summary>
/// Filters as the trade writes them. Density and factor are two figures for one glass: ND8 = ND 0.9 = 3 stops; factors are
/// printed rounded, so ND1000 is 9.966 stops (log2 of the factor, common practice, no source).
/// </summary>
[TestClass]
public class FilterNotationTests
{
    [TestMethod]
    [DataRow("ND 0.9", 2.990)]
    [DataRow("nd0.9", 2.990)]
    [DataRow("ND8", 3.000)]
    [DataRow("ND 64", 6.000)]
    [DataRow("ND1000", 9.966)]
    [DataRow("ND 3.0", 9.966)]
    [DataRow("10 stops", 10.0)]
    [DataRow("2st", 2.0)]
    [DataRow("POL", 2.0)]
    [DataRow("POL 1.5", 1.5)]
    [DataRow("GRAD 0.9R", 0.0)]
    public void TradeFormsAreRead(string text, double stops)
    {
        Assert.IsTrue(FilterNotation.TryParse(text, out Filter filter, out string problem), problem);
        Assert.IsTrue(filter.On);
        Assert.AreEqual(stops, filter.EffectiveStops.Value, 0.0005);
    }

    [TestMethod]
    public void AGradKeepsItsEdgeAndCountsNothingUnlessAsked()
    {
        Assert.IsTrue(FilterNotation.TryParse("GRAD 0.9R", out Filter filter, out _));
        Assert.AreEqual(FilterKind.ReverseGrad, filter.Kind);
        filter.SharePercent = 100;
        Assert.AreEqual(2.990, filter.EffectiveStops.Value, 0.0005);
    }

    [TestMethod]
    [DataRow("")]
    [DataRow("ND")]
    [DataRow("fog")]
    [DataRow("ND -0.9")]
    [DataRow("ND 9.9")]
    [DataRow("25 stops")]
    [DataRow("POL 3")]
    [DataRow("ND 99999999999999999999")]
    public void WhatIsNoFilterIsRefusedInOneLine(string text)
    {
        Assert.IsFalse(FilterNotation.TryParse(text, out _, out string problem));
        Assert.IsTrue(problem.Contains($"\"{text}\"") && !problem.Contains('\n'), problem);
    }
}

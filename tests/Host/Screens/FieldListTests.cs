using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>How far a field moves while a button is held.</summary>
[TestClass]
public class FieldListTests
{
    [TestMethod]
    [DataRow(0, 1)]
    [DataRow(9, 1)]
    [DataRow(10, 5)]
    [DataRow(24, 5)]
    [DataRow(25, 25)]
    [DataRow(1000, 25)]
    public void AHeldButtonTakesLongerSteps(int repeats, int stride)
    {
        var fields = new FieldList();
        fields.Change(new BoxCard(new BoxSettings(), new BoxHealth()), 0, 1, repeats);
        Assert.AreEqual(stride, fields.Stride);
    }
}

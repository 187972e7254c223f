namespace Intervalometer.Tests.Hardware;

/// <summary>The mock camera of the first-power steps fits the jack, joins no net of the box, and shows both contacts.</summary>
[TestClass]
public class MockCameraTests
{
    private static readonly Circuit Mock = MockCamera.Load(Repo.Circuit, Repo.Folder);

    [TestMethod]
    public void TheTableIsSound() => Assert.IsEmpty(new MockCamera(Repo.Circuit, Mock).Check());

    /// <summary>Every pin on every other net of the mock camera, and on nets of the box: each change is told in a sentence, but two ends of a resistor are alike.</summary>
    [TestMethod]
    public void AnyPinOnAnotherNetIsReported()
    {
        var tried = 0;
        string[] others = [.. Mock.Nets.Select(n => n.Key), "GND", "V33"];
        foreach (var pin in Mock.Pins)
        {
            foreach (var net in others.Where(n => n != pin.Net))
            {
                var changed = new Circuit(Mock.Pins.Select(p => p == pin ? p with { Net = net } : p).ToList(), Mock.Parts);
                Assert.IsNotEmpty(new MockCamera(Repo.Circuit, changed).Check(), $"{pin.Key} on {net}");
                tried++;
            }
        }

        Assert.IsGreaterThanOrEqualTo(119, tried);
    }

    [TestMethod]
    public void TurnedPartsAndLeftOutPartsAreReported()
    {
        foreach (var reference in Mock.References)
        {
            var without = new Circuit(Mock.Pins.Where(p => p.Reference != reference).ToList(), Mock.Parts);
            Assert.IsNotEmpty(new MockCamera(Repo.Circuit, without).Check(), $"{reference} left out");
            if (Mock.PartOf(reference).Kind is "led" or "cells")
            {
                var pins = Mock.PinsOf(reference);
                var turned = new Circuit(Mock.Pins.Select(p => p.Reference == reference ? p with { Net = pins.First(q => q != p).Net } : p).ToList(), Mock.Parts);
                Assert.IsNotEmpty(new MockCamera(Repo.Circuit, turned).Check(), $"{reference} turned");
            }
        }
    }

    [TestMethod]
    public void AResistorOfAnotherValueIsReported()
    {
        foreach (var pin in Mock.Pins.Where(p => p.Part == "r10k" && p.Number == 1))
        {
            var changed = new Circuit(Mock.Pins.Select(p => p.Reference == pin.Reference ? p with { Part = "r220" } : p).ToList(), Mock.Parts);
            Assert.IsNotEmpty(new MockCamera(Repo.Circuit, changed).Check(), pin.Reference);
        }

        foreach (var pin in Mock.Pins.Where(p => p.Part == "r1k" && p.Number == 1))
        {
            var changed = new Circuit(Mock.Pins.Select(p => p.Reference == pin.Reference ? p with { Part = "r220" } : p).ToList(), Mock.Parts);
            Assert.IsNotEmpty(new MockCamera(Repo.Circuit, changed).Check(), pin.Reference);
        }
    }
}

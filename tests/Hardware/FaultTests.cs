using System.Text.RegularExpressions;

namespace Intervalometer.Tests.Hardware;

/// <summary>Every single fault that the tables allow is judged, and the kept table of verdicts is what the judge says now.</summary>
[TestClass]
public class FaultTests
{
    private static readonly Layout Layout = new(Repo.Circuit, Repo.Folder);
    private static readonly FaultJudge Judge = new(Layout, Repo.Folder);
    private static readonly IReadOnlyList<Fault> Faults = FaultList.All(Layout);

    public TestContext TestContext { get; set; } = null!;

    [ClassInitialize]
    public static void Install(TestContext _) => Repo.Need("ngspice", "ngspice");

    [TestMethod]
    public void TheTableOfVerdictsIsWhatTheJudgeSays()
    {
        var kept = Table.Read(Repo.Folder, "faults.csv").Select(r => $"{r["fault"]}: {r["result"]}. {r["why"]}").ToList();
        var now = Judge.All();
        var changed = now.Select(v => $"{v.Fault.Words}: {v.Result}. {v.Why}").Except(kept).ToList();
        Assert.IsEmpty(changed, "run dotnet run --project hardware/Generator -- --faults\n" + string.Join("\n", changed.Take(20)));
        Assert.HasCount(now.Count, kept);
        TestContext.WriteLine($"{now.Count} faults: {string.Join(", ", now.GroupBy(v => v.Result).Select(g => $"{g.Count()} {g.Key}"))}");
    }

    [TestMethod]
    public void EveryLeadAndEveryPairIsThere()
    {
        var pads = Repo.Circuit.Pins.Where(p => !p.IsOpen && Repo.Circuit.PartOf(p.Reference).Kind != "test-pad").ToList();
        var opens = Faults.Where(f => f.Kind == "open").Select(f => f.Reference).ToHashSet();
        Assert.IsEmpty(pads.Where(p => !opens.Contains(p.Reference)), "every part is open once");
        foreach (var reference in Repo.Circuit.References.Where(r => Repo.Circuit.PartOf(r).Kind is not ("test-pad" or "board")))
        {
            var nets = Repo.Circuit.PinsOf(reference).Where(p => !p.IsOpen).ToList();
            var pairs = nets.SelectMany(a => nets.Where(b => b.Number > a.Number && a.Net != b.Net)).Count();
            Assert.AreEqual(pairs, Faults.Count(f => f.Kind == "short" && f.Reference == reference), reference);
        }

        Assert.AreEqual(2 * ElectricalRules.Outputs.Length, Faults.Count(f => f.Kind == "stuck"), "each output of the ESP32, low and high");
        Assert.AreEqual(17, Faults.Count(f => f.Kind == "turned"), "diodes, LED, electrolytics, buzzer, plug, transistors, reference, regulator, couplers");
        var bridged = Faults.Where(f => f.Kind == "bridge").ToList();
        Assert.AreEqual(FaultList.Neighbours(Layout).Count * FaultList.Bridges.Length, bridged.Count);
        Assert.IsGreaterThan(50, FaultList.Neighbours(Layout).Count);
    }

    /// <summary>What is known to keep a contact closed without a sign is found by the read-back.</summary>
    [TestMethod]
    [DataRow("R8 open", "seen")]
    [DataRow("U5 A to K short", "seen")]
    [DataRow("Q1 C to E short", "seen")]
    [DataRow("C4 short", "seen")]
    [DataRow("C5 open", "safe")]
    [DataRow("Q2 C to E short", "seen")]
    [DataRow("Q3 C to E short", "seen")]
    [DataRow("Q3 C to B short", "seen")]
    [DataRow("U1 IO18 stuck high", "seen")]
    [DataRow("U1 IO19 stuck high", "seen")]
    [DataRow("U1 IO19 to IO18 short", "seen")]
    [DataRow("U1 IO4 stuck high", "safe")]
    [DataRow("U3 A to K short", "safe")]
    [DataRow("U3 E to C short", "first-power")]
    [DataRow("R6 open", "none")]
    public void KnownFaultsEndAsKnown(string words, string result) => Assert.AreEqual(result, Judge.Judge(Faults.Single(f => f.Words == words)).Result);

    /// <summary>A film from HOLD_REF to a line that is high never lets go; the board keeps such lines away by its ring, and the read-back would show it.</summary>
    [TestMethod]
    public void AFilmToTheHoldNetIsSeenAndHasNoNeighbour()
    {
        var reference = Repo.Circuit.Pins.Single(p => p.Key == "U5.1");
        var high = Repo.Circuit.Pins.Single(p => p.Key == "R11.1");
        foreach (var ohms in new[] { 1e6, 1.5e6 })
        {
            Assert.AreEqual("seen", Judge.Judge(new("bridge", "HOLD_REF to V33", ohms, [reference, high])).Result, $"{ohms}");
        }

        foreach (var fault in Faults.Where(f => f.Kind == "bridge" && f.Pins.Any(p => p.Net is "HOLD" or "HOLD_REF")))
        {
            Assert.IsTrue(fault.Pins.Any(p => p.Net == "GND") || fault.Pins.All(p => p.Net is "HOLD" or "HOLD_REF" or "BEAT_AC"), $"{fault.Words}: a pad that may be high is a neighbour of the hold capacitor");
        }
    }

    [TestMethod]
    public void WithoutAFaultNothingIsSeen()
    {
        // A resistor of a test pad's kind: the bridge of two points of one net changes nothing.
        var pins = Repo.Circuit.Pins.Where(p => p.Net == "HOLD").Take(2).ToList();
        var verdict = Judge.Judge(new("bridge", "HOLD to HOLD", 1e6, pins));
        Assert.AreEqual("none", verdict.Result, verdict.Why);
    }

    [TestMethod]
    public void WhatOnlyFirstPowerFindsNamesItsStep()
    {
        foreach (var row in Table.Read(Repo.Folder, "faults.csv").Where(r => r["result"] == "first-power"))
        {
            Assert.IsTrue(Regex.IsMatch(row["why"], @"(first-power|First-power|Assembly|assembly) step \d"), $"{row["fault"]}: {row["why"]}");
        }
    }
}

namespace Intervalometer.Tests.Fuzz;

/// <summary>A fixed number of inputs for every target; the command in Program.cs searches for as long as it is told to.</summary>
[TestClass]
public sealed class FuzzTests
{
    private const string Variable = "ENDURANCE";

    private static readonly InstrumentedWorld World = new();

    public TestContext TestContext { get; set; } = null!;

    [ClassCleanup]
    public static void Clean() => World.Dispose();

    [TestMethod]
    [DataRow("scene", 12_000)]
    [DataRow("site", 20_000)]
    [DataRow("filter", 60_000)]
    [DataRow("store", 4_000)]
    [DataRow("clock", 60_000)]
    public void NoInputBreaksIt(string name, int inputs)
    {
        var run = new FuzzRun(World.AsNew().Target(name), seed: 20310314);
        run.Try(inputs * (long)Factor);
        string words = $"{run.Summary}; {Variable}=10 tries ten times as many";
        TestContext.WriteLine(words);
        Assert.AreEqual(0, run.Findings.Count, $"{words}\n{string.Join("\n", run.Findings)}");
        Assert.IsTrue(run.SeedBranches > 0, "the seeds take no branch: nothing is counted");
        Assert.IsTrue(run.Branches > run.SeedBranches && run.Inputs > run.SeedInputs, $"{words}: nothing beyond the seeds was reached");
    }

    /// <summary>The search finds a planted fault that random inputs do not find. Without this, the test above could not fail.</summary>
    [TestMethod]
    public void APlantedFaultIsFoundAndByTheBranchesAlone()
    {
        const int Inputs = 150_000;
        var led = new FuzzRun(World.Target("planted"), seed: 3);
        led.Try(Inputs);
        TestContext.WriteLine(led.Summary);
        StringAssert.Contains(led.Findings.Single().What, "InvalidOperationException");
        Assert.AreEqual("SEA!", System.Text.Encoding.ASCII.GetString(led.Findings.Single().Input, 0, 4));
        var chance = new FuzzRun(World.Target("planted"), seed: 3, led: false);
        chance.Try(Inputs);
        Assert.AreEqual(0, chance.Findings.Count, "chance alone finds it too: the fault is planted too shallow to prove anything");
    }

    /// <summary>Each search begins with static fields of its own, because what one search leaves in them changes the branches of the next.</summary>
    [TestMethod]
    public void TheSameSeedSearchesTheSame()
    {
        string[] summaries = [.. new ulong[] { 7, 7, 8 }.Select(seed =>
        {
            var run = new FuzzRun(World.AsNew().Target("site"), seed);
            run.Try(3_000);
            return run.Summary;
        })];
        Assert.AreEqual(summaries[0], summaries[1]);
        Assert.AreNotEqual(summaries[0], summaries[2]);
    }

    private static int Factor => int.TryParse(Environment.GetEnvironmentVariable(Variable), out int factor) && factor > 0 ? factor : 1;
}

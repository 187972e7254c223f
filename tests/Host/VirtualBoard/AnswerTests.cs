using Intervalometer.VirtualBoard.Cli;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The facts that the printed answer must show: third stops are exact, dials print rounded figures.</summary>
[TestClass]
public class AnswerTests
{
    private static (int Code, string Output, string Error) Answer(params string[] args)
    {
        var output = new StringWriter();
        var error = new StringWriter();
        int code = CommandLine.Run(["answer", .. args], output, error);
        return (code, output.ToString(), error.ToString());
    }

    [TestMethod]
    public void TenStopsOnASixtiethAreSixteenSeconds()
    {
        var (code, output, _) = Answer("--base", "1/60", "--filter", "10 stops");
        Assert.AreEqual(0, code);
        StringAssert.StartsWith(output, "Dial 15 (16.00 s)");
        StringAssert.Contains(output, "Metered 1/60 is truly 2^-6 = 15.63 ms.");
        StringAssert.Contains(output, "Multiplying the printed 1/60 would give 17.07 s, 0.09 stops off");
    }

    [TestMethod]
    public void TwelveStopsOnASixtiethAreSixtyFourSeconds()
    {
        var (code, output, _) = Answer("--base", "1/60", "--filter", "10 stops", "--filter", "2 stops");
        Assert.AreEqual(0, code);
        StringAssert.StartsWith(output, "Bulb 64.00 s");
    }

    /// <summary>A factor of 8 is three stops: twice that on 1/60 is 2^(6 - 6) = 1 s.</summary>
    [TestMethod]
    public void TwoEqualFiltersAreBothCounted()
    {
        var (code, output, error) = Answer("--base", "1/60", "--filter", "ND8", "--filter", "ND8");
        Assert.AreEqual((0, ""), (code, error));
        StringAssert.StartsWith(output, "Dial 1 (1.00 s)");
        StringAssert.Contains(output, "ND8 takes 3.00 stops.");
        StringAssert.Contains(output, "ND8 2 takes 3.00 stops.");
    }

    [TestMethod]
    public void ApertureAndSensitivityAreReportedToChangeNothing()
    {
        var (_, output, _) = Answer("--base", "1/60", "--filter", "ND8", "--aperture", "f/5.6", "--iso", "200");
        StringAssert.StartsWith(output, Answer("--base", "1/60", "--filter", "ND8").Output.Split('\n')[0]);
        StringAssert.Contains(output, "Metered at f/5.6 and ISO 200; both stay as they are, so they do not change the time.");
    }

    [TestMethod]
    public void ReciprocityFailureOfFilmIsCorrected()
    {
        // 10 s to the power of 1.31 is 20.4 s.
        var (code, output, _) = Answer("--base", "10", "--film", "power 1.31");
        Assert.AreEqual(0, code);
        StringAssert.StartsWith(output, "Dial 20 ");
    }

    [TestMethod]
    [DataRow("--film", "nothing")]
    [DataRow("--hand", "31")]
    [DataRow("--filter", "GRAD 9.0H")]
    public void ImpossibleInputGivesOneLineAndExitCodeTwo(string option, string value)
    {
        var (code, output, error) = Answer("--base", "1/60", option, value);
        Assert.AreEqual(2, code);
        Assert.AreEqual("", output);
        Assert.AreEqual(1, error.Trim().Split('\n').Length, error);
    }

    [TestMethod]
    public void OverTheLimitIsRefusedWithARemedy()
    {
        var (code, output, _) = Answer("--base", "30", "--filter", "10 stops");
        Assert.AreEqual(1, code);
        StringAssert.Contains(output, "Take a filter off");
    }
}

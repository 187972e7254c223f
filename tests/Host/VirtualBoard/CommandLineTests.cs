using System.Net;
using System.Net.Sockets;
using Intervalometer.VirtualBoard.Cli;

namespace Intervalometer.Tests.Host.VirtualBoard;

[TestClass]
public class CommandLineTests
{
    private static (int Code, string Output, string Error) Run(params string[] args)
    {
        var output = new StringWriter();
        var error = new StringWriter();
        return (CommandLine.Run(args, output, error), output.ToString(), error.ToString());
    }

    /// <summary>1/60 is truly 2^-6 s; ND 3.0 is 9.966 stops by density / log10 2, so 2^(9.966 - 6) = 15.6 s, on the dial's mark 15.</summary>
    [TestMethod]
    public void AnAnswerMatchesTheDensityArithmetic()
    {
        var (code, output, _) = Run("answer", "--base", "1/60", "--aperture", "f/8", "--iso", "100", "--filter", "ND 3.0");
        Assert.AreEqual(0, code);
        StringAssert.StartsWith(output, "Dial 15 (16.00 s)");
        StringAssert.Contains(output, "ND 3.0 takes 9.97 stops.");
    }

    [TestMethod]
    [DataRow("--base", "1/61", "Shutter '1/61': not a third-stop figure. Nearest: 1/80 or 1/60.")]
    [DataRow("--filter", "ND 9.9", "Filter \"ND 9.9\": Filter ND 9.9: density in hundredths 990 is outside 0 to 600. Use a value inside.")]
    [DataRow("--aperture", "f/7.7", "Aperture 'f/7.7': not a third-stop figure. Nearest: 7.1 or 8.")]
    [DataRow("--iso", "fast", "ISO 'fast': not a value. Write ISO 100 or 400.")]
    public void ABadAnswerRequestGivesOneLineOfError(string option, string value, string line)
    {
        string[] args = option == "--base" ? ["answer", option, value] : ["answer", "--base", "1/60", option, value];
        var (code, output, error) = Run(args);
        Assert.AreEqual(2, code);
        Assert.AreEqual("", output);
        Assert.AreEqual(line, error.TrimEnd('\n'));
    }

    [TestMethod]
    [DataRow("answer --base 1/60 --limit -5", "Longest exposure -5: give 1 second or more.")]
    [DataRow("plan --top -1", "--top is 0 or more, not -1.")]
    [DataRow("plan --days 0", "--days is 1 to 366, not 0.")]
    [DataRow("plan no-such-file.txt", "no-such-file.txt: cannot be read (there is no such file); check the name")]
    [DataRow("site no-such-file.txt", "no-such-file.txt: cannot be read (there is no such file); check the name")]
    public void BadInputEndsWithTheSameCodeEverywhere(string line, string told)
    {
        var (code, output, error) = Run(line.Split(' '));
        Assert.AreEqual((2, "", told), (code, output, error.TrimEnd()));
    }

    /// <summary>The study must not play waves for half a minute when no file can be written to the folder.</summary>
    [TestMethod]
    public void AFolderThatTakesNoFileIsReportedBeforeTheStudyIsPlayed()
    {
        string file = Path.GetTempFileName();
        try
        {
            var (code, output, error) = Run("sea-study", "--quick", "--out", Path.Combine(file, "inside"));
            Assert.AreEqual((2, ""), (code, output));
            StringAssert.StartsWith(error, $"--out {Path.Combine(file, "inside")}: ");
            StringAssert.EndsWith(error.TrimEnd(), " Choose a folder that can be written.");
        }
        finally
        {
            File.Delete(file);
        }
    }

    [TestMethod]
    [DataRow("serve")]
    [DataRow("play")]
    [DataRow("answer")]
    [DataRow("sea-study")]
    [DataRow("")]
    public void EveryVerbHasHelp(string verb)
    {
        var (code, output, _) = Run(verb.Length == 0 ? ["--help"] : [verb, "--help"]);
        Assert.AreEqual(0, code);
        StringAssert.Contains(output, "Usage:");
    }

    [TestMethod]
    [DataRow("dance")]
    [DataRow("play")]
    [DataRow("serve --port many")]
    public void AnUnknownWordGivesOneLineOfError(string line)
    {
        var (code, _, error) = Run(line.Split(' '));
        Assert.AreEqual(2, code);
        Assert.AreEqual(1, error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length, error);
    }

    [TestMethod]
    public void APortInUseIsOneLine()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        int port = ((IPEndPoint)taken.LocalEndpoint).Port;
        var (code, _, error) = Run("serve", "--port", port.ToString());
        Assert.AreEqual(2, code);
        Assert.AreEqual($"Port {port} is in use; choose another with --port.", error.Trim());
    }
}

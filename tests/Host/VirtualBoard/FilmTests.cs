using System.Buffers.Binary;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard.Cli;
using Intervalometer.VirtualBoard.Report;
using SkiaSharp;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>README shows the animation that the command draws. Every PNG reader can show the animation as a picture, and its frames are stored as the standard says (W3C, PNG Specification, Third Edition).</summary>
[TestClass]
public class FilmTests
{
    private const string ReadmePicture = "firmware/VirtualBoard/Pictures/wave-run.png";

    private static readonly string Scene = Repository.At("firmware/VirtualBoard/Examples/backwash.json");

    [TestMethod]
    public void TheRunOfReadmeBecomesAnAnimatedPicture()
    {
        string folder = Directory.CreateTempSubdirectory("film").FullName;
        try
        {
            string file = Path.Combine(folder, "run.png");
            var output = new StringWriter();
            Assert.AreEqual(0, CommandLine.Run(["film", Scene, "--from", "62", "--until", "74", "--out", file], output, output), output.ToString());
            byte[] bytes = File.ReadAllBytes(file);
            using SKBitmap first = SKBitmap.Decode(bytes);
            Assert.AreEqual(128 * 4 + 16, first.Width);
            var chunks = AnimatedPng.Chunks(bytes).ToList();
            Assert.AreEqual("IHDR acTL fcTL IDAT", string.Join(" ", chunks.Take(4).Select(c => c.Kind)));
            Assert.AreEqual("IEND", chunks[^1].Kind);
            int frames = BinaryPrimitives.ReadInt32BigEndian(chunks[1].Data);
            Assert.AreEqual(61, frames, "there are five frames for each of the twelve seconds, and the first");
            Assert.IsTrue(bytes.AsSpan().SequenceEqual(File.ReadAllBytes(Repository.At(ReadmePicture))), $"{ReadmePicture} is not what film draws: write it again with the command in firmware/VirtualBoard/README.md");
            Assert.AreEqual(frames, chunks.Count(c => c.Kind == "fcTL"));
            int[] numbers = [.. chunks.Where(c => c.Kind is "fcTL" or "fdAT").Select(c => BinaryPrimitives.ReadInt32BigEndian(c.Data))];
            CollectionAssert.AreEqual(Enumerable.Range(0, numbers.Length).ToArray(), numbers, "the numbers run on without a gap");
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [TestMethod]
    public void TimesThatAreNoneOfTheScenarioAreRefused()
    {
        var error = new StringWriter();
        Assert.AreEqual(2, CommandLine.Run(["film", Scene, "--from", "60", "--until", "500", "--out", "never.png"], error, error));
        StringAssert.StartsWith(error.ToString(), "Give --from and --until as two times of the scenario, the earlier one first and at most 60 s apart; it ends at 120 s.");
        Assert.IsFalse(File.Exists("never.png"));
    }
}

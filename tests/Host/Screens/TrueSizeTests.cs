using System.Runtime.CompilerServices;
using Intervalometer.Screens;
using SkiaSharp;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>
/// Every screen at the size of both displays. With INTERVALOMETER_PICTURES=folder the tests write screens-2.42-inch.pdf and
/// screens-0.96-inch.pdf there: printed at 100 %, they are as large as on the box.
/// </summary>
[TestClass]
public class TrueSizeTests
{
    // Lit area of the glass, mm: the panels' data sheets (from memory).
    private const double FirstWidth = 55.01, FirstHeight = 27.49, SecondWidth = 21.74, SecondHeight = 10.86;

    // The least height of a small letter without a stroke that rises above it, mm, for whatever matters.
    private const double LeastXHeight = 1.5;

    private const double PageWidth = 210, PageHeight = 297, Margin = 12, Gap = 6, Caption = 3.5;

    [TestMethod]
    public void OnTheFirstChoiceDisplayEverySmallLetterIsHighEnough()
    {
        double pitch = FirstHeight / Frame.Height;
        Assert.AreEqual(FirstWidth / Frame.Width, pitch, 0.002, "square dots");
        Assert.IsGreaterThanOrEqualTo(LeastXHeight, XHeight(Font.Small) * pitch);
        Assert.IsGreaterThanOrEqualTo(LeastXHeight, XHeight(Font.Medium) * pitch);
        Assert.AreEqual(2.15, XHeight(Font.Small) * pitch, 0.01);
        Assert.AreEqual(0.85, XHeight(Font.Small) * SecondHeight / Frame.Height, 0.01, "the second choice needs good eyes, and hardware/README says so");
    }

    [TestMethod]
    [DataRow("screens-2.42-inch.pdf", FirstWidth, FirstHeight)]
    [DataRow("screens-0.96-inch.pdf", SecondWidth, SecondHeight)]
    public void EveryScreenCanBePrintedAtItsSize(string file, double width, double height)
    {
        (string Name, Func<int, int, bool> Lit)[] screens = [.. Directory.GetFiles(Folder(), "*.txt").Order(StringComparer.Ordinal).Select(Read)];
        Assert.IsGreaterThan(160, screens.Length);
        using var stream = new MemoryStream();
        int drawn = 0, pages = 0;
        using (SKDocument document = SKDocument.CreatePdf(stream))
        {
            for (; drawn < screens.Length; pages++)
            {
                const float PointsPerMillimetre = 72 / 25.4f;
                SKCanvas canvas = document.BeginPage((float)(PageWidth * PointsPerMillimetre), (float)(PageHeight * PointsPerMillimetre));
                canvas.Scale(PointsPerMillimetre);
                drawn += Page(canvas, screens.AsSpan(drawn), width, height);
                document.EndPage();
            }
            document.Close();
        }
        Assert.AreEqual(screens.Length, drawn);
        Assert.IsLessThan(15, pages);
        if (Environment.GetEnvironmentVariable("INTERVALOMETER_PICTURES") is not { } folder) return;
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, file), stream.ToArray());
    }

    /// <summary>A display whose dots are all lit is as wide and as high on the page as the glass, to a tenth of a millimetre.</summary>
    [TestMethod]
    [DataRow(FirstWidth, FirstHeight)]
    [DataRow(SecondWidth, SecondHeight)]
    public void ThePageKeepsTheSizeOfTheGlass(double width, double height)
    {
        const int DotsPerMillimetre = 20;
        using var bitmap = new SKBitmap((int)PageWidth * DotsPerMillimetre, 80 * DotsPerMillimetre);
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(SKColors.Black);
        canvas.Scale(DotsPerMillimetre);
        Page(canvas, [("", (_, _) => true)], width, height);
        canvas.Flush();
        int left = int.MaxValue, right = -1, top = int.MaxValue, bottom = -1;
        for (int y = 0; y < bitmap.Height; y++)
        {
            for (int x = 0; x < bitmap.Width; x++)
            {
                if (bitmap.GetPixel(x, y).Red < 128) continue;
                left = Math.Min(left, x);
                right = Math.Max(right, x);
                top = Math.Min(top, y);
                bottom = Math.Max(bottom, y);
            }
        }
        Assert.AreEqual(width, (right - left + 1.0) / DotsPerMillimetre, 0.1);
        Assert.AreEqual(height, (bottom - top + 1.0) / DotsPerMillimetre, 0.1);
    }

    // Draws as many displays as the page takes, in millimetres, each with its name under it; how many it took.
    private static int Page(SKCanvas canvas, ReadOnlySpan<(string Name, Func<int, int, bool> Lit)> screens, double width, double height)
    {
        using var glass = new SKPaint { Color = SKColors.Black };
        using var dot = new SKPaint { Color = SKColors.White };
        using var ink = new SKPaint { Color = SKColors.Black, IsAntialias = true };
        using var font = new SKFont { Size = 2.2f };
        double pitch = width / Frame.Width;
        int drawn = 0;
        for (double y = Margin; y + height + Caption <= PageHeight - Margin && drawn < screens.Length; y += height + Caption + Gap)
        {
            for (double x = Margin; x + width <= PageWidth - Margin && drawn < screens.Length; x += width + Gap)
            {
                (string name, Func<int, int, bool> lit) = screens[drawn++];
                canvas.DrawRect((float)(x - 1), (float)(y - 1), (float)(width + 2), (float)(height + 2), glass);
                for (int row = 0; row < Frame.Height; row++)
                {
                    for (int column = 0; column < Frame.Width; column++)
                    {
                        if (lit(column, row)) canvas.DrawRect((float)(x + column * pitch), (float)(y + row * pitch), (float)pitch, (float)pitch, dot);
                    }
                }
                canvas.DrawText(name, (float)x, (float)(y + height + Caption), font, ink);
            }
        }
        return drawn;
    }

    // Rows from the top to the foot of an x.
    private static int XHeight(Font font)
    {
        var frame = new Frame();
        frame.Text(0, 0, "x", font);
        int[] rows = [.. Enumerable.Range(0, Frame.Height).Where(y => Enumerable.Range(0, 20).Any(x => frame.Pixel(x, y)))];
        return rows[^1] - rows[0] + 1;
    }

    private static (string Name, Func<int, int, bool> Lit) Read(string path)
    {
        string[] rows = File.ReadAllText(path).ReplaceLineEndings("\n").Split('\n');
        return (Path.GetFileNameWithoutExtension(path), (x, y) => rows[y][x] == '#');
    }

    private static string Folder([CallerFilePath] string here = "") => Path.Combine(Path.GetDirectoryName(here)!, "Golden");
}

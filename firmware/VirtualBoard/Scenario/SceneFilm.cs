using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Sea;
using SkiaSharp;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>A part of a scenario as an animation: the display, and below it the water's edge of the last seconds, each backwash as a band, and the shutter contact.</summary>
public static class SceneFilm
{
    private const int FrameMs = 200;
    private const int DisplayScale = 4;
    private const int StripHeight = 110, BarHeight = 12;
    private const double StripSeconds = 12;
    private static readonly SKColor Sea = new(95, 168, 184), Sand = new(22, 18, 14), Band = new(255, 180, 84, 70), Amber = new(255, 180, 84);

    /// <summary>Plays the scenario up to an end and draws what it shows from a time on. Times in seconds.</summary>
    public static byte[] Draw(SceneFile scene, double from, double until)
    {
        using Board board = SceneStart.PowerOn(scene);
        var pictures = new List<byte[]>();
        long first = SceneStart.Us(from), last = SceneStart.Us(until);
        for (long at = first; at <= last; at += FrameMs * 1000)
        {
            board.RunUntil(at);
            pictures.Add(Picture(board));
        }
        return AnimatedPng.Join(pictures, FrameMs);
    }

    private static byte[] Picture(Board board)
    {
        using SKBitmap display = SKBitmap.Decode(DisplayPicture.Png(board.Display.Model, DisplayScale, Glow.White));
        using var bitmap = new SKBitmap(display.Width, display.Height + StripHeight, SKColorType.Rgba8888, SKAlphaType.Opaque);
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(Sand);
        canvas.DrawBitmap(display, 0, 0);
        Strip(canvas, board, display.Width, display.Height);
        canvas.Flush();
        using SKData data = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static void Strip(SKCanvas canvas, Board board, int width, int top)
    {
        long now = board.Time.NowUs, begin = now - (long)(StripSeconds * 1e6);
        float X(long us) => width * (float)((us - begin) / (StripSeconds * 1e6));
        int foot = top + StripHeight - BarHeight - 6;
        using var paint = new SKPaint { IsAntialias = true };
        paint.Color = Band;
        foreach (Swash wave in Waves.Between(board.Sea, Math.Max(0, begin), now)) canvas.DrawRect(X(wave.TurnUs), top, X(Math.Min(now, wave.EndUs)) - X(wave.TurnUs), StripHeight, paint);
        using var water = new SKPath();
        water.MoveTo(0, foot);
        for (int x = 0; x <= width; x += 2) water.LineTo(x, foot - (float)Math.Min(6, board.Sea.EdgeMetres(Math.Max(0, begin + (long)(x / (double)width * StripSeconds * 1e6)))) * 14);
        water.LineTo(width, foot);
        paint.Color = Sea;
        canvas.DrawPath(water, paint);
        paint.Color = Amber;
        long? since = null;
        foreach (LineChange change in board.Lines.Changes.Where(c => c.Line == Line.SensorOpen))
        {
            if (change.On) since = change.AtUs;
            else if (since is long open)
            {
                canvas.DrawRect(X(open), foot + 6, Math.Max(2, X(change.AtUs) - X(open)), BarHeight, paint);
                since = null;
            }
        }
        if (since is long still) canvas.DrawRect(X(still), foot + 6, Math.Max(2, X(now) - X(still)), BarHeight, paint);
    }
}

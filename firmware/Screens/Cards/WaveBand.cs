using Intervalometer.Core.Link;

namespace Intervalometer.Screens.Cards;

/// <summary>
/// A moving band, 18 rows high. The vertical line at one fifth of the width is the present, and time runs to the right for one and a half
/// periods. Each expected turn is a bar as wide as its uncertainty, with a spike at the likeliest moment. Allocates nothing.
/// </summary>
public static class WaveBand
{
    private const int NowX = 24;
    private const int Rows = 18;

    /// <summary>Draws the band.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="y">The top row.</param>
    /// <param name="rhythm">What the marks have taught about the waves.</param>
    /// <param name="targetUs">When the shutter is to open, µs, drawn as a triangle; 0 for none.</param>
    /// <param name="nowUs">The time now, µs.</param>
    public static void Draw(Frame frame, int y, SeaReport rhythm, long targetUs, long nowUs)
    {
        int foot = y + Rows - 1;
        frame.HLine(0, foot, Frame.Width);
        frame.VLine(NowX, y, Rows);
        if (!rhythm.Ready || rhythm.PeriodSeconds <= 0) return;
        // divisor: PeriodSeconds was just tested to be above zero.
        double pixelsPerUs = (Frame.Width - NowX) / (1.5e6 * rhythm.PeriodSeconds);
        if (!rhythm.Stale(nowUs))
        {
            for (int ahead = 1; ahead <= 2; ahead++)
            {
                if (!rhythm.TryForecast(nowUs, ahead, out long turnUs, out double spread)) break;
                int centre = NowX + (int)((turnUs - nowUs) * pixelsPerUs);
                int half = (int)(spread * 1e6 * pixelsPerUs);
                Bar(frame, centre - half, centre + half, foot - 5, 5);
                Bar(frame, centre, centre + 1, foot - 12, 12);
            }
        }
        int last = NowX - (int)((nowUs - rhythm.LastMarkUs) * pixelsPerUs);
        Bar(frame, last, last + 1, foot - 12, 12);
        if (targetUs <= nowUs) return;
        int target = NowX + (int)((targetUs - nowUs) * pixelsPerUs);
        for (int row = 0; row < 4; row++) Bar(frame, target - 3 + row, target + 4 - row, y + row, 1);
    }

    private static void Bar(Frame frame, int left, int right, int y, int rows)
    {
        if (left < 0) left = 0;
        if (right > Frame.Width) right = Frame.Width;
        if (right > left) frame.FillRect(left, y, right - left, rows);
    }
}

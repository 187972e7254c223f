using Intervalometer.Core.Numerics;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>The light that a frame collects: the scene's luminance added up while the sensor is open.</summary>
public static class FrameLight
{
    private const double PieceUs = 500_000;

    /// <summary>Light from the opening to the closing, cd s/m², by Simpson's rule over pieces of half a second at most.</summary>
    public static double Collected(ISky sky, long openUs, long closeUs)
    {
        int pieces = (int)Math.Max(1, Math.Ceiling((closeUs - openUs) / PieceUs));
        double width = (double)(closeUs - openUs) / pieces, sum = 0;
        double here = sky.Luminance(openUs);
        for (int i = 0; i < pieces; i++)
        {
            double middle = sky.Luminance(openUs + (long)((i + 0.5) * width)), next = sky.Luminance(openUs + (long)((i + 1) * width));
            sum += (here + 4 * middle + next) / 6;
            here = next;
        }
        return sum * width / 1e6;
    }

    /// <summary>What a frame collected against what was metered, stops: above 0 it is overexposed. Null when nothing was metered.</summary>
    public static double? Stops(ISky sky, Frame frame, FrameAim aim) =>
        aim.MeteredUs is long metered
            ? Elementary.Log2(Collected(sky, frame.OpenUs, frame.CloseUs) / (sky.Luminance(metered) * aim.AnswerSeconds))
            : null;
}

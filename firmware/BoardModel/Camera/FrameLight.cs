using Intervalometer.Core.Numerics;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>The light that a frame collects: what comes while the sensor is open, added up.</summary>
public static class FrameLight
{
    private const double PieceUs = 500_000;

    /// <summary>What a frame collected of the scene's light against what was metered, stops: above 0 it is overexposed. Null when nothing was metered.</summary>
    public static double? Stops(ISky sky, Frame frame, FrameAim aim) => Stops(sky.Luminance, frame, aim);

    /// <summary>The same of the light that fell on the box: what is right for that is the best that a sensor on the box could do.</summary>
    public static double? StopsAtBox(ISky sky, Frame frame, FrameAim aim) => Stops(sky.Lux, frame, aim);

    private static double? Stops(Func<long, double> light, Frame frame, FrameAim aim) =>
        aim.MeteredUs is long metered ? Elementary.Log2(Collected(light, frame.OpenUs, frame.CloseUs) / (light(metered) * aim.AnswerSeconds)) : null;

    // Simpson's rule over pieces of half a second at most.
    private static double Collected(Func<long, double> light, long openUs, long closeUs)
    {
        int pieces = (int)Math.Max(1, Math.Ceiling((closeUs - openUs) / PieceUs));
        double width = (double)(closeUs - openUs) / pieces, sum = 0;
        double here = light(openUs);
        for (int i = 0; i < pieces; i++)
        {
            double next = light(openUs + (long)((i + 1) * width));
            sum += (here + 4 * light(openUs + (long)((i + 0.5) * width)) + next) / 6;
            here = next;
        }
        return sum * width / 1e6;
    }
}

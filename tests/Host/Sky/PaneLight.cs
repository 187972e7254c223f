namespace Intervalometer.Tests.Host.Sky;

/// <summary>
/// Light through the opal pane, photon by photon: a block of acrylic in which light is scattered evenly in all directions and not absorbed. Its faces
/// reflect by Fresnel's formulas. Light that leaves below through the opening is counted; what meets the seat or the collar is lost.
/// </summary>
/// <param name="side">Side of the pane, millimetres.</param>
/// <param name="thickness">Its thickness, millimetres.</param>
/// <param name="opening">Diameter of the opening below it, millimetres.</param>
/// <param name="proud">How much of its edges stands out of the collar, millimetres.</param>
/// <param name="rimAway">Millimetres from its edge to a rim that is as high as its top.</param>
/// <param name="free">Mean way between two scatterings, millimetres.</param>
internal sealed class PaneLight(double side, double thickness, double opening, double proud, double rimAway, double free)
{
    private const double Index = 1.49;
    private const int MostSteps = 5000;

    /// <summary>Part of the light on a square millimetre that faces the sun which comes through the opening, in square millimetres.</summary>
    public double Area(double altitude, int photons, int seed)
    {
        var random = new Random(seed);
        var (up, level) = Math.SinCos(altitude * Math.PI / 180);
        // Light comes along +x, downwards: the top and one edge are lit.
        var lit = up >= 1 ? proud : Math.Min(proud, rimAway * up / level);
        var (top, edge) = (side * side * up, side * lit * level);
        var through = 0;
        for (var i = 0; i < photons; i++)
        {
            double[] d = [level, 0, -up], p;
            int axis;
            if (random.NextDouble() * (top + edge) < top) (p, axis) = ([side * (random.NextDouble() - 0.5), side * (random.NextDouble() - 0.5), thickness], 2);
            else (p, axis) = ([-side / 2, side * (random.NextDouble() - 0.5), thickness - lit * random.NextDouble()], 0);
            var cosine = Math.Abs(d[axis]);
            if (random.NextDouble() < Reflected(cosine, 1 / Index)) continue;
            for (var a = 0; a < 3; a++) d[a] /= Index;
            d[axis] = Math.Sign(d[axis]) * Math.Sqrt(1 - (1 - cosine * cosine) / (Index * Index));
            if (ComesThrough(random, p, d)) through++;
        }

        return (top + edge) * through / photons;
    }

    private bool ComesThrough(Random random, double[] p, double[] d)
    {
        var left = -free * Math.Log(1 - random.NextDouble());
        for (var step = 0; step < MostSteps; step++)
        {
            var (way, axis) = (left, -1);
            for (var a = 0; a < 3; a++)
            {
                if (d[a] == 0) continue;
                var (low, high) = a == 2 ? (0.0, thickness) : (-side / 2, side / 2);
                var to = ((d[a] > 0 ? high : low) - p[a]) / d[a];
                if (to < way) (way, axis) = (to, a);
            }

            for (var a = 0; a < 3; a++) p[a] += way * d[a];
            left -= way;
            if (axis < 0)
            {
                var (z, turn) = (2 * random.NextDouble() - 1, 2 * Math.PI * random.NextDouble());
                var r = Math.Sqrt(1 - z * z);
                (d[0], d[1], d[2]) = (r * Math.Cos(turn), r * Math.Sin(turn), z);
                left = -free * Math.Log(1 - random.NextDouble());
                continue;
            }

            var (below, inHole) = (axis == 2 && d[2] < 0, p[0] * p[0] + p[1] * p[1] < opening * opening / 4);
            if (below && !inHole) return false;
            if (axis < 2 && p[2] < thickness - proud) return false;
            if (random.NextDouble() >= Reflected(Math.Abs(d[axis]), Index)) return below;
            d[axis] = -d[axis];
        }

        return false;
    }

    /// <summary>Part that a face reflects; the ratio is the index on this side over that on the other.</summary>
    private static double Reflected(double cosine, double ratio)
    {
        var sine2 = ratio * ratio * (1 - cosine * cosine);
        if (sine2 >= 1) return 1;
        var beyond = Math.Sqrt(1 - sine2);
        var s = (ratio * cosine - beyond) / (ratio * cosine + beyond);
        var q = (cosine - ratio * beyond) / (cosine + ratio * beyond);
        return (s * s + q * q) / 2;
    }
}

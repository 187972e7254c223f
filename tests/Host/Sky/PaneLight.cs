namespace Intervalometer.Tests.Host.Sky;

/// <summary>An opal pane on its collar, millimetres. The back is the side of the lid, where the photographer stands.</summary>
/// <param name="Side">Side of the pane.</param>
/// <param name="Thickness">Its thickness.</param>
/// <param name="Bore">Diameter of the bore below it.</param>
/// <param name="Slant">Degrees from the axis of the bore to that of the pane: the bore cuts the pane in an ellipse.</param>
/// <param name="Proud">How much of its edges stands out of the plate in front and at the sides.</param>
/// <param name="ProudBack">The same at the back, where no rim stands.</param>
/// <param name="RimAway">From the edge in front and at the sides to a rim that is as high as the top of the pane.</param>
/// <param name="RimEnd">How far behind the middle of the pane the rim of the sides ends.</param>
/// <param name="Free">Mean way between two scatterings.</param>
/// <param name="Bed">Part of the light that the bed below and round the pane throws back.</param>
internal sealed record OpalPane(double Side, double Thickness, double Bore, double Slant, double Proud, double ProudBack, double RimAway, double RimEnd, double Free, double Bed);

/// <summary>
/// Light through the opal pane, photon by photon: a block of acrylic in which light is scattered evenly in all directions and not absorbed. Its faces
/// reflect by Fresnel's formulas. Light that leaves below through the bore is counted; what meets the bed is thrown back in part, evenly matt, or lost.
/// </summary>
/// <param name="pane">The pane.</param>
internal sealed class PaneLight(OpalPane pane)
{
    private const double Index = 1.49;
    private const int MostSteps = 5000;

    /// <summary>Part of the light on a square millimetre that faces the sun which comes through the bore, in square millimetres.</summary>
    /// <param name="altitude">Height of the sun over the plane of the pane, degrees.</param>
    /// <param name="turn">From where it comes: 0 degrees is from the back, 180 from the front.</param>
    /// <param name="photons">How many are followed.</param>
    /// <param name="seed">The same seed gives the same photons.</param>
    public double Area(double altitude, double turn, int photons, int seed)
    {
        var random = new Random(seed);
        var (up, level) = Math.SinCos(altitude * Math.PI / 180);
        var (across, along) = Math.SinCos(turn * Math.PI / 180);
        // The way of the light: along +x it comes from the back. It meets the top, one edge across and one edge at a side.
        double[] way = [level * along, level * across, -up];
        var steep = level > 0 ? up / level : double.MaxValue;
        double LitBelowRim(double part) => part < 1e-9 ? 0 : Math.Min(pane.Proud, pane.RimAway * steep / part);
        var (litX, litY) = (along > 0 ? pane.ProudBack : LitBelowRim(-along), LitBelowRim(across));
        double[] faces = [pane.Side * litX * Math.Abs(way[0]), pane.Side * litY * way[1], pane.Side * pane.Side * up];
        var all = faces.Sum();
        var through = 0;
        for (var i = 0; i < photons; i++)
        {
            double[] d = [.. way], p = [pane.Side * (random.NextDouble() - 0.5), pane.Side * (random.NextDouble() - 0.5), pane.Thickness];
            var at = random.NextDouble() * all;
            var axis = at < faces[2] ? 2 : at < faces[2] + faces[0] ? 0 : 1;
            if (axis < 2)
            {
                p[axis] = -Math.Sign(d[axis]) * pane.Side / 2;
                p[2] = pane.Thickness - (axis == 0 ? litX : litY) * random.NextDouble();
                if (axis == 0 && along > 0 && BehindTheSideRim(p, across / along, steep / Math.Max(1e-9, across))) continue;
            }

            var cosine = Math.Abs(d[axis]);
            if (random.NextDouble() < Reflected(cosine, 1 / Index)) continue;
            for (var a = 0; a < 3; a++) d[a] /= Index;
            d[axis] = Math.Sign(d[axis]) * Math.Sqrt(1 - (1 - cosine * cosine) / (Index * Index));
            if (ComesThrough(random, p, d)) through++;
        }

        return all * through / photons;
    }

    /// <summary>True for light that would have to pass the rim of a side below its top to meet a point of the back edge.</summary>
    private bool BehindTheSideRim(double[] p, double acrossPerAlong, double risePerAcross)
    {
        var away = pane.Side / 2 + pane.RimAway + p[1];
        return acrossPerAlong > 0 && pane.Side / 2 + away / acrossPerAlong < pane.RimEnd && p[2] + away * risePerAcross < pane.Thickness;
    }

    private bool ComesThrough(Random random, double[] p, double[] d)
    {
        var left = -pane.Free * Math.Log(1 - random.NextDouble());
        for (var step = 0; step < MostSteps; step++)
        {
            var (way, axis) = (left, -1);
            for (var a = 0; a < 3; a++)
            {
                if (d[a] == 0) continue;
                var (low, high) = a == 2 ? (0.0, pane.Thickness) : (-pane.Side / 2, pane.Side / 2);
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
                left = -pane.Free * Math.Log(1 - random.NextDouble());
                continue;
            }

            var below = axis == 2 && d[2] < 0;
            var free = axis == 2 ? !below || OverTheBore(p) : p[2] >= pane.Thickness - (axis == 0 && d[0] < 0 ? pane.ProudBack : pane.Proud);
            if (!free)
            {
                if (random.NextDouble() >= pane.Bed) return false;
                var (inwards, turn) = (random.NextDouble(), 2 * Math.PI * random.NextDouble());
                var sign = -Math.Sign(d[axis]);
                var flat = Math.Sqrt(inwards);
                (d[axis], d[(axis + 1) % 3], d[(axis + 2) % 3]) = (sign * Math.Sqrt(1 - inwards), flat * Math.Cos(turn), flat * Math.Sin(turn));
                continue;
            }

            if (random.NextDouble() >= Reflected(Math.Abs(d[axis]), Index)) return below;
            d[axis] = -d[axis];
        }

        return false;
    }

    private bool OverTheBore(double[] p)
    {
        var (x, half) = (p[0] * Math.Cos(pane.Slant * Math.PI / 180), pane.Bore / 2);
        return x * x + p[1] * p[1] < half * half;
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

using System.Globalization;

namespace Intervalometer.Tests.Hardware;

/// <summary>A body of triangles as OpenSCAD writes it, cut by lines along the axes.</summary>
internal sealed class Stl
{
    private readonly List<double[]> _triangles = []; // nine coordinates each

    public Stl(string file)
    {
        var points = File.ReadLines(file).Select(l => l.Trim()).Where(l => l.StartsWith("vertex ", StringComparison.Ordinal))
            .Select(l => l.Split(' ').Skip(1).Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray()).ToList();
        for (var i = 0; i + 2 < points.Count; i += 3)
        {
            _triangles.Add([.. points[i], .. points[i + 1], .. points[i + 2]]);
        }

        Least = [.. Enumerable.Range(0, 3).Select(a => points.Min(p => p[a]))];
        Most = [.. Enumerable.Range(0, 3).Select(a => points.Max(p => p[a]))];
    }

    public double[] Least { get; }

    public double[] Most { get; }

    /// <summary>
    /// Where a line along an axis (0 x, 1 y, 2 z) is inside the body: from, to, and true when both ends are faces square to the line.
    /// The other two coordinates are given in the order of the axes.
    /// </summary>
    public List<(double From, double To, bool Square)> Solid(int axis, double u, double v)
    {
        var (a, b) = axis switch { 0 => (1, 2), 1 => (0, 2), _ => (0, 1) };
        var hits = new List<(double At, bool Square)>();
        foreach (var t in _triangles)
        {
            double U(int i) => t[3 * i + a];
            double V(int i) => t[3 * i + b];
            var area = (U(1) - U(0)) * (V(2) - V(0)) - (U(2) - U(0)) * (V(1) - V(0));
            if (Math.Abs(area) < 1e-12)
            {
                continue;
            }

            var w1 = ((u - U(0)) * (V(2) - V(0)) - (U(2) - U(0)) * (v - V(0))) / area;
            var w2 = ((U(1) - U(0)) * (v - V(0)) - (u - U(0)) * (V(1) - V(0))) / area;
            if (w1 >= 0 && w2 >= 0 && w1 + w2 <= 1)
            {
                var at = t[axis] + w1 * (t[3 + axis] - t[axis]) + w2 * (t[6 + axis] - t[axis]);
                var flat = Math.Max(t[axis], Math.Max(t[3 + axis], t[6 + axis])) - Math.Min(t[axis], Math.Min(t[3 + axis], t[6 + axis])) < 1e-6;
                hits.Add((at, flat));
            }
        }

        hits.Sort((p, q) => p.At.CompareTo(q.At));
        return Enumerable.Range(0, hits.Count / 2).Select(i => (hits[2 * i].At, hits[2 * i + 1].At, hits[2 * i].Square && hits[2 * i + 1].Square)).ToList();
    }

    /// <summary>True when the line from a point in a direction meets the body (the test of Moeller and Trumbore, 1997).</summary>
    public bool Meets(double[] from, double[] towards)
    {
        foreach (var t in _triangles)
        {
            double[] p = [t[0], t[1], t[2]], q = [t[3], t[4], t[5]], r = [t[6], t[7], t[8]];
            var (a, b) = (Minus(q, p), Minus(r, p));
            var h = Cross(towards, b);
            var det = Dot(a, h);
            if (Math.Abs(det) < 1e-12)
            {
                continue;
            }

            var s = Minus(from, p);
            var (u, k) = (Dot(s, h) / det, Cross(s, a));
            var v = Dot(towards, k) / det;
            if (u >= 0 && v >= 0 && u + v <= 1 && Dot(b, k) / det > 1e-9)
            {
                return true;
            }
        }

        return false;
    }

    private static double[] Minus(double[] p, double[] q) => [p[0] - q[0], p[1] - q[1], p[2] - q[2]];

    private static double[] Cross(double[] p, double[] q) => [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]];

    private static double Dot(double[] p, double[] q) => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];

    /// <summary>The thinnest wall between two parallel faces, over lines along all three axes, and where it is.</summary>
    public (double Thickness, string Where) Thinnest(double step)
    {
        var (least, where) = (double.MaxValue, "");
        for (var axis = 0; axis < 3; axis++)
        {
            var (a, b) = axis switch { 0 => (1, 2), 1 => (0, 2), _ => (0, 1) };
            // An odd offset keeps the lines off edges.
            for (var u = Least[a] + 0.137; u < Most[a]; u += step)
            {
                for (var v = Least[b] + 0.173; v < Most[b]; v += step)
                {
                    foreach (var (from, to, square) in Solid(axis, u, v))
                    {
                        if (square && to - from < least)
                        {
                            (least, where) = (to - from, FormattableString.Invariant($"{"xyz"[axis]} = {from:F2} to {to:F2} at {"xyz"[a]} = {u:F2}, {"xyz"[b]} = {v:F2}"));
                        }
                    }
                }
            }
        }

        return (least, where);
    }
}

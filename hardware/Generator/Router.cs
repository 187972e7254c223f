namespace Intervalometer.Hardware;

/// <summary>
/// Lays the tracks: a search for the cheapest way on a fine grid of two layers, net by net. A way may cross tracks of another net
/// at a price; that net is then taken up and laid again, and the place becomes dearer each time. GND is left to the planes.
/// The result goes into tracks.csv and is kept; KiCad's own check judges it.
/// </summary>
public sealed partial class Router
{
    private const double Step = 0.254;
    private const double Clearance = 0.32; // The rule is 0.25 mm; the rest covers slanted lines between grid points and the last step to a pad off the grid.
    private const double SpokeRoom = 0.9;
    private static readonly (int X, int Y, int Cost)[] Moves = [(1, 0, 10), (-1, 0, 10), (0, 1, 10), (0, -1, 10), (1, 1, 14), (1, -1, 14), (-1, 1, 14), (-1, -1, 14)];
    private readonly Layout _layout;
    private readonly int _w, _h, _layer;
    private readonly int[] _history;
    private readonly int[] _cost, _back;
    private int _crossing = 60;
    private readonly Dictionary<string, List<Way>> _ways = [];

    /// <summary>Cells from one pad to the net's tree, and the width there.</summary>
    private sealed record Way(List<int> Cells, double Width);

    /// <summary>Prepares the grid of one board.</summary>
    public Router(Layout layout)
    {
        _layout = layout;
        _w = (int)(layout.Outline.X2 / Step) + 1;
        _h = (int)(layout.Outline.Y2 / Step) + 1;
        _layer = _w * _h;
        (_history, _cost, _back) = (new int[2 * _layer], new int[2 * _layer], new int[2 * _layer]);
    }

    /// <summary>Routes everything and gives the text of tracks.csv.</summary>
    public string Route()
    {
        var order = new Queue<string>(_layout.Pads.Where(p => !p.Pin.IsOpen && p.Pin.Net != "GND").GroupBy(p => p.Pin.Net).Where(g => g.Count() > 1)
            .OrderByDescending(g => g.Key.StartsWith("HOLD", StringComparison.Ordinal)).ThenByDescending(g => Layout.WidthOf(g.Key)).ThenBy(Extent).ThenBy(g => g.Key, StringComparer.Ordinal).Select(g => g.Key));
        for (var turns = 0; order.Count > 0; turns++)
        {
            if (turns > 4000)
            {
                throw new InvalidDataException($"no way found for {string.Join(", ", order)}; move parts apart in placement.csv");
            }

            var net = order.Dequeue();
            _crossing = Math.Min(400, 60 + turns);
            foreach (var crossed in Lay(net))
            {
                _ways.Remove(crossed);
                order.Enqueue(crossed);
            }
        }

        return Write();
    }

    private static double Extent(IEnumerable<BoardPad> pads) => pads.Max(p => p.X) - pads.Min(p => p.X) + pads.Max(p => p.Y) - pads.Min(p => p.Y);

    /// <summary>Lays one net whole, its wide ways first; the nets that it had to cross are returned.</summary>
    private HashSet<string> Lay(string net)
    {
        var pads = _layout.Pads.Where(p => p.Pin.Net == net).OrderByDescending(p => _layout.WidthAt(p)).ToList();
        var ways = new List<Way>();
        var tree = new HashSet<int>(PadCells(pads[0]));
        var open = pads.Skip(1).ToList();
        Maps? maps = null;
        while (open.Count > 0)
        {
            var width = open.Max(_layout.WidthAt);
            maps = maps is null || maps.Width != width ? MapsOf(net, width) : maps;
            var goals = new Dictionary<int, BoardPad>();
            foreach (var pad in open.Where(p => _layout.WidthAt(p) == width))
            {
                foreach (var cell in PadCells(pad))
                {
                    goals[cell] = pad;
                }
            }

            var way = Search(tree, goals, maps) ?? throw new InvalidDataException($"{net}: no way from {pads[0].Pin.Key} to {string.Join(" ", open.Select(p => p.Pin.Key))}; move parts apart in placement.csv");
            ways.Add(new(way, width));
            for (var i = 0; i < way.Count; i++)
            {
                if (maps.Soft[way[i]] || (i > 0 && way[i] / _layer != way[i - 1] / _layer && maps.SoftVia[way[i] % _layer]))
                {
                    _history[way[i]] += 40;
                }
            }

            var reached = goals[way[^1]];
            open.Remove(reached);
            tree.UnionWith(way);
            tree.UnionWith(PadCells(reached));
        }

        _ways[net] = ways;
        return _ways.Where(o => o.Key != net && ways.Any(a => o.Value.Any(b => Near(a, b)))).Select(o => o.Key).ToHashSet();
    }

    private bool Near(Way a, Way b)
    {
        const double via = Layout.Via / 2;
        return Near(a.Cells, b.Cells, (a.Width + b.Width) / 2 + Clearance, layers: true) ||
            Near(Vias(a).ToList(), b.Cells, via + b.Width / 2 + Clearance, layers: false) ||
            Near(Vias(b).ToList(), a.Cells, via + a.Width / 2 + Clearance, layers: false) ||
            Near(Vias(a).ToList(), Vias(b).ToList(), 2 * via + Clearance, layers: false);
    }

    private bool Near(List<int> mine, List<int> theirs, double distance, bool layers)
    {
        var least = distance * distance / (Step * Step);
        foreach (var p in mine)
        {
            var (px, py) = (p % _layer % _w, p % _layer / _w);
            foreach (var q in theirs)
            {
                var dx = q % _layer % _w - px;
                if (dx * dx >= least || (layers && p / _layer != q / _layer))
                {
                    continue;
                }

                var dy = q % _layer / _w - py;
                if (dx * dx + dy * dy < least)
                {
                    return true;
                }
            }
        }

        return false;
    }

    private IEnumerable<int> Vias(Way way) =>
        Enumerable.Range(1, Math.Max(0, way.Cells.Count - 1)).Where(i => way.Cells[i] / _layer != way.Cells[i - 1] / _layer).Select(i => way.Cells[i] % _layer);

    /// <summary>For one net and width: what may not be entered, what may be entered at a price, and the same for vias.</summary>
    private sealed record Maps(double Width, bool[] Hard, bool[] Soft, bool[] NoVia, bool[] SoftVia);

    private Maps MapsOf(string net, double width)
    {
        var half = width / 2;
        var hard = new bool[2 * _layer];
        var soft = new bool[2 * _layer];
        var (noVia, softVia) = (new bool[_layer], new bool[_layer]);
        var camera = Layout.IsCamera(net);
        var slot = _layout.Features.First(f => f.Kind == "slot");
        var edge = 0.5 + half + 0.05;
        for (var y = 0; y < _h; y++)
        {
            for (var x = 0; x < _w; x++)
            {
                var (px, py) = (x * Step, y * Step);
                var outside = px < edge || py < edge || px > _layout.Outline.X2 - edge || py > _layout.Outline.Y2 - edge ||
                    (camera ? px > slot.X1 - 1.26 - half : px < slot.X2 + 0.75 + half);
                hard[y * _w + x] = hard[_layer + y * _w + x] = outside;
            }
        }

        void Stamp(double cx, double cy, double radius, Action<int> mark)
        {
            for (var y = Math.Max(0, (int)Math.Ceiling((cy - radius) / Step)); y <= Math.Min(_h - 1, (int)((cy + radius) / Step)); y++)
            {
                for (var x = Math.Max(0, (int)Math.Ceiling((cx - radius) / Step)); x <= Math.Min(_w - 1, (int)((cx + radius) / Step)); x++)
                {
                    if (Math.Pow(x * Step - cx, 2) + Math.Pow(y * Step - cy, 2) < radius * radius)
                    {
                        mark(y * _w + x);
                    }
                }
            }
        }

        foreach (var pad in _layout.Pads)
        {
            // A square pad reaches further at its corners.
            var radius = pad.Shape == "rect" ? pad.Radius * 1.42 : pad.Radius;
            if (pad.Pin.Net != net)
            {
                Stamp(pad.X, pad.Y, radius + Clearance + half, i => hard[i] = hard[_layer + i] = true);
            }

            if (pad.Pin.Net == "GND")
            {
                // Room for the spokes that join the pad to the plane on the solder side.
                Stamp(pad.X, pad.Y, radius + SpokeRoom + half, i => hard[_layer + i] = true);
            }

            Stamp(pad.X, pad.Y, radius + Clearance + Layout.Via / 2, i => noVia[i] = true);
        }

        foreach (var hole in _layout.Features.Where(f => f.Kind == "hole"))
        {
            Stamp(hole.X1, hole.Y1, 3.4 + half, i => hard[i] = hard[_layer + i] = noVia[i] = true);
        }

        foreach (var ring in _layout.Features.Where(f => f.Kind == "guard"))
        {
            foreach (var (x, y) in Along(ring))
            {
                Stamp(x, y, 0.25 + Clearance + half, i => hard[i] = hard[_layer + i] = true);
                Stamp(x, y, 0.25 + Clearance + Layout.Via / 2, i => noVia[i] = true);
            }
        }

        for (var i = 0; i < _layer; i++)
        {
            noVia[i] |= hard[i] || hard[_layer + i];
        }

        foreach (var way in _ways.Where(o => o.Key != net).SelectMany(o => o.Value))
        {
            foreach (var cell in way.Cells)
            {
                var layer = cell / _layer * _layer;
                var (x, y) = (cell % _layer % _w * Step, cell % _layer / _w * Step);
                Stamp(x, y, half + way.Width / 2 + Clearance, i => soft[layer + i] = true);
                Stamp(x, y, Layout.Via / 2 + way.Width / 2 + Clearance, i => softVia[i] = true);
            }

            foreach (var via in Vias(way))
            {
                Stamp(via % _w * Step, via / _w * Step, half + Layout.Via / 2 + Clearance, i => soft[i] = soft[_layer + i] = true);
                Stamp(via % _w * Step, via / _w * Step, Layout.Via + Clearance, i => softVia[i] = true);
            }
        }

        return new(width, hard, soft, noVia, softVia);
    }

    /// <summary>Points along a ring, a grid step apart.</summary>
    public static IEnumerable<(double X, double Y)> Along(Feature ring)
    {
        for (var x = ring.X1; x <= ring.X2 + 1e-9; x += Step)
        {
            yield return (x, ring.Y1);
            yield return (x, ring.Y2);
        }

        for (var y = ring.Y1; y <= ring.Y2 + 1e-9; y += Step)
        {
            yield return (ring.X1, y);
            yield return (ring.X2, y);
        }
    }

    private IEnumerable<int> PadCells(BoardPad pad)
    {
        var (cx, cy) = ((int)Math.Round(pad.X / Step), (int)Math.Round(pad.Y / Step));
        yield return cy * _w + cx;
        yield return _layer + cy * _w + cx;
    }

    private List<int>? Search(HashSet<int> from, Dictionary<int, BoardPad> goals, Maps maps)
    {
        Array.Fill(_cost, int.MaxValue);
        Array.Fill(_back, -1);
        var queue = new PriorityQueue<int, int>();
        var targets = goals.Values.Distinct().Select(p => (X: (int)Math.Round(p.X / Step), Y: (int)Math.Round(p.Y / Step))).ToList();
        int Guess(int cell)
        {
            var (x, y) = (cell % _layer % _w, cell % _layer / _w);
            var best = int.MaxValue;
            foreach (var t in targets)
            {
                var (dx, dy) = (Math.Abs(t.X - x), Math.Abs(t.Y - y));
                best = Math.Min(best, 10 * Math.Max(dx, dy) + 4 * Math.Min(dx, dy));
            }

            return best;
        }

        foreach (var cell in from.Order())
        {
            _cost[cell] = 0;
            queue.Enqueue(cell, Guess(cell));
        }

        var done = new bool[2 * _layer];
        while (queue.TryDequeue(out var cell, out _))
        {
            if (done[cell])
            {
                continue;
            }

            done[cell] = true;

            if (goals.ContainsKey(cell))
            {
                var way = new List<int> { cell };
                while (_back[cell] >= 0)
                {
                    way.Add(cell = _back[cell]);
                }

                way.Reverse();
                return way;
            }

            var (layer, x, y) = (cell / _layer, cell % _layer % _w, cell % _layer / _w);
            void Try(int next, int price)
            {
                if (maps.Hard[next] && !goals.ContainsKey(next))
                {
                    return;
                }

                var total = _cost[cell] + price + (maps.Soft[next] ? _crossing : 0) + _history[next];
                if (total < _cost[next])
                {
                    _cost[next] = total;
                    _back[next] = cell;
                    queue.Enqueue(next, total + Guess(next));
                }
            }

            foreach (var (dx, dy, price) in Moves)
            {
                if (x + dx >= 0 && x + dx < _w && y + dy >= 0 && y + dy < _h)
                {
                    // The plane on the solder side stays whole where it can: a way there costs a half more.
                    Try(cell + dy * _w + dx, layer == 0 ? price : price * 3 / 2);
                }
            }

            if (!maps.NoVia[y * _w + x])
            {
                Try((1 - layer) * _layer + y * _w + x, maps.SoftVia[y * _w + x] ? 150 + 4 * _crossing : 150);
            }
        }

        return null;
    }
}

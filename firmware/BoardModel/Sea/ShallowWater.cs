namespace Intervalometer.VirtualBoard.Sea;

/// <summary>
/// The nonlinear shallow-water equations in one dimension over any bottom, with a shore that wets and dries. Waves come in
/// at the left edge, and what runs back leaves there.
/// </summary>
/// <remarks>
/// Finite volumes: fluxes after Harten, Lax and van Leer 1983 with wave speeds for a dry bed after Toro 2001, depths at cell faces
/// rebuilt so that still water stays still (Audusse et al. 2004), linear within a cell (minmod), two stages in time (Shu and
/// Osher 1988). Bores are shocks, so breaking needs no rule of its own. Quadratic bottom friction, without time-step limit.
/// Formulas from memory; the tests compare with solutions by others.
/// </remarks>
public sealed class ShallowWater
{
    /// <summary>Water shallower than this is dry, metres.</summary>
    public const double DryMetres = 1e-4;

    private const double G = SwashModel.Gravity;
    private const double Courant = 0.45;

    private readonly double[] _bed, _depth, _flow, _depthBefore, _flowBefore, _depthSlope, _levelSlope, _speedSlope, _speed;
    private readonly double[] _depthChange, _flowChange;
    private readonly double _dx, _friction;

    /// <param name="bedMetres">Height of the bottom in each cell, metres above still water; negative under it.</param>
    /// <param name="cellMetres">Width of a cell, metres.</param>
    /// <param name="friction">Friction factor f of the bottom stress f u |u| / 2 over density; about 0.02 on sand, 0 for none.</param>
    public ShallowWater(double[] bedMetres, double cellMetres, double friction)
    {
        _bed = bedMetres;
        _dx = cellMetres;
        _friction = friction;
        int n = bedMetres.Length;
        _depth = [.. bedMetres.Select(b => Math.Max(0, -b))];
        _flow = new double[n];
        _depthBefore = new double[n];
        _flowBefore = new double[n];
        _depthSlope = new double[n];
        _levelSlope = new double[n];
        _speedSlope = new double[n];
        _speed = new double[n];
        _depthChange = new double[n];
        _flowChange = new double[n];
    }

    /// <summary>Time since the start, seconds.</summary>
    public double Seconds { get; private set; }

    /// <summary>Depth of water in each cell, metres.</summary>
    public double[] Depth => _depth;

    /// <summary>Depth times speed in each cell, m²/s.</summary>
    public double[] Flow => _flow;

    /// <summary>Runs to a time.</summary>
    /// <param name="untilSeconds">When to stop, seconds since the start.</param>
    /// <param name="incoming">Surface of the incoming waves at the left edge, metres above still water, at a time in seconds; null for a wall.</param>
    public void RunTo(double untilSeconds, Func<double, double>? incoming)
    {
        while (Seconds < untilSeconds - 1e-9)
        {
            double fastest = 0.1;
            for (int i = 0; i < _depth.Length; i++)
                if (_depth[i] > DryMetres) fastest = Math.Max(fastest, Math.Abs(_flow[i] / _depth[i]) + Math.Sqrt(G * _depth[i]));
            double dt = Math.Min(Courant * _dx / fastest, untilSeconds - Seconds);
            Array.Copy(_depth, _depthBefore, _depth.Length);
            Array.Copy(_flow, _flowBefore, _flow.Length);
            Stage(dt, incoming, Seconds);
            Stage(dt, incoming, Seconds + dt);
            for (int i = 0; i < _depth.Length; i++)
            {
                _depth[i] = 0.5 * (_depthBefore[i] + _depth[i]);
                _flow[i] = 0.5 * (_flowBefore[i] + _flow[i]);
                Rub(i, dt);
            }
            Seconds += dt;
        }
    }

    /// <summary>Place of the edge, metres from the left: up to there the water is at least so deep, without a break.</summary>
    /// <param name="depthMetres">Least depth that is seen as water, metres.</param>
    public double EdgeMetres(double depthMetres)
    {
        int i = _depth.Length - 1;
        while (i > 0 && _depth[i] < depthMetres) i--;
        if (i == _depth.Length - 1) return i * _dx;
        // Between the last wet middle and the next one, where a straight surface would be that shallow.
        double share = (_depth[i] - depthMetres) / Math.Max(_depth[i] - _depth[i + 1], 1e-12);
        return (i + 0.5 + Math.Clamp(share, 0, 1)) * _dx;
    }

    private void Rub(int i, double dt)
    {
        if (_depth[i] <= DryMetres)
        {
            _depth[i] = Math.Max(0, _depth[i]);
            _flow[i] = 0;
            return;
        }
        _flow[i] /= 1 + dt * _friction / 2 * Math.Abs(_flow[i]) / (_depth[i] * _depth[i]);
    }

    private void Stage(double dt, Func<double, double>? incoming, double seconds)
    {
        int n = _depth.Length;
        for (int i = 0; i < n; i++) _speed[i] = _depth[i] > DryMetres ? _flow[i] / _depth[i] : 0;
        for (int i = 1; i < n - 1; i++)
        {
            // Beside dry cells nothing is steeper than flat.
            bool inside = _depth[i - 1] > DryMetres && _depth[i] > DryMetres && _depth[i + 1] > DryMetres;
            _depthSlope[i] = inside ? MinMod(_depth[i] - _depth[i - 1], _depth[i + 1] - _depth[i]) : 0;
            _levelSlope[i] = inside ? MinMod(_depth[i] + _bed[i] - _depth[i - 1] - _bed[i - 1], _depth[i + 1] + _bed[i + 1] - _depth[i] - _bed[i]) : 0;
            _speedSlope[i] = inside ? MinMod(_speed[i] - _speed[i - 1], _speed[i + 1] - _speed[i]) : 0;
        }
        Array.Clear(_depthChange);
        Array.Clear(_flowChange);
        for (int face = 1; face < n; face++) Face(face - 1, face);
        Left(incoming, seconds);
        // The right edge is a wall that nothing reaches.
        _flowChange[n - 1] -= 0.5 * G * _depth[n - 1] * _depth[n - 1];
        for (int i = 0; i < n; i++)
        {
            // The slope of the depth within a cell over a sloping bottom also gives a force.
            double bedWithin = _levelSlope[i] - _depthSlope[i];
            _flowChange[i] -= G * _depth[i] * bedWithin;
            _depth[i] = Math.Max(0, _depth[i] + dt / _dx * _depthChange[i]);
            _flow[i] = _depth[i] > DryMetres ? _flow[i] + dt / _dx * _flowChange[i] : 0;
        }
    }

    private void Face(int l, int r)
    {
        double depthL = _depth[l] + 0.5 * _depthSlope[l], depthR = _depth[r] - 0.5 * _depthSlope[r];
        double bedL = _depth[l] + _bed[l] + 0.5 * _levelSlope[l] - depthL, bedR = _depth[r] + _bed[r] - 0.5 * _levelSlope[r] - depthR;
        double speedL = _speed[l] + 0.5 * _speedSlope[l], speedR = _speed[r] - 0.5 * _speedSlope[r];
        double bed = Math.Max(bedL, bedR);
        double hl = Math.Max(0, depthL + bedL - bed), hr = Math.Max(0, depthR + bedR - bed);
        Flux(hl, speedL, hr, speedR, out double mass, out double push);
        _depthChange[l] -= mass;
        _depthChange[r] += mass;
        _flowChange[l] -= push + 0.5 * G * (depthL * depthL - hl * hl);
        _flowChange[r] += push + 0.5 * G * (depthR * depthR - hr * hr);
    }

    // The incoming invariant is given, the outgoing one arrives from inside: u + 2c and u - 2c.
    private void Left(Func<double, double>? incoming, double seconds)
    {
        if (incoming is null)
        {
            _flowChange[0] += 0.5 * G * _depth[0] * _depth[0];
            return;
        }
        double still = Math.Max(0, -_bed[0]);
        double inward = 4 * Math.Sqrt(G * Math.Max(0.01, still + incoming(seconds))) - 2 * Math.Sqrt(G * still);
        double outward = _speed[0] - 2 * Math.Sqrt(G * _depth[0]);
        double speed = (inward + outward) / 2, celerity = (inward - outward) / 4;
        double depth = celerity * celerity / G;
        _depthChange[0] += depth * speed;
        _flowChange[0] += depth * speed * speed + 0.5 * G * depth * depth;
    }

    private static void Flux(double hl, double ul, double hr, double ur, out double mass, out double push)
    {
        mass = 0;
        push = 0;
        if (hl <= DryMetres && hr <= DryMetres) return;
        double cl = Math.Sqrt(G * hl), cr = Math.Sqrt(G * hr), slow, fast;
        if (hl <= DryMetres)
        {
            slow = ur - 2 * cr;
            fast = ur + cr;
            ul = ur;
        }
        else if (hr <= DryMetres)
        {
            slow = ul - cl;
            fast = ul + 2 * cl;
            ur = ul;
        }
        else
        {
            slow = Math.Min(ul - cl, ur - cr);
            fast = Math.Max(ul + cl, ur + cr);
        }
        double pushL = hl * ul * ul + 0.5 * G * hl * hl, pushR = hr * ur * ur + 0.5 * G * hr * hr;
        if (slow >= 0)
        {
            mass = hl * ul;
            push = pushL;
        }
        else if (fast <= 0)
        {
            mass = hr * ur;
            push = pushR;
        }
        else
        {
            mass = (fast * hl * ul - slow * hr * ur + slow * fast * (hr - hl)) / (fast - slow);
            push = (fast * pushL - slow * pushR + slow * fast * (hr * ur - hl * ul)) / (fast - slow);
        }
    }

    private static double MinMod(double a, double b) => a * b <= 0 ? 0 : Math.Abs(a) < Math.Abs(b) ? a : b;
}

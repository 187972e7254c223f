using Intervalometer.Core.Numerics;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>What the clouds of a drawn sky do, second by second, made as far as somebody asks.</summary>
internal sealed class SkyTracks
{
    private const double DomeSeconds = 30;
    private const double ApartStops = 0.03;
    private const double ApartSeconds = 600;
    private const double ShowerEverySeconds = 900;
    private const double ShowerSeconds = 300;

    private readonly SkyRecipe _recipe;
    private readonly CloudTrack[] _clouds = new CloudTrack[SkyDome.Thirds];
    private readonly Dice _dice;
    private readonly List<double> _cover = [], _layer = [], _apart = [];
    private readonly List<double>[] _dome = [[], [], []];
    private readonly double[] _covered = new double[SkyDome.Thirds];
    private double _thick, _off, _shower, _showerLeft;
    private bool _raining;

    public SkyTracks(SkyRecipe recipe, Dice dice)
    {
        _recipe = recipe;
        for (int i = 0; i < _clouds.Length; i++) _clouds[i] = new CloudTrack(recipe, dice.Next());
        _dice = new Dice(dice.Next());
        _thick = recipe.LayerSpread * _dice.Bell();
        _off = ApartStops * _dice.Bell();
        for (int i = 0; i < 10 * DomeSeconds; i++) Grow();
        foreach (List<double> track in new[] { _cover, _layer, _apart }.Concat(_dome)) track.Clear();
    }

    /// <summary>How much of the sun is covered, 0 to 1.</summary>
    public double Cover(double seconds) => At(_cover, seconds);

    /// <summary>How much of a third of the sky is covered, 0 to 1; the first is the one around the sun.</summary>
    public double Dome(int third, double seconds) => At(_dome[third], seconds);

    /// <summary>What the layer takes, stops.</summary>
    public double Layer(double seconds) => At(_layer, seconds);

    /// <summary>How much less than from the box's part of the layer comes through the foreground's, stops.</summary>
    public double Apart(double seconds) => At(_apart, seconds);

    private double At(List<double> track, double seconds)
    {
        double at = Elementary.Max(0, seconds);
        int whole = (int)at;
        while (track.Count < whole + 2) Grow();
        return track[whole] + (track[whole + 1] - track[whole]) * (at - whole);
    }

    private void Grow()
    {
        for (int i = 0; i < _clouds.Length; i++)
        {
            double cover = _clouds[i].Next();
            if (i == 0) _cover.Add(cover);
            _covered[i] += (cover - _covered[i]) / DomeSeconds;
            _dome[i].Add(_covered[i]);
        }
        _thick = Wander(_thick, _recipe.LayerSpread, _recipe.LayerSeconds);
        _off = Wander(_off, _recipe.LayerStops > 0 ? ApartStops : 0, ApartSeconds);
        if (_recipe.ShowerStops > 0 && --_showerLeft <= 0)
        {
            _raining = !_raining;
            _showerLeft = (_raining ? ShowerSeconds : ShowerEverySeconds) * (0.3 + 1.4 * _dice.Fraction());
        }
        _shower += ((_raining ? _recipe.ShowerStops : 0) - _shower) / DomeSeconds;
        _layer.Add(_recipe.LayerStops > 0 ? Elementary.Max(0, _recipe.LayerStops + _thick + _shower) : 0);
        _apart.Add(_off);
    }

    // A value that is drawn back to 0 while it is knocked about: Ornstein and Uhlenbeck (1930).
    private double Wander(double value, double spread, double seconds) =>
        value - value / seconds + spread * Elementary.Sqrt(2 / seconds) * _dice.Bell();
}

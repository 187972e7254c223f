using Intervalometer.Coast.Sky;
using Intervalometer.Core.Numerics;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>A clear sky by the published table, with the clouds of a recipe drawn from a seed.</summary>
public sealed class DrawnSky : ISky
{
    // A covered sun still lights the cloud: so much of its beam comes down as the sky's own light.
    private const double ScatteredShare = 0.35;
    // What clouds that are not lit by the sun take where they cover everything, stops.
    private const double CloudStops = 0.8;
    private const double MostShadowDelay = 8;
    private const double LowestBank = 1, HighestBank = 4;

    private readonly SunTrack _sun;
    private readonly SkyRecipe _recipe;
    private readonly SkyView _view;
    private readonly SkyTracks _tracks;
    private readonly double _haze, _bank, _shadowDelay;

    /// <summary>Draws a sky.</summary>
    /// <param name="recipe">What its clouds do.</param>
    /// <param name="seed">The same seed gives the same sky.</param>
    /// <param name="place">Where.</param>
    /// <param name="start">Time 0, UTC.</param>
    /// <param name="view">How the box and the camera stand to the sun.</param>
    public DrawnSky(SkyRecipe recipe, int seed, GeoPosition place, DateTime start, SkyView view)
    {
        _recipe = recipe;
        _view = view;
        _sun = new SunTrack(place, start);
        var dice = new Dice((ulong)seed);
        _haze = recipe.HazeSpread * dice.Bell();
        _bank = recipe.Bank ? LowestBank + (HighestBank - LowestBank) * dice.Fraction() : 0;
        // The edge of a shadow crosses the foreground before or after the box.
        _shadowDelay = MostShadowDelay * (2 * dice.Fraction() - 1);
        _tracks = new SkyTracks(recipe, dice);
        Description = FormattableString.Invariant($"{recipe.Name}, seed {seed}, sun {view.AsideDegrees:0.#} degrees aside");
    }

    /// <inheritdoc />
    public string Description { get; }

    /// <summary>Altitude of the sun's centre, degrees.</summary>
    public double SunAltitude(long nowUs) => _sun.AltitudeDegrees(nowUs / 1e6);

    /// <inheritdoc />
    public double Lux(long nowUs)
    {
        double seconds = nowUs / 1e6, altitude = _sun.BetweenSeconds(seconds);
        return _view.AtBox(Thirds(seconds, altitude, _tracks.Layer(seconds)), Beam(altitude, _tracks.Cover(seconds)), altitude);
    }

    /// <inheritdoc />
    public double Luminance(long nowUs)
    {
        double seconds = nowUs / 1e6, altitude = _sun.BetweenSeconds(seconds);
        double layer = _tracks.Layer(seconds) + _tracks.Apart(seconds);
        return _view.OfScene(Thirds(seconds, altitude, layer), Beam(altitude, _tracks.Cover(seconds + _shadowDelay)), altitude);
    }

    private double Beam(double altitude, double cover) =>
        _recipe.LayerStops > 0 ? 0 : ClearSky.Beam(altitude, _haze) * ClearSky.DiscShare(altitude, _bank) * (1 - cover);

    private double[] Thirds(double seconds, double altitude, double layer)
    {
        double onGround = ClearSky.Beam(altitude, _haze) * Elementary.Max(0, Elementary.Sin(altitude * Elementary.RadiansPerDegree));
        double clear = ClearSky.Lux(altitude, _haze) - onGround;
        var thirds = new double[SkyDome.Thirds];
        for (int i = 0; i < thirds.Length; i++)
        {
            double cover = _recipe.LayerStops > 0 ? 1 : _tracks.Dome(i, seconds);
            thirds[i] = (clear + ScatteredShare * onGround * cover) * Elementary.Exp2(-(_recipe.LayerStops > 0 ? layer : CloudStops * cover));
        }
        return thirds;
    }
}

using Intervalometer.Core.Numerics;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Sky;

/// <summary>How much of one part of the sky is covered, second by second: clouds with edges, in fields.</summary>
internal sealed class CloudTrack
{
    private const double ShortestEdge = 5;
    private const double EdgeRange = 12;
    private const double ThinnestCloud = 0.7;
    private const int RunIn = 3600;

    private readonly SkyRecipe _recipe;
    private readonly Dice _dice;
    private bool _cloud, _field;
    private double _from, _to, _edge = 1, _edgeAt = 1, _left, _fieldLeft;

    public CloudTrack(SkyRecipe recipe, ulong seed)
    {
        _recipe = recipe;
        _dice = new Dice(seed);
        // So that a sky does not begin with every cloud still to come.
        for (int i = 0; i < RunIn; i++) Next();
    }

    /// <summary>Cover a second later, 0 to 1.</summary>
    public double Next()
    {
        if (_recipe.CloudSeconds <= 0) return 0;
        if (--_fieldLeft <= 0)
        {
            _field = !_field || _recipe.OpenSeconds <= 0;
            _fieldLeft = Lasting(_field ? _recipe.FieldSeconds : _recipe.OpenSeconds);
        }
        if (_edgeAt < _edge) _edgeAt++;
        else if (--_left <= 0 && (_cloud || _field)) Change();
        double x = Elementary.Min(1, _edgeAt / _edge);
        return _from + (_to - _from) * x * x * (3 - 2 * x);
    }

    private void Change()
    {
        _cloud = !_cloud;
        _from = _to;
        _to = _cloud ? ThinnestCloud + (1 - ThinnestCloud) * _dice.Fraction() : 0;
        _edge = ShortestEdge * Elementary.Pow(EdgeRange, _dice.Fraction());
        _edgeAt = 0;
        _left = Lasting(_cloud ? _recipe.CloudSeconds : _recipe.GapSeconds);
    }

    // Times without memory: what has lasted long lasts no longer for that.
    private double Lasting(double mean) => -mean * Elementary.Ln2 * Elementary.Log2(1 - _dice.Fraction());
}

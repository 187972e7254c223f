using System;
using Intervalometer.Core.Exposure;

namespace Intervalometer.Core.Optics;

/// <summary>
/// What is sharp at an aperture with a lens focused by hand: the near and the far limit, the hyperfocal distance, and how blurred a point
/// at infinity is.
/// </summary>
/// <remarks>
/// Thin lens, geometric optics, distances from the lens. Any textbook of optics has the formulas (Jacobson and others, The Manual of Photography;
/// from memory). With focal length f, f-number N, circle of confusion c and focus at s:
/// hyperfocal H = f²/(N c) + f, near = s f²/(f² + N c (s - f)), far = s f²/(f² - N c (s - f)) or infinity, and the blur of a point at
/// infinity f²/(N (s - f)). Diffraction, which softens the picture from about f/16 on, is not included; nor is the softness of a lens at its edges.
/// </remarks>
public readonly struct DepthOfField
{
    // These fields are in millimetres, except for the f-number and the square.
    private readonly double _focus;
    private readonly double _focalSquared;
    private readonly double _focal;
    private readonly double _spread;
    private readonly double _number;

    /// <summary>Creates the calculation. Throws when the focus is not further away than the focal length, or is at infinity.</summary>
    /// <param name="focal">The lens.</param>
    /// <param name="aperture">Its aperture, of which the true f-number counts.</param>
    /// <param name="sharp">The circle of confusion.</param>
    /// <param name="focus">The distance that it is focused at, which is not infinity.</param>
    public DepthOfField(FocalLength focal, ApertureSetting aperture, BlurCircle sharp, Distance focus)
    {
        if (focus.IsInfinite || focus.Metres * 1000 <= focal.Millimetres)
            throw new ArgumentException("Depth of field: the focus must be further away than the focal length, and not at infinity.");
        _focal = focal.Millimetres;
        _focalSquared = _focal * _focal;
        _focus = focus.Metres * 1000;
        _number = aperture.Number;
        _spread = _number * sharp.Micrometres / 1000;
    }

    /// <summary>The hyperfocal distance: focused here, everything from half this distance to infinity is sharp.</summary>
    public Distance Hyperfocal => new Distance((_focalSquared / _spread + _focal) / 1000); // divisor: an f-number times a circle, both above zero.

    /// <summary>The nearest distance that is sharp.</summary>
    public Distance Near => new Distance(_focus * _focalSquared / (_focalSquared + _spread * (_focus - _focal)) / 1000); // divisor: a sum of a square and of what is above zero.

    /// <summary>The farthest distance that is sharp.</summary>
    public Distance Far
    {
        get
        {
            double left = _focalSquared - _spread * (_focus - _focal);
            // divisor: above zero here.
            return left <= 0 ? Distance.Infinity : new Distance(_focus * _focalSquared / left / 1000);
        }
    }

    /// <summary>The spot that a point at infinity becomes.</summary>
    public BlurCircle AtInfinity => new BlurCircle(1000 * _focalSquared / (_number * (_focus - _focal))); // divisor: the focus is beyond the focal length.
}

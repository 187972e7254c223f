using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Optics;

namespace Intervalometer.Settings;

/// <summary>The manual lens, the film or sensor behind it, and the distance that it is focused at.</summary>
public sealed class LensSettings
{
    /// <summary>The nearest focus, centimetres.</summary>
    public const int LeastFocus = 20;

    /// <summary>The farthest focus that is not infinity, centimetres.</summary>
    public const int MostFocus = 10_000;

    private int _focal = 24;
    private int _format = FilmFormat.FullFrame;
    private int _focus = 300;

    /// <summary>Focal length in millimetres, limited to its range. The focus moves further away when the lens would not reach it.</summary>
    public int FocalMillimetres
    {
        get => _focal;
        set
        {
            _focal = Elementary.Clamp(value, FocalLength.Least, FocalLength.Most);
            FocusCentimetres = _focus;
        }
    }

    /// <summary>Index of the format, limited to its list.</summary>
    public int FormatIndex
    {
        get => _format;
        set => _format = Elementary.Clamp(value, 0, FilmFormat.Count - 1);
    }

    /// <summary>The focus in centimetres from the lens, limited to its range and to twice the focal length, where the picture is as large as the object.</summary>
    public int FocusCentimetres
    {
        get => _focus;
        set => _focus = Elementary.Clamp(value, NearestFocus, MostFocus);
    }

    /// <summary>The film or sensor.</summary>
    public FilmFormat Format => new FilmFormat(_format);

    private int NearestFocus => _focal / 5 > LeastFocus ? _focal / 5 : LeastFocus;

    /// <summary>What is sharp at an aperture.</summary>
    public DepthOfField Depth(ApertureSetting aperture) =>
        new DepthOfField(new FocalLength(_focal), aperture, Format.Circle, new Distance(_focus / 100.0));
}

using System;

namespace Intervalometer.Core.Exposure;

/// <summary>What the meter showed without filters, and the correction that the photographer sets by hand.</summary>
public readonly struct MeteredBase
{
    /// <summary>The largest correction by hand, either way, in third stops: 10 stops.</summary>
    public const int MaxHandThirds = 30;

    /// <summary>Creates a metered reading. Throws when the correction by hand is outside -30 to 30 third stops.</summary>
    public MeteredBase(ApertureSetting aperture, IsoSetting iso, ShutterSetting shutter, int handThirds)
    {
        if (handThirds < -MaxHandThirds || handThirds > MaxHandThirds)
            throw new ArgumentException("Trim by hand " + handThirds.ToString() + " thirds: outside -30 to 30. Use a value inside.");
        Aperture = aperture;
        Iso = iso;
        Shutter = shutter;
        HandThirds = handThirds;
    }

    /// <summary>The aperture at which the meter was read and the picture is taken.</summary>
    public ApertureSetting Aperture { get; }

    /// <summary>The ISO speed at which the meter was read and the picture is taken.</summary>
    public IsoSetting Iso { get; }

    /// <summary>The metered shutter setting without filters.</summary>
    public ShutterSetting Shutter { get; }

    /// <summary>The correction by hand in third stops, -30 to 30; positive gives a longer exposure.</summary>
    public int HandThirds { get; }

    /// <summary>
    /// Exposure value of the settings, EV = log2(N^2/t), where N is the true f-number and t the true time in seconds
    /// (APEX: Av + Tv; ISO 2720). The correction by hand is not included.
    /// </summary>
    public double Ev => (Aperture.Index - Shutter.Index) / 3.0;

    /// <summary>The exposure value that the same light has at ISO 100: Ev - log2(speed/100).</summary>
    public double Ev100 => (Aperture.Index - Shutter.Index - Iso.Index) / 3.0;
}

using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Sky;

/// <summary>A place on the earth: latitude north positive, -90 to 90 degrees; longitude east positive, -180 to 180 degrees.</summary>
public readonly struct GeoPosition
{
    /// <summary>Latitude, degrees, north positive.</summary>
    public readonly double LatitudeDegrees;

    /// <summary>Longitude, degrees, east positive.</summary>
    public readonly double LongitudeDegrees;

    /// <summary>Creates a place. The latitude is limited to -90 to 90, and the longitude is wrapped into -180 to 180.</summary>
    public GeoPosition(double latitudeDegrees, double longitudeDegrees)
    {
        LatitudeDegrees = Elementary.Clamp(latitudeDegrees, -90.0, 90.0);
        LongitudeDegrees = Elementary.Wrap(longitudeDegrees + 180.0, 360.0) - 180.0;
    }
}

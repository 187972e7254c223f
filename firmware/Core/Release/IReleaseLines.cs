namespace Intervalometer.Core.Release;

/// <summary>The two isolated contacts to the camera's remote port.</summary>
public enum ReleaseLine
{
    /// <summary>Wakes the camera and makes it meter. It is closed before and during a release.</summary>
    HalfPress = 0,

    /// <summary>Releases the shutter when it closes. On bulb the shutter stays open as long as the contact is closed.</summary>
    Shutter = 1,
}

/// <summary>Drives the two contacts. Every implementation starts with both open.</summary>
public interface IReleaseLines
{
    /// <summary>Closes or opens one contact. Allocates nothing.</summary>
    void Set(ReleaseLine line, bool closed);

    /// <summary>Opens both contacts. Allocates nothing and must not throw.</summary>
    void OpenAll();
}

using Intervalometer.Core.Optics;
using Intervalometer.Core.Release;

namespace Intervalometer.Settings.Store;

/// <summary>The stored form of the camera profile, and of the lens. New fields go at the end.</summary>
public static class CameraRecord
{
    /// <summary>The version of the stored form.</summary>
    public const int Version = 1;

    /// <summary>Writes the profile.</summary>
    public static void Put(CameraProfile camera, Bytes bytes)
    {
        bytes.Put(camera.HalfPressLeadMs, 2);
        bytes.Put(camera.ShutterLagMs, 2);
        bytes.Put(camera.MinimumGapMs, 2);
        bytes.Put(camera.PulseMs, 2);
        bytes.PutFlag(camera.DarkFrame);
        bytes.PutFlag(camera.MirrorLockUp);
        bytes.Put(camera.MirrorSettleMs, 2);
    }

    /// <summary>Writes the lens after the profile.</summary>
    public static void Put(LensSettings lens, Bytes bytes)
    {
        bytes.Put(lens.FocalMillimetres, 2);
        bytes.Put(lens.FormatIndex, 1);
        bytes.Put(lens.FocusCentimetres, 2);
    }

    /// <summary>Reads the lens after the profile. A record of older firmware has none and leaves the lens as it was. Returns false when a value is out of range.</summary>
    public static bool Take(LensSettings lens, Bytes bytes)
    {
        lens.FocalMillimetres = bytes.TakeInt(2, FocalLength.Least, FocalLength.Most, lens.FocalMillimetres);
        lens.FormatIndex = bytes.TakeInt(1, 0, FilmFormat.Count - 1, lens.FormatIndex);
        lens.FocusCentimetres = bytes.TakeInt(2, LensSettings.LeastFocus, LensSettings.MostFocus, lens.FocusCentimetres);
        return !bytes.Bad;
    }

    /// <summary>Reads the profile. Returns false when a value is out of range; that value then stays as it was.</summary>
    public static bool Take(CameraProfile camera, Bytes bytes)
    {
        camera.HalfPressLeadMs = bytes.TakeInt(2, 0, 5000, camera.HalfPressLeadMs);
        camera.ShutterLagMs = bytes.TakeInt(2, 0, 1000, camera.ShutterLagMs);
        // Older firmware allowed shorter times. The release circuit needs at least these.
        camera.MinimumGapMs = AtLeast(bytes.TakeInt(2, 10, 5000, camera.MinimumGapMs), ReleaseLimits.MinimumGapUs / 1000);
        camera.PulseMs = AtLeast(bytes.TakeInt(2, 20, 1000, camera.PulseMs), ReleaseLimits.MinimumClosureUs / 1000);
        camera.DarkFrame = bytes.TakeFlag(camera.DarkFrame);
        camera.MirrorLockUp = bytes.TakeFlag(camera.MirrorLockUp);
        camera.MirrorSettleMs = bytes.TakeInt(2, 200, 10000, camera.MirrorSettleMs);
        return !bytes.Bad;
    }

    private static int AtLeast(int value, int least) => value < least ? least : value;
}

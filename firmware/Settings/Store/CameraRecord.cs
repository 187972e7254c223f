using Intervalometer.Core.Release;

namespace Intervalometer.Settings.Store;

/// <summary>The stored form of the camera profile. New fields go at the end.</summary>
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

    /// <summary>Reads the profile. False when a value makes no sense; it is then left as it was.</summary>
    public static bool Take(CameraProfile camera, Bytes bytes)
    {
        camera.HalfPressLeadMs = bytes.TakeInt(2, 0, 5000, camera.HalfPressLeadMs);
        camera.ShutterLagMs = bytes.TakeInt(2, 0, 1000, camera.ShutterLagMs);
        // Shorter ones were allowed once; the release circuit makes them longer anyway.
        camera.MinimumGapMs = AtLeast(bytes.TakeInt(2, 10, 5000, camera.MinimumGapMs), ReleaseLimits.MinimumGapUs / 1000);
        camera.PulseMs = AtLeast(bytes.TakeInt(2, 20, 1000, camera.PulseMs), ReleaseLimits.MinimumClosureUs / 1000);
        camera.DarkFrame = bytes.TakeFlag(camera.DarkFrame);
        camera.MirrorLockUp = bytes.TakeFlag(camera.MirrorLockUp);
        camera.MirrorSettleMs = bytes.TakeInt(2, 200, 10000, camera.MirrorSettleMs);
        return !bytes.Bad;
    }

    private static int AtLeast(int value, int least) => value < least ? least : value;
}

namespace Intervalometer.Drivers.Composition;

/// <summary>Collects garbage at a moment that does no harm.</summary>
internal static class Garbage
{
    /// <summary>Runs the device's collector. On a PC nothing needs to be done.</summary>
    public static void Collect()
    {
#if NANO
        nanoFramework.Runtime.Native.GC.Run(false);
#endif
    }
}

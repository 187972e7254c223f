using Intervalometer.Settings.Store;

namespace Intervalometer.Esp32;

/// <summary>The place that is part of this firmware. The virtual board's verb "site" writes this file anew (--source).</summary>
public static class CompiledSite
{
    /// <summary>No place: it is typed in, or comes with the memory.</summary>
    public static BuiltInSite? Make() => null;
}

namespace Intervalometer.Core;

/// <summary>Which firmware this is.</summary>
public static class FirmwareVersion
{
    /// <summary>The version, as the start check and the BOX card show it; the build's own version is the same text.</summary>
    public const string Text = "0.1";
}

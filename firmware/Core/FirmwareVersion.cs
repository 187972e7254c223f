namespace Intervalometer.Core;

/// <summary>The version of this firmware.</summary>
public static class FirmwareVersion
{
    /// <summary>The version as the start check and the BOX card show it. The build's version is the same text.</summary>
    public const string Text = "0.1";
}

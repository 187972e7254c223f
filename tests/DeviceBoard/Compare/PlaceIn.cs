namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Where the box finds the place that needs most.</summary>
public enum PlaceIn
{
    /// <summary>In the memory chip, as the command "site" writes it.</summary>
    Memory,

    /// <summary>In the firmware's own image, as <c>firmware/Flash --place</c> puts it there; the memory holds none.</summary>
    Firmware,

    /// <summary>Nowhere: the box knows no place.</summary>
    Nowhere,
}

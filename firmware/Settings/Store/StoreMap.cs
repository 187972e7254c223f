namespace Intervalometer.Settings.Store;

/// <summary>The records in the memory. The number is part of the stored form.</summary>
public enum RecordId
{
    /// <summary>Metered reading, film, limit, brightness, plan, waves and the other settings of the camera side.</summary>
    Settings = 1,

    /// <summary>The filter kit.</summary>
    Kit = 2,

    /// <summary>The camera on the cable, and its lens.</summary>
    Camera = 3,

    /// <summary>The place, and the switches of the shore side.</summary>
    Site = 4,

    /// <summary>The place's tide, and the typed table.</summary>
    Tide = 5,

    /// <summary>The last fatal error, and how many there were. Its copies lie after those of the settings, on a page that these do not need.</summary>
    Fault = 6,
}

/// <summary>
/// Where everything lies in the memory: 128 pages of 32 bytes. Each record has two copies side by side, each on pages of its own, so that
/// writing one copy cannot harm the other. The logbook has the rest.
/// </summary>
public static class StoreMap
{
    /// <summary>Bytes in a page.</summary>
    public const int PageBytes = 32;

    /// <summary>Pages in the memory.</summary>
    public const int Pages = 128;

    /// <summary>How many records there are; they are numbered from 1.</summary>
    public const int Records = 6;

    /// <summary>How many copies each record has.</summary>
    public const int Copies = 2;

    /// <summary>How many pages the largest copy takes.</summary>
    public const int MostCopyPages = 18;

    /// <summary>The first page of the logbook.</summary>
    public const int LogFirstPage = 80;

    /// <summary>How many pages the logbook has.</summary>
    public const int LogPages = Pages - LogFirstPage;

    // How many pages lie between the first and the second copy of the settings. A copy of the fault record lies at the end of each.
    private const int SettingsStep = 4;

    /// <summary>How many pages one copy of a record takes.</summary>
    public static int CopyPages(RecordId id) => id switch
    {
        RecordId.Settings => SettingsStep - 1,
        RecordId.Camera => 2,
        RecordId.Fault => 1,
        RecordId.Tide => MostCopyPages,
        _ => 8,
    };

    /// <summary>The first page of a copy.</summary>
    /// <param name="id">The record.</param>
    /// <param name="copy">0 or 1.</param>
    public static int FirstPage(RecordId id, int copy)
    {
        int first = id switch
        {
            RecordId.Settings => 0,
            RecordId.Kit => 8,
            RecordId.Camera => 24,
            RecordId.Site => 28,
            RecordId.Fault => SettingsStep - 1,
            _ => 44,
        };
        int step = id == RecordId.Settings || id == RecordId.Fault ? SettingsStep : CopyPages(id);
        return first + copy * step;
    }

    /// <summary>The most bytes that a record can hold: settings 80, kit 240, camera 48, site 240, tide 560, fault 16.</summary>
    public static int Capacity(RecordId id) => CopyPages(id) * PageBytes - RecordStore.HeaderBytes;

    /// <summary>The name of a record in words.</summary>
    public static string Words(RecordId id) => id switch
    {
        RecordId.Settings => "settings",
        RecordId.Kit => "filters",
        RecordId.Camera => "camera",
        RecordId.Site => "place",
        RecordId.Fault => "last fault",
        _ => "tide",
    };
}

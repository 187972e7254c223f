namespace Intervalometer.Settings.Store;

/// <summary>What is stored, one record each. The number is part of the stored form.</summary>
public enum RecordId
{
    /// <summary>Metered base, film, limit, brightness, plan and waves.</summary>
    Settings = 1,

    /// <summary>The filter kit.</summary>
    Kit = 2,

    /// <summary>The camera on the cable, and its lens.</summary>
    Camera = 3,

    /// <summary>The place, and the switches of the shore side.</summary>
    Site = 4,

    /// <summary>The place's tide, and the typed table.</summary>
    Tide = 5,

    /// <summary>The last fatal error, and how many there were. On the last page of each copy of the settings, which need less.</summary>
    Fault = 6,
}

/// <summary>
/// Where everything lies: 128 pages of 32 bytes. Each record has two copies side by side, each on pages of its own, so that
/// writing one copy cannot touch the other; the logbook has the rest.
/// </summary>
public static class StoreMap
{
    /// <summary>Bytes in a page.</summary>
    public const int PageBytes = 32;

    /// <summary>Pages in the memory.</summary>
    public const int Pages = 128;

    /// <summary>Records, numbered from 1.</summary>
    public const int Records = 6;

    /// <summary>Copies of each record.</summary>
    public const int Copies = 2;

    /// <summary>Pages of the largest copy.</summary>
    public const int MostCopyPages = 18;

    /// <summary>First page of the logbook.</summary>
    public const int LogFirstPage = 80;

    /// <summary>Pages of the logbook.</summary>
    public const int LogPages = Pages - LogFirstPage;

    // From one copy of the settings, with a copy of the fault behind it, to the other, pages.
    private const int SettingsStep = 4;

    /// <summary>Pages of one copy of a record.</summary>
    public static int CopyPages(RecordId id) => id switch
    {
        RecordId.Settings => SettingsStep - 1,
        RecordId.Camera => 2,
        RecordId.Fault => 1,
        RecordId.Tide => MostCopyPages,
        _ => 8,
    };

    /// <summary>First page of a copy.</summary>
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

    /// <summary>Most bytes that a record can hold: settings 80, kit 240, camera 48, site 240, tide 560, fault 16.</summary>
    public static int Capacity(RecordId id) => CopyPages(id) * PageBytes - RecordStore.HeaderBytes;

    /// <summary>A record in words.</summary>
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

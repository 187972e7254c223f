namespace Intervalometer.Settings.Store;

/// <summary>
/// A memory that keeps its bytes without power, written in whole pages. A page write is begun here and finished by the chip
/// on its own; until then the chip answers nothing. No call waits.
/// </summary>
public interface IPageMemory
{
    /// <summary>Fills <paramref name="into"/> with one page. False when the chip did not acknowledge: busy writing, or not there.</summary>
    /// <param name="page">0 to <see cref="StoreMap.Pages"/> - 1.</param>
    /// <param name="into">At least <see cref="StoreMap.PageBytes"/> bytes from <paramref name="offset"/> on.</param>
    /// <param name="offset">Where in <paramref name="into"/> the page goes.</param>
    bool ReadPage(int page, byte[] into, int offset);

    /// <summary>Begins to write one page. False when the chip did not acknowledge.</summary>
    /// <param name="page">0 to <see cref="StoreMap.Pages"/> - 1.</param>
    /// <param name="from">At least <see cref="StoreMap.PageBytes"/> bytes from <paramref name="offset"/> on.</param>
    /// <param name="offset">Where in <paramref name="from"/> the page begins.</param>
    bool WritePage(int page, byte[] from, int offset);
}

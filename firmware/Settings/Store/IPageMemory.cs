namespace Intervalometer.Settings.Store;

/// <summary>
/// A memory that keeps its bytes without power and is written in whole pages. Here the write of a page is only begun; the chip finishes it
/// by itself, and does not answer until then. No call waits.
/// </summary>
public interface IPageMemory
{
    /// <summary>Reads one page into an array. Returns false when the chip did not acknowledge, because it is busy writing or is not there.</summary>
    /// <param name="page">0 to <see cref="StoreMap.Pages"/> - 1.</param>
    /// <param name="into">The array, with at least <see cref="StoreMap.PageBytes"/> bytes from <paramref name="offset"/> on.</param>
    /// <param name="offset">Where the page begins in <paramref name="into"/>.</param>
    bool ReadPage(int page, byte[] into, int offset);

    /// <summary>Begins to write one page. Returns false when the chip did not acknowledge.</summary>
    /// <param name="page">0 to <see cref="StoreMap.Pages"/> - 1.</param>
    /// <param name="from">The array, with at least <see cref="StoreMap.PageBytes"/> bytes from <paramref name="offset"/> on.</param>
    /// <param name="offset">Where the page begins in <paramref name="from"/>.</param>
    bool WritePage(int page, byte[] from, int offset);
}

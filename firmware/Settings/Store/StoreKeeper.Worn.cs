using Intervalometer.Settings;

namespace Intervalometer.Settings.Store;

// This part handles a page that does not store what is written to it.
public sealed partial class StoreKeeper
{
    /// <summary>A memory that stores nothing is tried again after this long, µs.</summary>
    public const long RestUs = 600_000_000;

    /// <summary>When this many pages are set aside, the box reports that the chip wears out (own choice: two thirds of the pages that can be set aside).</summary>
    public const int WearsFrom = 8;

    // When this many jobs fail one after the other, the pages are not worn: the memory stores nothing.
    private const int MostFailures = 8;

    private int _failures;
    private int _failedPage = -1;
    // The records for which no page is left, one bit each, and the time until which they are left alone.
    private int _resting;
    private long _restUntilUs;

    private MemoryTrouble Sound => _writer.Spares.Count >= WearsFrom ? MemoryTrouble.Worn : MemoryTrouble.None;

    // Called when a page was read back with other contents three times. The bus may have been at fault, so the job is done once more later. If it
    // fails again, the page is set aside and the job is done with another page. What was not written is found again as a change.
    private void NotTaken(int job, long nowUs)
    {
        _failures++;
        _notBeforeUs = nowUs + AgainUs;
        if (_failures >= MostFailures)
        {
            _writer.Spares.DropUnkept();
            _failures = 0;
            _failedPage = -1;
            _health.Memory = MemoryTrouble.Refuses;
            _notBeforeUs = nowUs + RestUs;
            return;
        }
        int page = _writer.Page;
        if (page != _failedPage)
        {
            _failedPage = page;
            return;
        }
        _failedPage = -1;
        bool record = job <= StoreMap.Records;
        SparePages spares = _writer.Spares;
        if (!spares.Full)
        {
            spares.SetAside(page, record ? Logbook.LeaveOut() : SparePages.None);
            return;
        }
        // The chip is worn out. The logbook goes on with its next page, and the other records are stored.
        _health.Memory = MemoryTrouble.Refuses;
        if (job == LogJob) Logbook.LeaveOut();
        else if (job == WipeJob) Logbook.StopWiping();
        else if (record)
        {
            _resting |= 1 << job;
            _restUntilUs = nowUs + RestUs;
        }
        else
        {
            spares.DropUnkept();
            _notBeforeUs = nowUs + RestUs;
        }
    }

    private void SaveTable()
    {
        SparePages spares = _writer.Spares;
        int page = spares.TablePage;
        if (page < 0) page = Logbook.LeaveOut();
        spares.Put(_writer.Buffer, page);
        _writer.Begin(page, 1);
        _job = TableJob;
    }
}

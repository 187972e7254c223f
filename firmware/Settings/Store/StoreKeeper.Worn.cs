using Intervalometer.Settings;

namespace Intervalometer.Settings.Store;

// What becomes of a page that does not take what is written.
public sealed partial class StoreKeeper
{
    /// <summary>A memory that takes nothing is tried again after this long, µs.</summary>
    public const long RestUs = 600_000_000;

    /// <summary>The chip wears out, and that is told, from so many pages on that were set aside (own choice: two thirds of those that can be).</summary>
    public const int WearsFrom = 8;

    // So many jobs that fail one after the other are not worn pages but a memory that takes nothing.
    private const int MostFailures = 8;

    private int _failures;
    private int _failedPage = -1;
    // Records that no page is left for, a bit each, and until when they are left alone.
    private int _resting;
    private long _restUntilUs;

    private MemoryTrouble Sound => _writer.Spares.Count >= WearsFrom ? MemoryTrouble.Worn : MemoryTrouble.None;

    // A page came back different three times. It may have been the bus: the job is done once more, later. Then the page is set aside and
    // the job is done with another. What was not written is found again by itself.
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
        // The chip is worn out: the logbook goes on with its next page, and the other records have their turn.
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

namespace Intervalometer.Settings.Store;

/// <summary>The state of a write job.</summary>
public enum PageWriterState
{
    /// <summary>There is nothing to do.</summary>
    Idle = 0,

    /// <summary>Pages wait to be written or to be read back.</summary>
    Working = 1,

    /// <summary>Every page was read back as it was written.</summary>
    Done = 2,

    /// <summary>The chip has not answered for longer than a write takes. The job waits, and goes on when the chip answers.</summary>
    Silent = 3,

    /// <summary>A page was read back with other contents several times, and the job was given up.</summary>
    Refused = 4,
}

/// <summary>
/// Writes several pages in a row, the last page first, with one small transfer in each call, and reads every page back. When nobody calls it
/// the job simply waits, so a run of the camera may start in the middle of it.
/// </summary>
public sealed class PageWriter
{
    /// <summary>The chip counts as silent when it has not answered for this long, µs. A write cycle takes 10 ms at the most (AT24C32 data sheet), or 20 ms by other makers.</summary>
    public const long SilentUs = 60_000;

    /// <summary>A silent chip is asked again at this interval, µs.</summary>
    public const long AgainUs = 2_000_000;

    private const int MostTries = 3;

    private readonly IPageMemory _memory;
    private readonly byte[] _back = new byte[StoreMap.PageBytes];
    private int _first;
    private int _next = -1;
    private bool _written;
    private int _tries;
    private long _waitingUs = -1;
    private long _againUs;

    /// <summary>Creates a writer that has nothing to do.</summary>
    public PageWriter(IPageMemory memory)
    {
        _memory = memory;
        Buffer = new byte[StoreMap.MostCopyPages * StoreMap.PageBytes];
    }

    /// <summary>The list of pages that are replaced by others.</summary>
    public SparePages Spares { get; } = new SparePages();

    /// <summary>The page of the memory that is being written, or at which the last job failed.</summary>
    public int Page => Spares.Where(_first + _next);

    /// <summary>The bytes to write. Fill them before <see cref="Begin"/> and leave them alone until the job has ended.</summary>
    public byte[] Buffer { get; }

    /// <summary>The state of the present or last job.</summary>
    public PageWriterState State { get; private set; }

    /// <summary>True while a job is not finished.</summary>
    public bool Busy => State == PageWriterState.Working || State == PageWriterState.Silent;

    /// <summary>Begins to write the first pages of <see cref="Buffer"/>.</summary>
    /// <param name="firstPage">The first page of the memory to write to.</param>
    /// <param name="pages">How many pages, 1 to <see cref="StoreMap.MostCopyPages"/>.</param>
    public void Begin(int firstPage, int pages)
    {
        _first = firstPage;
        _next = pages - 1;
        _written = false;
        _tries = 0;
        _waitingUs = -1;
        State = PageWriterState.Working;
    }

    /// <summary>Makes one transfer of at most one page: writes it or reads it back. Allocates nothing.</summary>
    public void Step(long nowUs)
    {
        if (!Busy || (State == PageWriterState.Silent && nowUs < _againUs)) return;
        bool answered = _written ? _memory.ReadPage(Page, _back, 0) : _memory.WritePage(Page, Buffer, _next * StoreMap.PageBytes);
        if (!answered)
        {
            if (_waitingUs < 0) _waitingUs = nowUs;
            if (nowUs - _waitingUs > SilentUs)
            {
                // Whatever was begun before the silence cannot be trusted, so the page is written again.
                State = PageWriterState.Silent;
                _written = false;
                _againUs = nowUs + AgainUs;
            }
            return;
        }
        State = PageWriterState.Working;
        _waitingUs = -1;
        if (!_written)
        {
            _written = true;
            return;
        }
        _written = false;
        if (SameAsWritten())
        {
            _tries = 0;
            _next--;
            if (_next < 0) State = PageWriterState.Done;
            return;
        }
        _tries++;
        if (_tries >= MostTries) State = PageWriterState.Refused;
    }

    private bool SameAsWritten()
    {
        int at = _next * StoreMap.PageBytes;
        for (int i = 0; i < StoreMap.PageBytes; i++)
        {
            if (_back[i] != Buffer[at + i]) return false;
        }
        return true;
    }
}

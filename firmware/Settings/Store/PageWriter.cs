namespace Intervalometer.Settings.Store;

/// <summary>How a write job stands.</summary>
public enum PageWriterState
{
    /// <summary>Nothing to do.</summary>
    Idle = 0,

    /// <summary>Pages wait to be written or to be read back.</summary>
    Working = 1,

    /// <summary>The last page was read back as written.</summary>
    Done = 2,

    /// <summary>The chip has not answered for longer than a write takes; the job waits and goes on when it does.</summary>
    Silent = 3,

    /// <summary>A page came back different several times; the job was given up.</summary>
    Refused = 4,
}

/// <summary>
/// Writes a run of pages, last page first, one small transfer a call, and reads every page back. The job waits in memory
/// for as long as nobody calls, so a run may start in the middle of it.
/// </summary>
public sealed class PageWriter
{
    /// <summary>A write cycle takes 10 ms at the most (AT24C32 data sheet), 20 ms by other makers: no answer for longer is a fault, µs.</summary>
    public const long SilentUs = 60_000;

    /// <summary>A chip that has gone silent is asked again this often, µs.</summary>
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

    /// <summary>Creates a writer with nothing to do.</summary>
    public PageWriter(IPageMemory memory)
    {
        _memory = memory;
        Buffer = new byte[StoreMap.MostCopyPages * StoreMap.PageBytes];
    }

    /// <summary>Knows which pages stand in for which.</summary>
    public SparePages Spares { get; } = new SparePages();

    /// <summary>The page of the memory that is being written, or that the last job failed at.</summary>
    public int Page => Spares.Where(_first + _next);

    /// <summary>What is written; to be filled before <see cref="Begin"/> and left alone until the job has ended.</summary>
    public byte[] Buffer { get; }

    /// <summary>How the present or last job stands.</summary>
    public PageWriterState State { get; private set; }

    /// <summary>True while a job is not finished.</summary>
    public bool Busy => State == PageWriterState.Working || State == PageWriterState.Silent;

    /// <summary>Begins to write the first pages of <see cref="Buffer"/>.</summary>
    /// <param name="firstPage">Where in the memory.</param>
    /// <param name="pages">How many, 1 to <see cref="StoreMap.MostCopyPages"/>.</param>
    public void Begin(int firstPage, int pages)
    {
        _first = firstPage;
        _next = pages - 1;
        _written = false;
        _tries = 0;
        _waitingUs = -1;
        State = PageWriterState.Working;
    }

    /// <summary>One transfer of at most one page: a write, or the reading back of one. Allocates nothing.</summary>
    public void Step(long nowUs)
    {
        if (!Busy || (State == PageWriterState.Silent && nowUs < _againUs)) return;
        bool answered = _written ? _memory.ReadPage(Page, _back, 0) : _memory.WritePage(Page, Buffer, _next * StoreMap.PageBytes);
        if (!answered)
        {
            if (_waitingUs < 0) _waitingUs = nowUs;
            if (nowUs - _waitingUs > SilentUs)
            {
                // Whatever was begun before the silence is not to be trusted.
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

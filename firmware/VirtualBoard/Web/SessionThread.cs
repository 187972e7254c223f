using System.Diagnostics;

namespace Intervalometer.VirtualBoard.Web;

/// <summary>Runs the clock of a session on a thread of its own, and ends both together.</summary>
public sealed class SessionThread : IDisposable
{
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(4);

    private readonly LiveSession _session;
    private readonly Thread _thread;
    private volatile bool _ended;

    /// <summary>Starts the clock of a session.</summary>
    public SessionThread(LiveSession session)
    {
        _session = session;
        _thread = new Thread(Run) { IsBackground = true, Name = "virtual board" };
        _thread.Start();
    }

    /// <inheritdoc />
    public void Dispose()
    {
        _ended = true;
        _thread.Join();
        _session.Dispose();
    }

    private void Run()
    {
        var watch = Stopwatch.StartNew();
        while (!_ended)
        {
            Thread.Sleep(Pause);
            TimeSpan passed = watch.Elapsed;
            watch.Restart();
            _session.Advance(passed);
        }
    }
}

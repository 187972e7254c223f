using System;
using System.Threading;
using Intervalometer.Drivers.Box;
using Intervalometer.Settings.Faults;
using nanoFramework.Hardware.Esp32;

namespace Intervalometer.Esp32;

/// <summary>
/// The two threads that turn the box. The release thread alone moves the contacts and has the highest priority; when it ends,
/// for whatever reason, both contacts are open. The panel thread may fail without touching a release.
/// </summary>
public sealed class BoardThreads
{
    // One tick of the runtime's scheduler; a shorter sleep is not possible.
    private const int TickMs = 10;

    private readonly Box _box;
    private readonly Thread _release;
    private FaultKind _fault;

    /// <summary>Prepares the release thread and does not start it.</summary>
    public BoardThreads(Box box)
    {
        _box = box;
        _release = new Thread(ReleaseLoop);
        _release.Priority = ThreadPriority.Highest;
    }

    /// <summary>
    /// Starts the release thread, and is the panel thread from now on: a thread of its own would cost 900 bytes of the heap.
    /// Returns only when the release thread has ended, which it does on a fatal error alone: its kind.
    /// </summary>
    public FaultKind RunUntilReleaseEnds()
    {
        _release.Start();
        PanelLoop();
        return _fault;
    }

    private void ReleaseLoop()
    {
        try
        {
            while (true)
            {
                _box.ReleaseTurn();
                if (!_box.EdgeNear) Thread.Sleep(TickMs);
            }
        }
        catch (Exception fault)
        {
            _box.OpenLines();
            _fault = FaultNote.KindOf(fault);
        }
        finally
        {
            _box.OpenLines();
        }
    }

    private void PanelLoop()
    {
        while (_release.IsAlive)
        {
            try
            {
                _box.PanelTurn();
                if (_box.MaySleep) FallAsleep();
            }
            catch (Exception fault)
            {
                _box.PanelFailed(fault);
            }
            Thread.Sleep(TickMs);
        }
    }

    // One pin can wake the chip by going low (ext0): Mark, on an RTC pin. Waking is a restart.
    private void FallAsleep()
    {
        _box.Darken();
        Sleep.EnableWakeupByPin(Sleep.WakeupGpioPin.Pin32, 0);
        Sleep.StartDeepSleep();
    }
}

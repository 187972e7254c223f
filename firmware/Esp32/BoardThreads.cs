using System;
using System.Threading;
using Intervalometer.Drivers.Composition;
using Intervalometer.Settings.Faults;
using nanoFramework.Hardware.Esp32;

namespace Intervalometer.Esp32;

/// <summary>
/// The two threads that run the box. Only the release thread moves the contacts, and it has the highest priority. When it ends,
/// for whatever reason, both contacts are open. The panel thread may fail without affecting a release.
/// </summary>
public sealed class BoardThreads
{
    // One tick of the runtime's scheduler, which is the shortest possible sleep.
    private const int TickMs = 10;

    private readonly Box _box;
    private readonly Thread _release;
    private FaultKind _fault;

    /// <summary>Prepares the release thread without starting it.</summary>
    public BoardThreads(Box box)
    {
        _box = box;
        _release = new Thread(ReleaseLoop);
        _release.Priority = ThreadPriority.Highest;
    }

    /// <summary>
    /// Starts the release thread and becomes the panel thread itself, because another thread would cost 900 bytes of the heap. It returns only
    /// when the release thread has ended, which happens only after a fatal error. It returns the kind of that error.
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
                _box.ReleasePass();
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
                _box.PanelPass();
                if (_box.MaySleep) FallAsleep();
            }
            catch (Exception fault)
            {
                _box.PanelFailed(fault);
            }
            Thread.Sleep(TickMs);
        }
    }

    // One pin can wake the chip by going low (ext0). That is Mark, which is on an RTC pin. Waking up is a restart.
    private void FallAsleep()
    {
        _box.Darken();
        Sleep.EnableWakeupByPin(Sleep.WakeupGpioPin.Pin32, 0);
        Sleep.StartDeepSleep();
    }
}

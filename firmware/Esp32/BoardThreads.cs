using System;
using System.Diagnostics;
using System.Threading;
using Intervalometer.Drivers.Box;
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
    private readonly Thread _panel;
    private int _panelFaults;

    /// <summary>Prepares both threads; starts neither.</summary>
    public BoardThreads(Box box)
    {
        _box = box;
        _release = new Thread(ReleaseLoop);
        _release.Priority = ThreadPriority.Highest;
        _panel = new Thread(PanelLoop);
    }

    /// <summary>Starts both threads and returns only when the release thread has ended, which it does on a fatal error alone.</summary>
    public void RunUntilReleaseEnds()
    {
        _release.Start();
        _panel.Start();
        _release.Join();
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
            Debug.WriteLine("release thread: " + fault.Message);
        }
        finally
        {
            _box.OpenLines();
        }
    }

    private void PanelLoop()
    {
        while (true)
        {
            try
            {
                _box.PanelTurn();
                if (_box.MaySleep) FallAsleep();
            }
            catch (Exception fault)
            {
                _panelFaults++;
                Debug.WriteLine("panel fault " + _panelFaults.ToString() + ": " + fault.Message);
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

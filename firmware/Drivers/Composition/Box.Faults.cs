using System;
using Intervalometer.Core.Link;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;

namespace Intervalometer.Drivers.Composition;

// This part handles errors, and a heap that runs short.
public sealed partial class Box
{
    private long _startedUs;

    /// <summary>Reports how much of the heap is free; set it before <see cref="Start"/>. Without it, nothing is given up before an allocation fails.</summary>
    public IHeapGauge? HeapGauge
    {
        get => _shore.Spare.Gauge;
        set => _shore.Spare.Gauge = value;
    }

    /// <summary>Keeps the note of fatal errors over a restart; set it before <see cref="Start"/>.</summary>
    public FaultWatch? Faults { get; set; }

    /// <summary>Handles an error that left <see cref="PanelPass"/> like any other error of a part. It costs no run.</summary>
    public void PanelFailed(Exception fault) => Failed(FaultPlace.Screen, fault);

    // Moves the count that the clock chip has kept into the memory, which keeps it for good.
    private void CountFaults()
    {
        if (Faults != null && _keeper != null && _keeper.Loaded && Faults.Note.Count()) Faults.Write();
    }

    private void StorePass(long now, long room)
    {
        try
        {
            if (_keeper != null) _keeper.Step(now, room >= HungBusUs, now - _touchedUs);
            if (Faults != null && Faults.Note.InARow > 0 && now - _startedUs >= FaultNote.GoodRunUs && !_link!.Busy) RanWell(Faults);
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Store, fault);
        }
    }

    // The box has run well, so the next fault is the first in a row again.
    private static void RanWell(FaultWatch faults)
    {
        faults.Note.RanWell();
        faults.Write();
    }

    private void BatteryPass(long now)
    {
        try
        {
            _battery!.Pass(now, QuietBusUs, _link!);
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Battery, fault);
        }
    }

    private void DisplayPass(long now, long room, RunReport run)
    {
        try
        {
            if (_display.Ready) _display.Send(_frame, now, run, _panel!.Health, _panel.Brightness);
            else if (_display.RetryDue(now) && room >= HungBusUs) _display.Try(_frame, _panel!.Health, now);
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Display, fault);
        }
    }

    // This comes last in a pass. By estimate one of its steps takes up to 0.12 s, and a step begins only when no edge is near (ShoreDesk.QuietUs).
    private void ShorePass(long now, RunReport run)
    {
        try
        {
            long room = NextEdge(run) - now;
            bool running = _link!.Busy;
            _clockKeeper!.Pass(now, room, running);
            _shore.Pass(now, room, running, running && now < run.FrameEndUs && run.FramesStarted > 0);
            LetListGo();
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Shore, fault);
        }
    }

    // The one place that decides what follows from an error in the panel's pass. Every part fails by itself, and the others go on.
    // When the heap ran short, something is given up, and the part is tried again. Any other error is reported. Returns true when
    // something was given up.
    private bool Failed(FaultPlace part, Exception fault)
    {
        if (fault is OutOfMemoryException && _shore.GiveUp())
        {
            LetListGo();
            return true;
        }
        _panel!.Health.PartFailed(part, fault.Message);
        return false;
    }

    private void LetListGo()
    {
        if (_keeper != null && _keeper.Loaded && !_shore.Spare.Has(SparePart.FrameList)) _keeper.Logbook.GiveUpList();
    }
}

using System;
using Intervalometer.Core.Link;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;

namespace Intervalometer.Drivers.Box;

// What becomes of errors and of a memory that runs short.
public sealed partial class Box
{
    private long _startedUs;

    /// <summary>Knows the free memory; fit it before <see cref="Start"/>. Without it memory runs short only when there is none left.</summary>
    public IHeapGauge? HeapGauge
    {
        get => _shore.Spare.Gauge;
        set => _shore.Spare.Gauge = value;
    }

    /// <summary>What keeps fatal errors over a restart; fit it before <see cref="Start"/>.</summary>
    public FaultWatch? Faults { get; set; }

    /// <summary>For an error that left <see cref="PanelTurn"/>: it is told and given way to like any other, and costs no run.</summary>
    public void PanelFailed(Exception fault) => Failed(FaultPlace.Screen, fault);

    // What the clock chip has kept until now goes into the memory, which counts for good.
    private void CountFaults()
    {
        if (Faults != null && _keeper != null && _keeper.Loaded && Faults.Note.Count()) Faults.Write();
    }

    private void TurnStore(long now, long room)
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

    // Told until now; from here on a fault is the first in a row again.
    private static void RanWell(FaultWatch faults)
    {
        faults.Note.RanWell();
        faults.Write();
    }

    private void TurnBattery(long now)
    {
        try
        {
            _battery!.Turn(now, QuietBusUs, _link!);
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Battery, fault);
        }
    }

    private void TurnDisplay(long now, long room, RunReport run)
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

    // Last in a turn: its steps may take a quarter of a second and start only when no edge is that near.
    private void TurnShore(long now, RunReport run)
    {
        try
        {
            long room = NextEdge(run) - now;
            bool running = _link!.Busy;
            _clockKeeper!.Turn(now, room, running);
            _shore.Turn(now, room, running, running && now < run.FrameEndUs && run.FramesStarted > 0);
            LetListGo();
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Shore, fault);
        }
    }

    // The one place that decides what becomes of an error in the panel's turn: every part fails by itself and the others go on.
    // When memory ran short something is given up for it, and the part is tried again; what is left to tell is told. True when
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

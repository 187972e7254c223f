using System;
using System.Threading;
using Heap = nanoFramework.Runtime.Native.GC;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>
/// Plays the script: presses, pictures, heap. It prints edges while it has nothing else to do. It also measures how late it is itself, because that
/// is caused by the PC and not by the firmware.
/// </summary>
public sealed class Player
{
    // A picture may come this long after its moment, and must come this long before the next thing that happens, ms.
    private const int PictureLateMs = 1000;
    private const int ClearMs = 40;

    private const int MostSleepMs = 20;

    // When the player is late, the clock runs on for this long and then stops, µs.
    private const long AheadUs = 60_000;

    // The clock stops for this long at a press, so that the firmware sees the press at its time, ms.
    private const int StandMs = 30;

    private readonly EdgeLog _edges;
    private readonly Pins _pins;
    private readonly Glass _glass;
    private readonly LightChip _light;
    private int _passed;
    private int _failed;
    private int _slower = 1;
    private int _lateMs;
    private int _lateStep;
    private long _standUs;

    /// <summary>Creates it with the parts of the board that it uses.</summary>
    public Player(EdgeLog edges, Pins pins, Glass glass, LightChip light)
    {
        _edges = edges;
        _pins = pins;
        _glass = glass;
        _light = light;
    }

    /// <summary>Plays all steps and ends the program.</summary>
    public void Run()
    {
        int count = Script.Count();
        for (int i = 0; i < count; i++)
        {
            int kind = Script.Step(i, out int atMs, out int value);
            WaitFor(i, atMs * 1000L);
            if (kind == StepKind.Down || kind == StepKind.Up) Press(value, kind == StepKind.Down);
            else if (kind == StepKind.Slow) _slower = value;
            else if (kind == StepKind.Jump) Jump(value);
            else if (kind == StepKind.Picture) Picture(i, atMs, value);
            else if (kind == StepKind.Show) PrintBits(i);
            else if (kind == StepKind.Heap) Console.WriteLine("free " + i.ToString() + " " + Heap.Run(false).ToString());
            else if (kind == StepKind.Fault) Faults.Now = value;
            else if (kind == StepKind.Light) _light.Shine(value);
            else if (kind == StepKind.Asleep) Fail("awake " + i.ToString());
            else if (kind == StepKind.End) break;
        }
        Bench.End("ended");
    }

    /// <summary>Prints the longest time for which the clock waited for the player, and how many checks passed. A board that met a fault has one more failed check.</summary>
    public void Summary()
    {
        Console.WriteLine("late " + _lateStep.ToString() + " " + _lateMs.ToString());
        if (Bench.FaultCount == 0) _passed++;
        else _failed++;
        Console.WriteLine(_passed.ToString() + " passed, " + _failed.ToString() + " failed");
    }

    private void WaitFor(int step, long atUs)
    {
        while (true)
        {
            NoteLate(step);
            long left = (atUs - BoardClock.NowUs + 999) / 1000;
            long sleep = left > MostSleepMs ? MostSleepMs : left;
            // Slower: it runs one pass of the player, and stands for the others.
            long ahead = _slower > 1 ? MostSleepMs * 1000 : MostSleepMs * 1000 + AheadUs;
            long until = BoardClock.NowUs + ahead;
            BoardClock.Allow(until < atUs ? until : atUs);
            if (left <= 0) return;
            Thread.Sleep((int)sleep * _slower);
        }
    }

    private void Press(int pin, bool down)
    {
        _pins.Pull(pin, down);
        Thread.Sleep(StandMs);
        _standUs = BoardClock.StandsUs;
    }

    // Before a jump nothing is about to happen: the time to print.
    private void Jump(int toMs)
    {
        _edges.Print();
        BoardClock.JumpTo(toMs * 1000L);
    }

    // How long the clock was stopped without being meant to, because the PC was busy.
    private void NoteLate(int step)
    {
        int late = _slower > 1 ? 0 : (int)((BoardClock.StandsUs - _standUs) / 1000);
        _standUs = 0;
        if (late <= _lateMs) return;
        _lateMs = late;
        _lateStep = step;
    }

    // The firmware may draw a moment later than on the virtual board, and a page after the other, so the display is looked at until it
    // shows the picture. What it showed meanwhile is printed too: a picture that moves need not be met in the same instant.
    private void Picture(int step, int atMs, int expected)
    {
        int untilMs = LastLookMs(step, atMs);
        _glass.Record();
        while (_glass.Sum != expected && BoardClock.NowUs / 1000 < untilMs)
        {
            BoardClock.Allow(BoardClock.NowUs + AheadUs);
            Thread.Sleep(1);
        }
        string late = ((int)(BoardClock.NowUs / 1000) - atMs).ToString();
        string shown = _glass.Recorded();
        Console.WriteLine("picture " + step.ToString() + " " + late + shown);
        if (_glass.Sum == expected) _passed++;
        else Console.WriteLine("pages " + step.ToString() + _glass.PageSums());
        PrintBits(step);
    }

    private static int LastLookMs(int step, int atMs)
    {
        int kind;
        int nextMs;
        do
        {
            step++;
            kind = Script.Step(step, out nextMs, out int _);
        }
        while (kind == StepKind.Heap);
        return nextMs - ClearMs < atMs + PictureLateMs ? nextMs - ClearMs : atMs + PictureLateMs;
    }

    private void PrintBits(int step)
    {
        if (!Script.PrintPictures()) return;
        for (int page = 0; page < Glass.Pages; page++) Console.WriteLine("bits " + step.ToString() + " " + page.ToString() + " " + _glass.PageBits(page));
    }

    private void Fail(string what)
    {
        _failed++;
        Console.WriteLine("FAILED " + what);
    }
}

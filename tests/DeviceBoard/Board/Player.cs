using System;
using System.Threading;
using Heap = nanoFramework.Runtime.Native.GC;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>Plays the script: presses, pictures, heap. Prints edges when it has nothing better to do.</summary>
public sealed class Player
{
    private const int MostSleepMs = 20;

    private readonly EdgeLog _edges;
    private readonly Pins _pins;
    private readonly Glass _glass;
    private int _passed;
    private int _failed;

    /// <summary>Over the parts of the board that it touches.</summary>
    public Player(EdgeLog edges, Pins pins, Glass glass)
    {
        _edges = edges;
        _pins = pins;
        _glass = glass;
    }

    /// <summary>Plays all steps and ends the program.</summary>
    public void Run()
    {
        int count = Script.Count();
        for (int i = 0; i < count; i++)
        {
            int kind = Script.Step(i, out int atMs, out int value);
            WaitFor(atMs * 1000L);
            if (kind == StepKind.Down) _pins.Pull(value, true);
            else if (kind == StepKind.Up) _pins.Pull(value, false);
            else if (kind == StepKind.Jump) Jump(value);
            else if (kind == StepKind.Picture) Picture(i, value);
            else if (kind == StepKind.Show) PrintBits(i);
            else if (kind == StepKind.Heap) Console.WriteLine("free " + i.ToString() + " " + Heap.Run(false).ToString());
            else if (kind == StepKind.Fault) Faults.Now = value;
            else if (kind == StepKind.Asleep) Fail("awake " + i.ToString());
            else if (kind == StepKind.End) break;
        }
        Bench.End("ended");
    }

    /// <summary>Prints how many checks held; a board that met a fault has one more that did not.</summary>
    public void Summary()
    {
        if (Bench.FaultCount == 0) _passed++;
        else _failed++;
        Console.WriteLine(_passed.ToString() + " passed, " + _failed.ToString() + " failed");
    }

    private static void WaitFor(long atUs)
    {
        while (true)
        {
            long left = (atUs - BoardClock.NowUs) / 1000;
            if (left <= 0) return;
            Thread.Sleep(left > MostSleepMs ? MostSleepMs : (int)left);
        }
    }

    // Before a jump nothing is about to happen: the time to print.
    private void Jump(int toMs)
    {
        _edges.Print();
        BoardClock.JumpTo(toMs * 1000L);
    }

    private void Picture(int step, int expected)
    {
        int sum = _glass.Sum;
        Console.WriteLine("picture " + step.ToString() + " " + sum.ToString("X8") + _glass.PageSums());
        if (sum == expected) _passed++;
        else Fail("picture " + step.ToString());
        PrintBits(step);
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

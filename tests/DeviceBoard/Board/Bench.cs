using System;
using System.Threading;
using nanoFramework.Runtime.Native;

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>
/// The stand-in board: everything that the firmware's calls reach, and the thread that plays the script. It starts with
/// the first call. It prints one line for each thing that happens, and the program that started the runtime reads these lines.
/// </summary>
public static class Bench
{
    /// <summary>Address of the display.</summary>
    public const int DisplayAddress = 0x3C;

    /// <summary>Address of the memory.</summary>
    public const int MemoryAddress = 0x57;

    /// <summary>Address of the clock chip.</summary>
    public const int ClockAddress = 0x68;

    /// <summary>Address of the light sensor.</summary>
    public const int LightAddress = 0x10;

    private static bool _on;
    private static Pins? _pins;
    private static Glass? _glass;
    private static Memory? _memory;
    private static ClockChip? _clock;
    private static LightChip? _light;
    private static EdgeLog? _edges;
    private static Player? _player;
    private static int _faults;
    private static bool _ended;

    /// <summary>The pins.</summary>
    public static Pins Pins
    {
        get
        {
            PowerOn();
            return _pins!;
        }
    }

    /// <summary>The display.</summary>
    public static Glass Glass => _glass!;

    /// <summary>Faults reported so far.</summary>
    public static int FaultCount => _faults;

    /// <summary>Puts the board together and starts the script; does nothing when that has been done.</summary>
    public static void PowerOn()
    {
        if (_on) return;
        _on = true;
        BoardClock.Begin();
        Faults.Now = Script.Fault();
        _edges = new EdgeLog();
        _pins = new Pins(_edges);
        _glass = new Glass(Script.PrintPictures());
        _memory = new Memory();
        _clock = new ClockChip();
        _light = new LightChip();
        _light.Shine(Script.Light());
        _player = new Player(_edges, _pins, _glass, _light);
        Power.OnRebootEvent += Restarted;
        Thread thread = new Thread(_player.Run);
        thread.Priority = ThreadPriority.Highest;
        thread.Start();
    }

    /// <summary>Sends a message to a chip. False when it is not acknowledged.</summary>
    public static bool Send(int address, SpanByte message)
    {
        PowerOn();
        Faults.OnTransfer(address);
        if (Faults.Silent(address)) return false;
        if (address == DisplayAddress) _glass!.Write(message);
        else if (address == ClockAddress) _clock!.Write(message);
        else if (address == MemoryAddress) return _memory!.Write(message);
        else if (address == LightAddress) return _light!.Write(message);
        else return false;
        return true;
    }

    /// <summary>Reads from a chip. False when it does not acknowledge.</summary>
    public static bool Receive(int address, SpanByte into)
    {
        PowerOn();
        Faults.OnTransfer(address);
        if (Faults.Silent(address)) return false;
        if (address == ClockAddress) _clock!.Read(into);
        else if (address == MemoryAddress) return _memory!.Read(into);
        else if (address == LightAddress) return _light!.Read(into);
        else return false;
        return true;
    }

    /// <summary>The firmware did what the board does not allow.</summary>
    public static void Fault(string words)
    {
        _faults++;
        Console.WriteLine("fault " + words);
    }

    /// <summary>Prints what is left to print and ends the program.</summary>
    /// <param name="how">One word: ended, asleep, restarted.</param>
    public static void End(string how)
    {
        if (!_ended)
        {
            _ended = true;
            _edges!.Print();
            _memory!.Print();
            _clock!.Print();
            Console.WriteLine(how + " " + BoardClock.NowUs.ToString());
            _player!.Summary();
            Power.RebootDevice();
        }
        Thread.Sleep(Timeout.Infinite);
    }

    // The firmware restarts the board. The caller goes on to the runtime's own restart.
    private static void Restarted()
    {
        if (_ended) return;
        _ended = true;
        _edges!.Print();
        _memory!.Print();
        _clock!.Print();
        Console.WriteLine("restarted " + BoardClock.NowUs.ToString());
        _player!.Summary();
    }
}

namespace Intervalometer.Tests.DeviceBoard;

/// <summary>What a step of a script does. Numbers, because the script is compiled apart from this assembly.</summary>
public static class StepKind
{
    /// <summary>The end of the script.</summary>
    public const int End = 0;

    /// <summary>A finger goes down on the button at the pin named by the value.</summary>
    public const int Down = 1;

    /// <summary>The finger lets go.</summary>
    public const int Up = 2;

    /// <summary>The clocks jump ahead to the value, ms.</summary>
    public const int Jump = 3;

    /// <summary>The picture on the display is compared with the sum in the value.</summary>
    public const int Picture = 4;

    /// <summary>Garbage is collected, and the free heap printed.</summary>
    public const int Heap = 5;

    /// <summary>What fails from now on is the value (<see cref="Faults"/>).</summary>
    public const int Fault = 6;

    /// <summary>The board must have gone to sleep by now, which ends the program: reaching this step is a failure.</summary>
    public const int Asleep = 7;

    /// <summary>The picture on the display is printed and compared with nothing.</summary>
    public const int Show = 8;

    /// <summary>From now on the clock runs so many times slower than the PC's: while a held button repeats, every pass of the box counts.</summary>
    public const int Slow = 9;

    /// <summary>The light on the sensor changes to the value, in thousandths of the lx that its counts stand for; with 0 the sensor falls silent.</summary>
    public const int Light = 10;
}

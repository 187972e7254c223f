using System;

namespace Intervalometer.Tests.DeviceBoard.Bare;

/// <summary>Prints the heap that is free when next to nothing is loaded.</summary>
public static class Program
{
    /// <summary>Prints "free 0 N".</summary>
    public static void Main()
    {
        nanoFramework.Runtime.Native.GC.Run(true);
        Console.WriteLine("free 0 " + nanoFramework.Runtime.Native.GC.Run(false).ToString());
    }
}

using System;

namespace Intervalometer.Tests.DeviceConsole;

/// <summary>Runs every test that the device can run, and prints the result.</summary>
public static class Program
{
    /// <summary>Prints "N passed, N failed" at the end; returns 0 when none failed and some ran, else 1. The device ignores what is returned.</summary>
    public static int Main()
    {
        Runner runner = new Runner();
        TestTable.RunAll(runner);
        Console.WriteLine(runner.Passed.ToString() + " passed, " + runner.Failed.ToString() + " failed");
        return runner.Failed == 0 && runner.Passed > 0 ? 0 : 1;
    }
}

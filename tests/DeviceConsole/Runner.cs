using System;

namespace Intervalometer.Tests.DeviceConsole;

/// <summary>One test.</summary>
public delegate void TestCall();

/// <summary>Runs tests one after the other and counts; prints a line for each that fails.</summary>
public sealed class Runner
{
    /// <summary>Tests that passed.</summary>
    public int Passed { get; private set; }

    /// <summary>Tests that failed.</summary>
    public int Failed { get; private set; }

    /// <summary>Runs one test. An exception makes it fail and stops no other test.</summary>
    public void Run(string name, TestCall test)
    {
        try
        {
            test();
            Passed++;
        }
        catch (Exception fault)
        {
            Failed++;
            Console.WriteLine("FAILED " + name + ": " + fault.Message);
        }
    }
}

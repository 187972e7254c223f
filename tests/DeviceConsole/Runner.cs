using System;

namespace Intervalometer.Tests.DeviceConsole;

/// <summary>One test.</summary>
public delegate void TestCall();

/// <summary>Runs tests one after the other and counts; prints a line for each that fails.</summary>
public sealed class Runner
{
    /// <summary>Tests that held.</summary>
    public int Passed { get; private set; }

    /// <summary>Tests that did not.</summary>
    public int Failed { get; private set; }

    /// <summary>Runs one test; whatever it throws is its failure and stops nothing else.</summary>
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

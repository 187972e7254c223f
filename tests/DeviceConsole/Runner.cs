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
    /// <param name="type">Its class.</param>
    /// <param name="name">Its method. Both are names that the assembly holds anyhow, and the device keeps a text once: joined they would fill its table of texts.</param>
    /// <param name="test">The test.</param>
    public void Run(string type, string name, TestCall test)
    {
        try
        {
            test();
            Passed++;
        }
        catch (Exception fault)
        {
            Failed++;
            Console.WriteLine("FAILED " + type + "." + name + ": " + fault.Message);
        }
    }
}

using System;

namespace Intervalometer.Tests.DeviceConsole;

/// <summary>Marks a class of tests. Here it has no other effect.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class TestClassAttribute : Attribute
{
}

/// <summary>Marks a test; the tests that run are those in <see cref="TestTable"/>.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class TestMethodAttribute : Attribute
{
}

/// <summary>A check that failed.</summary>
public sealed class CheckFailedException : Exception
{
    /// <summary>Creates it with what was wrong.</summary>
    public CheckFailedException(string message) : base(message)
    {
    }
}

/// <summary>The checks that the tests use, under the names that both test frameworks have.</summary>
public static class Assert
{
    /// <summary>Fails unless the condition holds.</summary>
    public static void IsTrue(bool condition, string message = "")
    {
        if (!condition) Fail("not true", message);
    }

    /// <summary>Fails when the condition holds.</summary>
    public static void IsFalse(bool condition, string message = "")
    {
        if (condition) Fail("not false", message);
    }

    /// <summary>Fails unless the object is null.</summary>
    public static void IsNull(object? value, string message = "")
    {
        if (value != null) Fail("not null", message);
    }

    /// <summary>Fails when the object is null.</summary>
    public static void IsNotNull(object? value, string message = "")
    {
        if (value == null) Fail("null", message);
    }

    /// <summary>Fails unless both are equal.</summary>
    public static void AreEqual(bool expected, bool actual, string message = "")
    {
        if (expected != actual) Differ(expected ? "true" : "false", actual ? "true" : "false", message);
    }

    /// <summary>Fails unless both are equal.</summary>
    public static void AreEqual(int expected, int actual, string message = "")
    {
        if (expected != actual) Differ(expected.ToString(), actual.ToString(), message);
    }

    /// <summary>Fails unless both are equal.</summary>
    public static void AreEqual(long expected, long actual, string message = "")
    {
        if (expected != actual) Differ(expected.ToString(), actual.ToString(), message);
    }

    /// <summary>Fails unless both are equal.</summary>
    public static void AreEqual(string? expected, string? actual, string message = "")
    {
        if (expected != actual) Differ("\"" + expected + "\"", "\"" + actual + "\"", message);
    }

    private static void Differ(string expected, string actual, string message) => Fail("expected " + expected + ", got " + actual, message);

    private static void Fail(string what, string message) => throw new CheckFailedException(message.Length == 0 ? what : message + ": " + what);
}

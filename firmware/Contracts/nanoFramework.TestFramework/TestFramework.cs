using System;

namespace nanoFramework.TestFramework;

// Declaration-only contract: lets the device-safe tests compile where the real package is not served. Never runs.

[AttributeUsage(AttributeTargets.Class)]
public class TestClassAttribute : Attribute
{
}

[AttributeUsage(AttributeTargets.Method)]
public class TestMethodAttribute : Attribute
{
}

public static class Assert
{
    public static void IsTrue(bool condition, string message = "") => throw new NotImplementedException();
    public static void IsFalse(bool condition, string message = "") => throw new NotImplementedException();
    public static void AreEqual(bool expected, bool actual, string message = "") => throw new NotImplementedException();
    public static void AreEqual(int expected, int actual, string message = "") => throw new NotImplementedException();
    public static void AreEqual(long expected, long actual, string message = "") => throw new NotImplementedException();
    public static void AreEqual(string expected, string actual, string message = "") => throw new NotImplementedException();
    public static void IsNull(object value, string message = "") => throw new NotImplementedException();
    public static void IsNotNull(object value, string message = "") => throw new NotImplementedException();
}

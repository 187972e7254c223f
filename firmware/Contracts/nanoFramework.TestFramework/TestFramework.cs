// This contract is declaration-only: it never runs and is not for flashing. See ../README.md.
// It has only the members that the PC's test framework has in the same form, so that one test source compiles for both.
#nullable disable

using System;

namespace nanoFramework.TestFramework;

[AttributeUsage(AttributeTargets.Class, AllowMultiple = false)]
public class TestClassAttribute : Attribute
{
}

[AttributeUsage(AttributeTargets.Method, AllowMultiple = false)]
public class TestMethodAttribute : Attribute
{
}

public sealed class Assert
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

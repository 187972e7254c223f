// This contract is declaration-only: it never runs and is not for flashing. See ../README.md.
#nullable disable

using System;

namespace nanoFramework.Runtime.Native;

public enum RebootOption
{
    NormalReboot = 0,
    EnterNanoBooter = 1,
    ClrOnly = 2,
    EnterProprietaryBooter = 8,
}

public delegate void RebootEventHandler();

public class Power
{
    public static event RebootEventHandler OnRebootEvent { add => throw new NotImplementedException(); remove => throw new NotImplementedException(); }
    public static void RebootDevice(RebootOption rebootOption = RebootOption.NormalReboot) => throw new NotImplementedException();
    public static void RebootDevice(int exeConstraintTimeout, RebootOption rebootOption = RebootOption.NormalReboot) => throw new NotImplementedException();
}

public static class GC
{
    public static uint Run(bool compactHeap) => throw new NotImplementedException();
    public static void EnableGCMessages(bool enable) => throw new NotImplementedException();
}

public static class SystemInfo
{
    public static Version Version => throw new NotImplementedException();
    public static string TargetName => throw new NotImplementedException();
    public static string Platform => throw new NotImplementedException();
}

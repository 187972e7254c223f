using System;
using System.Runtime.CompilerServices;

// The runtime has native code for this assembly and binds it by the order and the names of all its methods. So the members that
// no caller here needs are declared too, as in the package's public source (firmware/Contracts/signatures.txt names it).
// What is not part of the contract is internal.
namespace nanoFramework.Runtime.Native
{
    public enum RebootOption
    {
        NormalReboot = 0,
        EnterNanoBooter = 1,
        ClrOnly = 2,
        EnterProprietaryBooter = 8,
    }

    public delegate void RebootEventHandler();

    internal sealed class ConstraintException : Exception
    {
    }

    internal static class ExecutionConstraint
    {
        [MethodImpl(MethodImplOptions.InternalCall)]
        internal static extern void Install(int timeoutMilliseconds, int priority);
    }

    public static class GC
    {
        [MethodImpl(MethodImplOptions.InternalCall)]
        public static extern uint Run(bool compactHeap);

        [MethodImpl(MethodImplOptions.InternalCall)]
        public static extern void EnableGCMessages(bool enable);
    }

    /// <summary>Restarting ends the program: the host starts the next one. Who listens is told first.</summary>
    public class Power
    {
        public static event RebootEventHandler OnRebootEvent;

        public static void RebootDevice(RebootOption rebootOption = RebootOption.NormalReboot) => RebootDevice(-1, rebootOption);

        public static void RebootDevice(int exeConstraintTimeout, RebootOption rebootOption = RebootOption.NormalReboot)
        {
            try
            {
                OnRebootEvent?.Invoke();
            }
            finally
            {
                NativeReboot(RebootOption.NormalReboot);
            }
        }

        [MethodImpl(MethodImplOptions.InternalCall)]
        internal static extern void NativeReboot(RebootOption rebootOption);
    }

    internal static class Rtc
    {
        internal static bool SetSystemTime(DateTime time) => throw new NotImplementedException();

        [MethodImpl(MethodImplOptions.InternalCall)]
        private static extern bool Native_RTC_SetSystemTime(int year, byte month, byte day, byte dayOfWeek, byte hours, byte minutes, byte seconds);
    }

    public static class SystemInfo
    {
        [MethodImpl(MethodImplOptions.InternalCall)]
        private static extern void GetSystemVersion(out int major, out int minor, out int build, out int revision);

        public static Version Version
        {
            get
            {
                GetSystemVersion(out int major, out int minor, out int build, out int revision);
                return new Version(major, minor, build, revision);
            }
        }

        internal static extern string OEMString
        {
            [MethodImpl(MethodImplOptions.InternalCall)]
            get;
        }

        internal static extern byte OEM
        {
            [MethodImpl(MethodImplOptions.InternalCall)]
            get;
        }

        internal static extern byte Model
        {
            [MethodImpl(MethodImplOptions.InternalCall)]
            get;
        }

        internal static extern ushort SKU
        {
            [MethodImpl(MethodImplOptions.InternalCall)]
            get;
        }

        public static extern string TargetName
        {
            [MethodImpl(MethodImplOptions.InternalCall)]
            get;
        }

        public static extern string Platform
        {
            [MethodImpl(MethodImplOptions.InternalCall)]
            get;
        }

        internal static int FloatingPointSupport => GetNativeFloatingPointSupport();

        [MethodImpl(MethodImplOptions.InternalCall)]
        private static extern byte GetNativeFloatingPointSupport();
    }
}

namespace System
{
    internal static class Environment
    {
        internal static extern long TickCount64
        {
            [MethodImpl(MethodImplOptions.InternalCall)]
            get;
        }
    }
}

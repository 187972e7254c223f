namespace Intervalometer.Tests.Host.Subset;

internal static partial class SubsetExamples
{
    private const string UsesTimers = """
        using System.Threading;
        using nanoFramework.Hardware.Esp32;
        class C
        {
            Timer? _timer; // !
            HighResTimer _high = new HighResTimer(); // !
            static ulong Now() => HighResTimer.GetCurrent(); // !
            static void Wait() => Thread.Sleep(10); // ok
            static int Infinite() => Timeout.Infinite; // ok
        }
        """;

    private static SubsetExample[] Structure =>
    [
        new("timer-driven-edges", "in Core", UsesTimers),
        new("timer-driven-edges", "in Drivers", UsesTimers, "firmware/Drivers/Example.cs"),
        new("timer-driven-edges", "a board may read the counter", UsesTimers.Replace("// !", "// ok"), "firmware/Esp32/Example.cs"),
        new("layering", "Core knows no device", """
            using System.Device.Gpio; // !
            class C
            {
                PinMode _mode; // !
                nanoFramework.Hardware.Esp32.Sleep? _sleep; // !
                System.Threading.Thread? _thread; // ok
            }
            """),
        new("layering", "Drivers may use the device and know no board", """
            using System.Device.Gpio; // ok
            using Intervalometer.VirtualBoard.Sea; // !
            class C
            {
                PinMode _mode; // ok
                Intervalometer.VirtualBoard.Clock? _clock; // !
                Intervalometer.Esp32.EspClock? _other; // !
            }
            """, "firmware/Drivers/Example.cs", Compiles: false),
    ];
}

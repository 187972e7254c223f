namespace Intervalometer.Tests.DeviceBoard;

/// <summary>Hexadecimal digits.</summary>
public static class Hex
{
    /// <summary>Two digits of a byte.</summary>
    public static void Put(int value, char[] into, int at)
    {
        into[at] = Digit(value >> 4);
        into[at + 1] = Digit(value & 15);
    }

    private static char Digit(int value) => (char)(value < 10 ? '0' + value : 'A' + value - 10);
}

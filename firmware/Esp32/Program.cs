namespace Intervalometer.Esp32;

public static class Program
{
    public static void Main()
    {
    }
}

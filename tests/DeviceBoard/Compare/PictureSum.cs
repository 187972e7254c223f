using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>One number for the visible picture, as the stand-in display computes it.</summary>
public static class PictureSum
{
    /// <summary>The sum of eight pages, each as its bytes are sent.</summary>
    public static int Of(Ssd1306Registers registers, byte[][] pages)
    {
        int sum = (registers.Contrast << 2) | (registers.Inverse ? 2 : 0) | (registers.DisplayOn ? 1 : 0);
        foreach (byte[] page in pages)
        {
            int pageSum = -2128831035;
            foreach (byte column in page) pageSum = unchecked((pageSum ^ column) * 16777619);
            sum = unchecked(sum * 31 + pageSum);
        }
        return sum;
    }
}

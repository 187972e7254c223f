namespace Intervalometer.Core.Numerics;

/// <summary>
/// Elementary functions in plain IEEE 754 double arithmetic, so that the device and the PC compute the same bits.
/// </summary>
/// <remarks>
/// Only + - * / and conversions are used, because the platform's own maths library is native and may differ in the last bit.
/// The series are Taylor or atanh expansions on reduced arguments (any calculus text). All but that of Log2 are written out without
/// loops, because a loop costs the interpreter more than the sums themselves. Each function states its error, and tests compare it with
/// the .NET library. Arguments must be finite: no function accepts or returns NaN.
/// </remarks>
public static class Elementary
{
    /// <summary>Pi, rounded to double.</summary>
    public const double Pi = 3.14159265358979323846;

    /// <summary>Radians in one degree.</summary>
    public const double RadiansPerDegree = Pi / 180.0;

    /// <summary>Natural logarithm of 2, rounded to double.</summary>
    public const double Ln2 = 0.693147180559945309417;

    /// <summary>Base-10 logarithm of 2, rounded to double: the optical density of one stop.</summary>
    public const double Log10Of2 = 0.301029995663981195214;

    // pi/2 in three parts (33 + 33 + 53 significant bits), so that n * part is exact for the n used here.
    private const double HalfPiHigh = 1.57079632673412561417e+00;
    private const double HalfPiMiddle = 6.07710050630396597660e-11;
    private const double HalfPiLow = 2.02226624879595063154e-21;

    /// <summary>Absolute value.</summary>
    public static double Abs(double x) => x < 0 ? -x : x;

    /// <summary>The smaller of two values.</summary>
    public static double Min(double a, double b) => a < b ? a : b;

    /// <summary>The larger of two values.</summary>
    public static double Max(double a, double b) => a > b ? a : b;

    /// <summary>The value limited to [low, high].</summary>
    public static double Clamp(double x, double low, double high) => x < low ? low : x > high ? high : x;

    /// <summary>The value limited to [low, high].</summary>
    public static int Clamp(int x, int low, int high) => x < low ? low : x > high ? high : x;

    /// <summary>The largest whole number not above x. |x| must be below 9e18.</summary>
    public static double Floor(double x)
    {
        long whole = (long)x;
        double back = whole;
        return back > x ? back - 1 : back;
    }

    /// <summary>The nearest whole number; ties round up. |x| must be below 9e18.</summary>
    public static long Round(double x)
    {
        double floor = Floor(x + 0.5);
        return (long)floor;
    }

    /// <summary>x reduced into [0, period). The period must be above zero; otherwise the result is 0.</summary>
    public static double Wrap(double x, double period)
    {
        if (period <= 0) return 0;
        double wrapped = x - period * Floor(x / period);
        return wrapped >= period ? 0 : wrapped;
    }

    /// <summary>2 to the power x, for x in [-1022, 1023]; any other x counts as the nearer end. Relative error below 4e-16; exact for whole x.</summary>
    public static double Exp2(double x)
    {
        x = x < -1022.0 ? -1022.0 : x > 1023.0 ? 1023.0 : x;
        double n = Floor(x + 0.5);
        double r = (x - n) * Ln2;
        // The series of e^r up to r^14 in Horner form, with |r| <= 0.3466.
        double sum = 1.0 + (1.0 + (1.0 + (1.0 + r / 14.0) * r / 13.0) * r / 12.0) * r / 11.0;
        sum = 1.0 + (1.0 + (1.0 + (1.0 + (1.0 + sum * r / 10.0) * r / 9.0) * r / 8.0) * r / 7.0) * r / 6.0;
        sum = 1.0 + (1.0 + (1.0 + (1.0 + (1.0 + sum * r / 5.0) * r / 4.0) * r / 3.0) * r / 2.0) * r;
        return ScaleByPowerOfTwo(sum, (int)n);
    }

    /// <summary>e to the power x, for x in [-708, 709]. Relative error below 4e-16 times max(1, |x|).</summary>
    public static double Exp(double x) => Exp2(x / Ln2);

    /// <summary>Base-2 logarithm of x, x above zero (0 or less gives -1074). Absolute error below 4e-16 times max(1, |result|); exact for powers of two.</summary>
    public static double Log2(double x)
    {
        if (x <= 0) return -1074;
        int n = 0;
        double m = x;
        while (m >= 18446744073709551616.0) { m *= 5.42101086242752217004e-20; n += 64; }
        while (m < 5.42101086242752217004e-20) { m *= 18446744073709551616.0; n -= 64; }
        while (m >= 256.0) { m *= 0.00390625; n += 8; }
        while (m < 0.00390625) { m *= 256.0; n -= 8; }
        while (m >= 1.41421356237309505) { m *= 0.5; n++; }
        while (m < 0.707106781186547524) { m *= 2.0; n--; }
        // ln m = 2 atanh s, s = (m - 1)/(m + 1), |s| <= 0.1716.
        double s = (m - 1.0) / (m + 1.0);
        double q = s * s;
        double sum = 0;
        for (int k = 23; k >= 3; k -= 2) sum = (sum + 1.0 / k) * q;
        return n + 2.0 * s * (1.0 + sum) / Ln2;
    }

    /// <summary>Base-10 logarithm of x, x above zero.</summary>
    public static double Log10(double x) => Log2(x) * Log10Of2;

    /// <summary>x to the power y, x above zero (0 or less gives 0). Relative error below 1e-15 times max(1, |y log2 x|).</summary>
    public static double Pow(double x, double y) => x <= 0 ? 0 : Exp2(y * Log2(x));

    /// <summary>Square root; 0 for x of 0 or less. Relative error below 3e-16 (Newton's method).</summary>
    public static double Sqrt(double x)
    {
        if (x <= 0) return 0;
        double scale = 1.0;
        while (x >= 65536.0) { x *= 1.52587890625e-05; scale *= 256.0; }
        while (x < 1.0) { x *= 65536.0; scale *= 0.00390625; }
        while (x >= 4.0) { x *= 0.25; scale *= 2.0; }
        double root = 0.5 + 0.5 * x;
        root = 0.5 * (root + x / root);
        root = 0.5 * (root + x / root);
        root = 0.5 * (root + x / root);
        root = 0.5 * (root + x / root);
        root = 0.5 * (root + x / root);
        return root * scale;
    }

    /// <summary>Sine of an angle in radians, |x| below 1e5. Absolute error below 3e-16.</summary>
    public static double Sin(double x) => SineOfQuarter(x, 0);

    /// <summary>Cosine of an angle in radians, |x| below 1e5. Absolute error below 3e-16.</summary>
    public static double Cos(double x) => SineOfQuarter(x, 1);

    /// <summary>Sine and cosine of one angle in radians, |x| below 1e5. It costs less than the two separate functions. Absolute error below 1e-13.</summary>
    public static void SinCos(double x, out double sine, out double cosine)
    {
        double n = Floor(x * (2.0 / Pi) + 0.5);
        double r = (x - n * HalfPiHigh) - n * HalfPiMiddle;
        double q = r * r;
        double s = r * (1.0 - (1.0 - (1.0 - (1.0 - (1.0 - (1.0 - q / 156.0) * q / 110.0) * q / 72.0) * q / 42.0) * q / 20.0) * q / 6.0);
        double c = 1.0 - (1.0 - (1.0 - (1.0 - (1.0 - (1.0 - (1.0 - q / 182.0) * q / 132.0) * q / 90.0) * q / 56.0) * q / 30.0) * q / 12.0) * q / 2.0;
        int quadrant = (int)n & 3;
        if ((quadrant & 1) != 0)
        {
            double swap = s;
            s = c;
            c = -swap;
        }
        sine = quadrant >= 2 ? -s : s;
        cosine = quadrant >= 2 ? -c : c;
    }

    /// <summary>Arc tangent in radians, in (-pi/2, pi/2). Absolute error below 4e-16.</summary>
    public static double Atan(double x)
    {
        if (x < 0) return -Atan(-x);
        if (x > 1) return Pi / 2 - Atan(1.0 / x);
        // Two half-angle steps bring x below tan(pi/16) = 0.199.
        x = x / (1.0 + Sqrt(1.0 + x * x));
        x = x / (1.0 + Sqrt(1.0 + x * x));
        double q = x * x;
        double sum = 1.0 / 25.0 * q;
        sum = (1.0 / 23.0 - sum) * q;
        sum = (1.0 / 21.0 - sum) * q;
        sum = (1.0 / 19.0 - sum) * q;
        sum = (1.0 / 17.0 - sum) * q;
        sum = (1.0 / 15.0 - sum) * q;
        sum = (1.0 / 13.0 - sum) * q;
        sum = (1.0 / 11.0 - sum) * q;
        sum = (1.0 / 9.0 - sum) * q;
        sum = (1.0 / 7.0 - sum) * q;
        sum = (1.0 / 5.0 - sum) * q;
        sum = (1.0 / 3.0 - sum) * q;
        return 4.0 * x * (1.0 - sum);
    }

    /// <summary>The angle of the point (x, y) in radians, in (-pi, pi]; 0 at the origin.</summary>
    public static double Atan2(double y, double x)
    {
        if (x > 0) return Atan(y / x);
        if (x < 0) return y >= 0 ? Atan(y / x) + Pi : Atan(y / x) - Pi;
        return y > 0 ? Pi / 2 : y < 0 ? -Pi / 2 : 0;
    }

    /// <summary>Arc sine in radians; |x| above 1 counts as 1.</summary>
    public static double Asin(double x)
    {
        x = Clamp(x, -1.0, 1.0);
        return Atan2(x, Sqrt((1.0 - x) * (1.0 + x)));
    }

    /// <summary>Arc cosine in radians, in [0, pi]; |x| above 1 counts as 1.</summary>
    public static double Acos(double x)
    {
        x = Clamp(x, -1.0, 1.0);
        return Atan2(Sqrt((1.0 - x) * (1.0 + x)), x);
    }

    private static double SineOfQuarter(double x, int quarters)
    {
        double n = Floor(x * (2.0 / Pi) + 0.5);
        double r = ((x - n * HalfPiHigh) - n * HalfPiMiddle) - n * HalfPiLow;
        long quadrant = ((long)n + quarters) & 3;
        double q = r * r;
        double sum;
        double value;
        if ((quadrant & 1) == 0)
        {
            sum = q / (18.0 * 19.0);
            sum = (1.0 - sum) * q / (16.0 * 17.0);
            sum = (1.0 - sum) * q / (14.0 * 15.0);
            sum = (1.0 - sum) * q / (12.0 * 13.0);
            sum = (1.0 - sum) * q / (10.0 * 11.0);
            sum = (1.0 - sum) * q / (8.0 * 9.0);
            sum = (1.0 - sum) * q / (6.0 * 7.0);
            sum = (1.0 - sum) * q / (4.0 * 5.0);
            sum = (1.0 - sum) * q / (2.0 * 3.0);
            value = r * (1.0 - sum);
        }
        else
        {
            sum = q / (17.0 * 18.0);
            sum = (1.0 - sum) * q / (15.0 * 16.0);
            sum = (1.0 - sum) * q / (13.0 * 14.0);
            sum = (1.0 - sum) * q / (11.0 * 12.0);
            sum = (1.0 - sum) * q / (9.0 * 10.0);
            sum = (1.0 - sum) * q / (7.0 * 8.0);
            sum = (1.0 - sum) * q / (5.0 * 6.0);
            sum = (1.0 - sum) * q / (3.0 * 4.0);
            sum = (1.0 - sum) * q / (1.0 * 2.0);
            value = 1.0 - sum;
        }
        return quadrant >= 2 ? -value : value;
    }

    private static double ScaleByPowerOfTwo(double x, int n)
    {
        // A power of two is exact, and so are product and quotient as long as the result stays within the range of a double.
        // divisor: a shift of 0 to 62 leaves a power of two
        if (n <= 0 && n > -63) return x / (1L << -n);
        if (n > 0 && n < 63) return x * (1L << n);
        double step = n < 0 ? 0.5 : 2.0;
        int left = n < 0 ? -n : n;
        while (left != 0)
        {
            if ((left & 1) != 0) x *= step;
            left >>= 1;
            if (left != 0) step *= step;
        }
        return x;
    }
}

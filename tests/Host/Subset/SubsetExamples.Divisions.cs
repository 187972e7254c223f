namespace Intervalometer.Tests.Host.Subset;

internal static partial class SubsetExamples
{
    private static SubsetExample[] Divisions =>
    [
        new("unguarded-division", "nothing known", """
            class C
            {
                int _n;
                double A(double x, double y) => x / y; // !
                int B(int x) => x % _n; // !
                double D(double x, int[] list) => x / list.Length; // !
                double E(double x, double y)
                {
                    x /= y; // !
                    return x;
                }
                double F(double x, double y) => x / (y + 1.0); // !
                double G(double x, double y) => x / (double)(int)(y > 0 ? y : 0.5); // !
            }
            """),
        new("unguarded-division", "constants", """
            class C
            {
                const double Step = 0.25;
                static readonly double Scale = 3.0;
                static readonly double Zero = 0.0;
                static readonly int[] Table = { 1, 2, 3 };
                double A(double x) => x / 2 + x / Step + x / Scale; // ok
                double B(double x) => x / Zero; // !
                int D(int x) => x % Table.Length; // ok
                double E(double x) => x / (Step * 4 - 1); // !
            }
            """),
        new("unguarded-division", "conditions around it", """
            class C
            {
                double A(double x, double y) => y > 0 ? x / y : 0; // ok
                double B(double x, double y) => y == 0 ? 0 : x / y; // ok
                double D(double x, double y) => y >= 0 ? x / y : 0; // !
                double E(double x, double y) => y > -1 ? x / y : 0; // !
                bool F(double x, double y) => y != 0 && x / y > 2; // ok
                bool G(double x, double y) => y <= 0 || x / y > 2; // ok
                bool H(double x, double y) => y != 0 || x / y > 2; // !
                double I(double x, int n)
                {
                    double sum = 0;
                    for (int k = n; k >= 1; k--) sum += x / k; // ok
                    for (int k = 1; k <= n; k += 2) sum += x / (k * (k + 1)); // ok
                    for (int k = 0; k <= n; k++) sum += x / k; // !
                    while (n > 0)
                    {
                        sum += x / n; // ok
                        n--;
                        sum += x / n; // !
                    }
                    return sum;
                }
                double J(double x, double a, double b) => a > b ? x / (a - b) : 0; // ok
                double K(double x, double a, double b) => a > b ? x / (b - a) : 0; // !
            }
            """),
        new("unguarded-division", "guards before it", """
            static class Elementary
            {
                public static double Abs(double x) => x < 0 ? -x : x;
            }
            class C
            {
                double A(double x, double y)
                {
                    if (y <= 0) return 0;
                    return x / y; // ok
                }
                double B(double x, double y)
                {
                    if (x < 0 || y == 0) throw new System.ArgumentException("y");
                    return x / y; // ok
                }
                double D(double x, double y)
                {
                    if (x < 0 && y == 0) return 0;
                    return x / y; // !
                }
                double E(double x, double y)
                {
                    if (y <= 0) y = 1;
                    return x / y; // ok
                }
                double F(double x, double y)
                {
                    if (y <= 0) x = 1;
                    return x / y; // !
                }
                double G(double x, double y)
                {
                    if (y <= 0) return 0;
                    y -= 1;
                    return x / y; // !
                }
                double H(double x, double y)
                {
                    if (y <= 0) return 0;
                    while (y < 1.0) { y *= 16.0; }
                    return x / y; // ok
                }
                double I(double x, double y)
                {
                    if (y <= 0) return 0;
                    for (int i = 0; i < 9; i++)
                    {
                        x += x / y; // !
                        y -= 0.5;
                    }
                    return x;
                }
                double J(double x, double y)
                {
                    if (Elementary.Abs(y) < 1e-12) return 0;
                    return x / y; // ok
                }
                double K(double x, double y)
                {
                    if (y < 0) return 0;
                    return x / y; // !
                }
            }
            """),
        new("unguarded-division", "values that cannot be zero", """
            static class Elementary
            {
                public static double Abs(double x) => x < 0 ? -x : x;
                public static double Max(double a, double b) => a > b ? a : b;
                public static double Sqrt(double x) => x;
                public static double Clamp(double x, double low, double high) => x < low ? low : x > high ? high : x;
            }
            class C
            {
                private readonly double _period;
                private readonly double _bare;
                C(double period, double bare)
                {
                    _period = period > 0 ? period : 1.0;
                    _bare = bare;
                }
                double A(double x) => x / (1.0 + x * x); // ok
                double B(double x) => x / (1.0 - x * x); // !
                double D(double x, double y) => x / Elementary.Max(y, 1e-9); // ok
                double E(double x, double y) => x / Elementary.Max(y, 0); // !
                double F(double x) => x / (0.5 + Elementary.Sqrt(x)); // ok
                double G(double x) => x / Elementary.Sqrt(x); // !
                double H(double x, double y) => x / Elementary.Clamp(y, 0.1, 9); // ok
                double I(double x, double y)
                {
                    double below = 2.0 + Elementary.Abs(y);
                    return x / below; // ok
                }
                double J(double x, double y)
                {
                    double below = 2.0 + Elementary.Abs(y);
                    if (x > 3) below = 0;
                    return x / below; // !
                }
                double K(double x) => x / _period; // ok
                double L(double x) => x / _bare; // !
                double M(double x)
                {
                    if (x <= 0) return 0;
                    double root = 0.5 + 0.5 * x;
                    for (int i = 0; i < 5; i++) root = 0.5 * (root + x / root); // ok
                    return root;
                }
                double N(double x)
                {
                    double root = 0.5;
                    for (int i = 0; i < 5; i++) root = root - x / root; // !
                    return root;
                }
            }
            """),
        new("unguarded-division", "counters and sums of a class", """
            class C
            {
                private int _count;
                private double _weight;
                private double _balance;
                public int Open;
                void Add(double x)
                {
                    if (_count < 20) _count++;
                    _weight = 0.9 * _weight + x * x;
                    _balance += x;
                    Open++;
                }
                void Reset() { _count = 0; _weight = 0; }
                double A(double x) => x / (4 + _count); // ok
                double B(double x) => x / (4 + _weight); // ok
                double D(double x) => x / (4 + _balance); // !
                double E(double x) => x / _count; // !
                double F(double x) => x / (4 + Open); // !
                double G(double x)
                {
                    int shown = 1;
                    for (int i = 0; i < 9; i++) { if (i > x) shown++; }
                    return x / shown; // ok
                }
                double H(double x)
                {
                    int shown = 1;
                    for (int i = 0; i < 9; i++) { if (i > x) shown--; }
                    return x / shown; // !
                }
                double I(double x)
                {
                    double size = x < 0 ? -x : x;
                    return x / (1 + size); // ok
                }
                double J(double x)
                {
                    double size = x < 0 ? x : -x;
                    return x / (1 + size); // !
                }
            }
            """),
        new("unguarded-division", "a stated reason", """
            class C
            {
                double A(double x, double y) => x / y; // divisor: y is a pitch and never below 1
                double B(double x, double y)
                {
                    // divisor: y is a pitch and never below 1
                    return x / y; // ok
                }
                double D(double x, double y)
                {
                    // divisor:
                    return x / y; // !
                }
                double E(double x, double y)
                {
                    // divisor: too far above

                    return x / y; // !
                }
            }
            """),
        new("unguarded-division", "an operator of our own", """
            readonly struct Length
            {
                private readonly double _m;
                public Length(double m) { _m = m; }
                public static Length operator /(Length a, double b) => b == 0 ? a : new Length(a._m / b); // ok
                public static double operator /(Length a, Length b) => a._m / b._m; // !
                static Length Half(Length a, double n) => a / n; // ok
            }
            """),
    ];
}

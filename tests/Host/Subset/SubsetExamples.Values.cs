namespace Intervalometer.Tests.Host.Subset;

internal static partial class SubsetExamples
{
    private static SubsetExample[] Values =>
    [
        new("enum-to-text", "calls, concatenation and interpolation", """
            enum Mode { Slow, Fast }
            class C
            {
                static string A(Mode m) => m.ToString(); // !
                static string B(Mode m) => "mode " + m; // !
                static string D(Mode m) => $"mode {m}"; // !
                static string E(Mode m) => string.Format("{0}", m); // !
                static string F(string s, Mode m)
                {
                    s += m; // !
                    return s;
                }
                static string G(Mode m) => ((int)m).ToString(); // ok
                static string H(Mode m) => $"mode {(int)m}"; // ok
                static string I(Mode m) => "mode " + (m == Mode.Fast ? "fast" : "slow"); // ok
                static Mode J(Mode m) => m + 1; // ok
            }
            """),
        new("inline-ulong-cast", "used at once or stored first", """
            class C
            {
                static ulong Counter() => 7;
                long _field;
                static long A() => (long)Counter(); // !
                static bool B(ulong u, long limit) => (long)u < limit; // !
                static long D(ulong u)
                {
                    long sum = 1 + (long)u; // !
                    return sum;
                }
                static long E(ulong u)
                {
                    long now = (long)u; // ok
                    now = (long)(u >> 1); // ok
                    return now;
                }
                void F(ulong u) { _field = (long)u; } // !
                static long G(uint u) => (long)u; // ok
                static int H(ulong u) => (int)u; // ok
                const long Fixed = (long)5ul; // ok
            }
            """),
        new("number-formats", "ToString, interpolation and Format", """
            class C
            {
                static string A(double x) => x.ToString("0.00"); // !
                static string B(double x) => x.ToString("F7"); // !
                static string D(double x) => $"{x:0.#}"; // !
                static string E(double x) => string.Format("{0:E2}", x); // !
                static string F(double x, string f) => x.ToString(f); // !
                static string G(int x) => x.ToString("N2"); // !
                static string H(double x) => x.ToString("F6") + x.ToString("N0") + $"{x:F2}"; // ok
                static string I(int x) => x.ToString("D2") + x.ToString("X4") + x.ToString("X"); // ok
                static string K(double x) => x.ToString(x > 9 ? "F0" : "F1"); // ok
                static string L(double x) => x.ToString(x > 9 ? "F0" : "G"); // !
                static string J(int x) => x.ToString() + string.Format("{0} {1:F1}", x, 2.0); // ok
            }
            """),
        new("nan", "the constant, the test and the trick", """
            class C
            {
                static double A() => double.NaN; // !
                static bool B(double x) => double.IsNaN(x); // !
                static bool D(double x) => x != x; // !
                static bool E(float[] x, int i) => x[i] == x[i]; // !
                static bool F(int x) => x == x; // ok
                static bool G(double x, double y) => x != y; // ok
                static string NaN => "none"; // ok
                static string H() => NaN; // ok
            }
            """),
        new("tryparse-result", "dropped or tested", """
            class C
            {
                static int A(string s)
                {
                    int.TryParse(s, out int n); // !
                    return n;
                }
                static int B(string s)
                {
                    _ = int.TryParse(s, out int n); // !
                    return n;
                }
                static int D(string s) => int.TryParse(s, out int n) ? n : 0; // ok
                static int E(string s)
                {
                    if (!int.TryParse(s, out int n)) return 0; // ok
                    return n;
                }
                static bool F(string s)
                {
                    bool read = int.TryParse(s, out int n); // ok
                    return read && n > 0;
                }
            }
            """),
    ];
}

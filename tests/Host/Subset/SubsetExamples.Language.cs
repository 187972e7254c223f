namespace Intervalometer.Tests.Host.Subset;

internal static partial class SubsetExamples
{
    private static SubsetExample[] Language =>
    [
        new("own-generics", "types, methods and delegates", """
            class Pair<T> // !
            {
                public T First = default!;
            }
            interface IBox<T> { } // !
            delegate T Make<T>(); // !
            class Plain
            {
                static void Show<T>(T value) { } // !
                static void Local()
                {
                    void Inner<T>() { } // !
                    Inner<int>();
                }
                static bool Less(int a, int b, int c, int d) => Both(a < b, c > d); // ok
                static bool Both(bool x, bool y) => x && y;
            }
            """),
        new("func-action", "named, inferred and passed", """
            using System;
            delegate double Curve(double x);
            class C
            {
                Func<int, int>? _f; // !
                static void Take(Action<int> a) { } // !
                static void Run(Action a) { } // ok
                static void Sample(Curve c) { } // ok
                static double Twice(double x) => 2 * x;
                static void Use()
                {
                    var f = (int x) => x; // !
                    var g = Twice; // !
                    Take(x => { }); // !
                    Run(() => { }); // ok
                    Sample(Twice); // ok
                    Sample(x => x); // ok
                }
            }
            """),
        new("multi-dimensional-arrays", "types and creations", """
            class C
            {
                int[,]? _grid; // !
                object _made = new int[2, 3]; // !
                object _list = new[,] { { 1, 2 }, { 3, 4 } }; // !
                int[][] _rows = new int[2][]; // ok
                int At(int[] flat, int row, int column) => flat[row * 3 + column]; // ok
            }
            """),
        new("default-interface-methods", "methods and properties", """
            interface IShape
            {
                double Area { get; } // ok
                double Half(); // ok
                double Twice() => 2 * Area; // !
                double Third => Area / 3; // !
                double Fourth { get { return Area / 4; } } // !
            }
            abstract class Shape : IShape
            {
                public abstract double Area { get; }
                public double Half() => Area / 2; // ok
            }
            """, Compiles: false),
        new("checked", "statement and expression", """
            class C
            {
                static int Add(int a, int b)
                {
                    checked // !
                    {
                        a += b;
                    }
                    int c = checked(a * b); // !
                    return unchecked(c + b); // ok
                }
            }
            """),
        new("static-initialiser-order", "fields, properties, constructors and calls", """
            class Table
            {
                public const int Size = 4;
                public static readonly int[] Rows = new int[Size];
                public static int Count { get; } = 3;
                public static int Twice(int x) => 2 * x;
                public static int Last() => Rows[Size - 1];
                public static int Half => Size / 2;
            }
            class User
            {
                static readonly int A = Table.Size; // ok
                static readonly int B = Table.Rows.Length; // !
                static readonly int C = Table.Count; // !
                static readonly int D = Table.Twice(Table.Size); // ok
                static readonly int E = Table.Last(); // !
                static readonly int F = Table.Half; // ok
                static readonly int G = A + 1; // ok
                static readonly int H = Inner(); // !
                static readonly string Empty = string.Empty; // ok
                static int I { get; } = Table.Count; // !
                readonly int _each = Table.Count; // ok
                static int Inner() => Table.Count;
                static int Later() => Table.Count; // ok
            }
            class Other
            {
                static int _x;
                static Other() { _x = Table.Rows[0]; } // !
            }
            """),
    ];
}

using System.Runtime.InteropServices;
using SharpFuzz.Common;

namespace Intervalometer.Tests.Fuzz;

/// <summary>
/// Where the instrumented assemblies count their branches, and which counts have been seen. Counts are put into classes as in AFL's
/// technical notes (M. Zalewski): 1, 2, 3, 4-7, 8-15, 16-31, 32-127, 128 and more.
/// </summary>
internal sealed unsafe class CoverageMap
{
    private const int Size = 1 << 16;

    private static readonly byte[] Bucket = MakeBuckets();

    // One for the process: the instrumented code writes to it whenever it runs, between two inputs too.
    private static readonly byte* Now = (byte*)NativeMemory.AllocZeroed(Size);
    private readonly byte[] _seen = new byte[Size];

    /// <summary>Branches seen at least once.</summary>
    public int Branches { get; private set; }

    /// <summary>Branches, counted separately for each class of how often they were taken.</summary>
    public int Kinds { get; private set; }

    /// <summary>Gives the instrumented code a place to write; before this none of it may run.</summary>
    public static void Attach() => Trace.SharedMem = Now;

    /// <summary>Begins to count for one input.</summary>
    public void Begin()
    {
        Attach();
        new Span<byte>(Now, Size).Clear();
        Trace.PrevLocation = 0;
    }

    /// <summary>Ends counting; true when the input did something new.</summary>
    public bool End()
    {
        bool fresh = false;
        ulong* words = (ulong*)Now;
        for (int w = 0; w < Size / 8; w++)
        {
            if (words[w] == 0) continue;
            for (int i = w * 8; i < w * 8 + 8; i++)
            {
                byte bucket = Bucket[Now[i]];
                if ((_seen[i] & bucket) == bucket) continue;
                fresh = true;
                if (_seen[i] == 0) Branches++;
                Kinds++;
                _seen[i] |= bucket;
            }
        }
        return fresh;
    }

    private static byte[] MakeBuckets()
    {
        byte[] bucket = new byte[256];
        for (int count = 1; count < 256; count++)
        {
            int kind = count <= 3 ? count - 1 : count < 8 ? 3 : count < 16 ? 4 : count < 32 ? 5 : count < 128 ? 6 : 7;
            bucket[count] = (byte)(1 << kind);
        }
        return bucket;
    }
}

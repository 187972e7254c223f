using System;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>
/// The device's runtime may run a small method in the frame of its caller, and then takes what an earlier call left there for a
/// reference. When garbage is collected, a bit is set in whatever lies at that address. Every assembly for the device is changed after
/// its compilation so that this cannot happen; on a build without that change this test fails on the runtime, in the heap of the device suite too.
/// </summary>
[TestClass]
public class OwnFrameTests
{
    private sealed class Maker
    {
        private int _made;

        public int MakeGarbage(int bytes)
        {
            for (int n = 0; n < 200; n++) _made += new byte[bytes].Length;
            return _made;
        }
    }

    // Makes room to collect without a frame that is shared.
    private static void CollectOnce(Maker maker)
    {
        int made = 0;
        for (int n = 0; n < 200; n++) made += new byte[1000].Length;
        if (made == 0) maker.MakeGarbage(1);
    }

    // Thirteen places make the caller's frame large enough to be shared. Wherever the compiler begins, a reference that grows old lies above
    // the two arguments of the next call.
    private static int Deep(int a, int b, byte[] c, byte[] d, byte[] e, int f, int g, int h, int i, int j, int k, int l, int m) =>
        a + b + c.Length + d.Length + e.Length + f + g + h + i + j + k + l + m;

    // Zeros wherever there is room, so that they lie where the old references point to; then a little room for garbage.
    private static int[][] Zeros(int room)
    {
        int[][] all = new int[120][];
        int made = 0;
        try
        {
            while (made < all.Length) all[made++] = new int[250];
        }
        catch (OutOfMemoryException)
        {
            made--;
        }
        for (int n = 1; n <= room && n <= made; n++) all[made - n] = new int[0];
        for (int n = made; n < all.Length; n++) all[n] = all[0];
        return all;
    }

    private static int NotZero(int[][] all)
    {
        int found = 0;
        for (int n = 0; n < all.Length; n++)
        {
            for (int k = 0; k < all[n].Length; k++)
            {
                if (all[n][k] != 0) found++;
            }
        }
        return found;
    }

    private static int Disturbed(Maker maker, int bytes, int room)
    {
        byte[] before = new byte[bytes + 37];
        int length = Deep(0, 0, new byte[bytes], new byte[bytes], new byte[bytes], 0, 0, 0, 0, 0, 0, 0, 0) + before.Length;
        before = new byte[0];
        CollectOnce(maker);
        int[][] zeros = Zeros(room);
        maker.MakeGarbage(1000);
        int found = NotZero(zeros);
        return length < 0 ? -1 : found + before.Length;
    }

    [TestMethod]
    public void NothingThatACallLeftBehindIsTakenForAReference()
    {
        var maker = new Maker();
        int found = 0;
        for (int n = 0; n < 30; n++) found += Disturbed(maker, 60 + 52 * n, 5 + n % 5);
        Assert.AreEqual(0, found);
    }
}

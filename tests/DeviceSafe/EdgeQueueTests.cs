using Intervalometer.Core.Link;
using Intervalometer.Core.Release;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The fixed memory of the release side: the edges that wait, and the frames that were planned.</summary>
[TestClass]
public class EdgeQueueTests
{
    private static EdgeQueue QueueWithHeadAt(int place)
    {
        EdgeQueue queue = new EdgeQueue();
        for (int i = 0; i < place; i++)
        {
            queue.Add(0, ReleaseLine.Shutter, true, EdgeStep.FrameStarts, 1);
            queue.Drop();
        }
        return queue;
    }

    [TestMethod]
    public void AnEmptyQueueHasNoEdgeWhateverItHeldBefore()
    {
        EdgeQueue queue = QueueWithHeadAt(3);
        Assert.AreEqual(long.MaxValue, queue.NextUs);
        Assert.AreEqual(long.MaxValue, queue.NextFrameUs);
        Assert.IsFalse(queue.WillOpen(ReleaseLine.Shutter));
        queue.Add(7, ReleaseLine.Shutter, false, EdgeStep.FrameReleased, 0);
        Assert.AreEqual(7L, queue.NextUs);
        queue.Clear();
        Assert.AreEqual(0, queue.Count);
        Assert.AreEqual(EdgeQueue.Capacity, queue.Free);
        Assert.AreEqual(long.MaxValue, queue.NextUs);
        Assert.IsFalse(queue.WillOpen(ReleaseLine.Shutter));
    }

    [TestMethod]
    public void EdgesComeOutAsTheyWentInWhereverTheMemoryBegins()
    {
        for (int head = 0; head < EdgeQueue.Capacity; head++)
        {
            EdgeQueue queue = QueueWithHeadAt(head);
            for (int i = 0; i < EdgeQueue.Capacity; i++)
            {
                Assert.AreEqual(EdgeQueue.Capacity - i, queue.Free);
                queue.Add(i / 2, i % 3 == 0 ? ReleaseLine.HalfPress : ReleaseLine.Shutter, i % 2 == 0, i % 5 == 0 ? EdgeStep.FrameStarts : EdgeStep.None, i * 10);
            }
            for (int i = 0; i < EdgeQueue.Capacity; i++)
            {
                Assert.AreEqual((long)(i / 2), queue.NextUs);
                Assert.AreEqual((int)(i % 3 == 0 ? ReleaseLine.HalfPress : ReleaseLine.Shutter), (int)queue.NextLine);
                Assert.AreEqual(i % 2 == 0, queue.NextCloses);
                Assert.AreEqual((int)(i % 5 == 0 ? EdgeStep.FrameStarts : EdgeStep.None), (int)queue.NextStep);
                Assert.AreEqual(i * 10L, queue.NextExposureUs);
                queue.Drop();
            }
            Assert.AreEqual(0, queue.Count);
        }
    }

    [TestMethod]
    public void TheNextFrameAndTheNextOpeningAreFoundBehindOtherEdges()
    {
        for (int head = 0; head < EdgeQueue.Capacity; head++)
        {
            EdgeQueue queue = QueueWithHeadAt(head);
            queue.Add(10, ReleaseLine.HalfPress, true, EdgeStep.None, 0);
            queue.Add(20, ReleaseLine.Shutter, true, EdgeStep.None, 0);
            Assert.AreEqual(long.MaxValue, queue.NextFrameUs);
            Assert.IsFalse(queue.WillOpen(ReleaseLine.Shutter));
            Assert.IsFalse(queue.WillOpen(ReleaseLine.HalfPress));
            queue.Add(30, ReleaseLine.HalfPress, false, EdgeStep.None, 0);
            Assert.IsFalse(queue.WillOpen(ReleaseLine.Shutter));
            Assert.IsTrue(queue.WillOpen(ReleaseLine.HalfPress));
            queue.Add(40, ReleaseLine.Shutter, false, EdgeStep.None, 0);
            Assert.IsTrue(queue.WillOpen(ReleaseLine.Shutter));
            queue.Add(50, ReleaseLine.Shutter, true, EdgeStep.FrameStarts, 5);
            queue.Add(60, ReleaseLine.Shutter, true, EdgeStep.FrameStarts, 5);
            Assert.AreEqual(50L, queue.NextFrameUs);
        }
    }

    [TestMethod]
    public void EdgesAreMovedTogether()
    {
        EdgeQueue queue = new EdgeQueue();
        for (int i = 0; i < EdgeQueue.Capacity; i++) queue.Add(i, ReleaseLine.Shutter, true, EdgeStep.None, 0);
        for (int i = 0; i < 5; i++) queue.Drop();
        queue.Shift(100);
        for (int i = 5; i < EdgeQueue.Capacity; i++)
        {
            Assert.AreEqual(100L + i, queue.NextUs);
            queue.Drop();
        }
    }

    [TestMethod]
    public void TheLastSixtyFourFramesAreKept()
    {
        FrameRing ring = new FrameRing();
        Assert.IsFalse(ring.Has(0));
        for (int i = 0; i <= FrameRing.Capacity; i++) ring.Add(20_000 * i + 5_000, 7200_000_000L + 10 * i, i * FrameRing.LateStepUs, 0, i % 2 == 1, i == 5);
        Assert.AreEqual(FrameRing.Capacity + 1, ring.Total);
        Assert.IsFalse(ring.Has(-1));
        Assert.IsFalse(ring.Has(0));
        Assert.IsTrue(ring.Has(1));
        Assert.IsTrue(ring.Has(FrameRing.Capacity));
        Assert.IsFalse(ring.Has(FrameRing.Capacity + 1));
        Assert.AreEqual(30_000L, ring.StartUs(1));
        Assert.AreEqual(7200_000_010L, ring.ExposureUs(1));
        Assert.AreEqual(3, ring.Late(3));
        Assert.IsTrue(ring.CutShort(3));
        Assert.IsFalse(ring.CutShort(4));
        Assert.AreEqual(FrameRing.Doubt, ring.Late(5));
        Assert.IsTrue(ring.CutShort(5));
        Assert.AreEqual(FrameRing.MostLateSteps, ring.Late(63));
    }

    /// <summary>Told from half a tenth of a second on, rounded to half tenths.</summary>
    [TestMethod]
    public void AFrameIsLateInStepsOfFiftyMilliseconds()
    {
        FrameRing ring = new FrameRing();
        long[] late = new long[] { 0, 49_999, 50_000, 74_999, 75_000, 400_000, 60_000_000 };
        int[] steps = new int[] { 0, 0, 1, 1, 2, 8, FrameRing.MostLateSteps };
        for (int i = 0; i < late.Length; i++)
        {
            ring.Add(0, 1, late[i], 0, false, false);
            Assert.AreEqual(steps[i], ring.Late(i));
        }
    }
}

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
    public void AFrameLogKeepsTheLastSixtyFour()
    {
        FrameLog log = new FrameLog();
        Assert.AreEqual(0L, log.LastStartUs);
        Assert.AreEqual(0L, log.LastExposureUs);
        Assert.AreEqual(0L, log.LastEndUs);
        Assert.IsFalse(log.Has(0));
        for (int i = 0; i <= FrameLog.Capacity; i++)
        {
            log.Add(1000 * i + 3, i + 1);
            Assert.AreEqual(1000L * i + 3, log.LastStartUs);
            Assert.AreEqual(i + 1L, log.LastExposureUs);
            Assert.AreEqual(1001L * i + 4, log.LastEndUs);
        }
        Assert.IsFalse(log.Has(-1));
        Assert.IsFalse(log.Has(0));
        Assert.IsTrue(log.Has(1));
        Assert.IsTrue(log.Has(FrameLog.Capacity));
        Assert.IsFalse(log.Has(FrameLog.Capacity + 1));
        Assert.AreEqual(1003L, log.StartUs(1));
        Assert.AreEqual(2L, log.ExposureUs(1));
    }
}

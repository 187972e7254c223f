using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>Which page stands in for which, what the memory holds about that, and where the two tables lie.</summary>
[TestClass]
public class StoreSpareTests
{
    private const int First = StoreMap.LogFirstPage;

    // A table as it lies in a page, taken by another that knows what the memory knows.
    private static void Keep(SparePages spares, SparePages reader, int page)
    {
        byte[] bytes = new byte[StoreMap.PageBytes];
        spares.Put(bytes, page);
        spares.Written();
        Assert.IsTrue(reader.Take(bytes, page));
    }

    [TestMethod]
    public void AStandInPageMayFailAsWell()
    {
        SparePages spares = new SparePages();
        spares.SetAside(5, First);
        spares.SetAside(First + 1, SparePages.None);
        spares.SetAside(First, First + 2);
        Assert.AreEqual(First + 2, spares.Where(5));
        Assert.AreEqual(4, spares.Where(4));
        Assert.AreEqual(First + 1, spares.Where(First + 1));
        for (int i = 0; i < 4; i++) Assert.AreEqual(i < 3, spares.Away(First + i));
        Assert.AreEqual(3, spares.Count);
    }

    [TestMethod]
    public void WhatTheMemoryKnowsComesBack()
    {
        SparePages spares = new SparePages();
        SparePages reader = new SparePages();
        for (int i = 0; i < SparePages.Most; i++)
        {
            Assert.IsFalse(spares.Full);
            spares.SetAside(i, First + i);
        }
        Assert.IsTrue(spares.Full);
        spares.SetAside(70, First + 40);
        Assert.AreEqual(70, spares.Where(70));
        Assert.IsTrue(spares.Unkept);
        Keep(spares, reader, First + 20);
        Assert.IsFalse(spares.Unkept);
        Assert.IsFalse(reader.Unkept);
        Assert.AreEqual(SparePages.Most, reader.Count);
        for (int i = 0; i < SparePages.Most; i++) Assert.AreEqual(First + i, reader.Where(i));
        byte[] many = new byte[StoreMap.PageBytes];
        spares.Put(many, First + 21);
        many[4] = SparePages.Most + 1;
        Assert.IsFalse(reader.Take(many, First + 21));
    }

    /// <summary>The next table goes over the older one. A page that has failed is left, and the one that is being tried is tried again.</summary>
    [TestMethod]
    public void TheTwoTablesAreWrittenAlternately()
    {
        SparePages spares = new SparePages();
        SparePages reader = new SparePages();
        spares.SetAside(1, First);
        Assert.AreEqual(-1, spares.TablePage);
        byte[] bytes = new byte[StoreMap.PageBytes];
        spares.Put(bytes, First + 10);
        Assert.AreEqual(First + 10, spares.TablePage);
        spares.SetAside(First + 10, SparePages.None);
        Assert.AreEqual(-1, spares.TablePage);
        Keep(spares, reader, First + 11);
        Assert.AreEqual(-1, spares.TablePage);
        spares.SetAside(2, First + 1);
        Keep(spares, reader, First + 12);
        Assert.AreEqual(First + 11, spares.TablePage);
        Assert.AreEqual(First + 11, reader.TablePage);
        Assert.AreEqual(First + 1, reader.Where(2));
        for (int i = 10; i < 13; i++)
        {
            Assert.IsTrue(spares.Away(First + i));
            Assert.IsTrue(reader.Away(First + i));
        }
        spares.SetAside(First + 11, SparePages.None);
        Assert.AreEqual(-1, spares.TablePage);
        Assert.IsTrue(spares.Away(First + 12));
    }

    [TestMethod]
    public void TheLaterTableCountsInWhateverOrderTheyAreRead()
    {
        SparePages spares = new SparePages();
        byte[] early = new byte[StoreMap.PageBytes];
        byte[] late = new byte[StoreMap.PageBytes];
        spares.SetAside(1, First);
        spares.Put(early, First + 30);
        spares.Written();
        spares.SetAside(2, First + 1);
        spares.Put(late, First + 20);
        spares.Written();
        for (int order = 0; order < 2; order++)
        {
            SparePages reader = new SparePages();
            Assert.IsTrue(order == 0 ? reader.Take(late, First + 20) : reader.Take(early, First + 30));
            Assert.IsTrue(order == 0 ? reader.Take(early, First + 30) : reader.Take(late, First + 20));
            Assert.AreEqual(2, reader.Count);
            Assert.AreEqual(First + 30, reader.TablePage);
            // Read once more, as after a memory that did not answer to the end.
            reader.Clear();
            Assert.AreEqual(0, reader.Count);
            Assert.AreEqual(-1, reader.TablePage);
            Assert.IsFalse(reader.Away(First + 20));
        }
    }

    [TestMethod]
    public void WhatTheMemoryDidNotTakeIsForgotten()
    {
        SparePages spares = new SparePages();
        spares.SetAside(1, First);
        Keep(spares, new SparePages(), First + 10);
        spares.SetAside(2, First + 1);
        spares.Put(new byte[StoreMap.PageBytes], First + 11);
        spares.DropUnkept();
        Assert.IsFalse(spares.Unkept);
        Assert.AreEqual(First, spares.Where(1));
        Assert.AreEqual(2, spares.Where(2));
        Assert.AreEqual(-1, spares.TablePage);
    }

    [TestMethod]
    public void ALogbookThatIsReadTwiceKnowsTheSame()
    {
        PlainMemory memory = new PlainMemory();
        memory.Worn[First] = true;
        StoreBench bench = new StoreBench(memory);
        bench.Bench.Link.Frames.Add(0, 1000, 0, 0, false, false);
        bench.Pass(30_000_000);
        Assert.IsTrue(bench.Keeper.Settled);
        PageWriter writer = new PageWriter(memory);
        Logbook log = new Logbook(memory, writer);
        for (int i = 0; i < 2; i++)
        {
            Assert.AreEqual((int)RecordStatus.Good, (int)log.Scan());
            Assert.AreEqual(1, log.Count);
            Assert.AreEqual(1, writer.Spares.Count);
            Assert.AreEqual(-1, writer.Spares.TablePage);
        }
    }
}

using Intervalometer.Core.Exposure;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The stacks used last and the ones with a name, and what becomes of them when the kit changes.</summary>
[TestClass]
public class StoreFilterStacksTests
{
    // The places of ND 0.9, ND 1.8, ND 3.0 and GRAD 0.9H in a new box's kit.
    private const int Three = 1, Six = 2, Ten = 4, Hard = 8;

    private static string Offered(FilterKit kit)
    {
        string said = "";
        FilterStacks stacks = kit.Stacks;
        for (int i = 0; i < stacks.Count; i++)
        {
            int slot = stacks.SlotOf(i);
            int word = stacks.Lost(slot) ? stacks.Word(slot) : stacks.WordOf(stacks.Filters(slot));
            said += (stacks.Lost(slot) ? "lost" : kit.NamesOf(stacks.Filters(slot))) + (word > 0 ? " " + FilterStacks.Named(word) : "") + ";";
        }
        Assert.AreEqual(-1, stacks.SlotOf(stacks.Count));
        return said;
    }

    [TestMethod]
    public void TheStackUsedLastComesFirstAndNoStackComesTwice()
    {
        FilterKit kit = FilterKit.Starter();
        Assert.AreEqual("", Offered(kit));
        kit.Stacks.Used(0);
        Assert.AreEqual("", Offered(kit), "no filter is no stack");
        kit.Stacks.Used(Ten);
        kit.Stacks.Used(Ten | Hard);
        kit.Stacks.Used(Ten);
        Assert.AreEqual("ND 3.0;ND 3.0+GRAD 0.9H;", Offered(kit));
        kit.Stacks.Used(Ten);
        Assert.AreEqual("ND 3.0;ND 3.0+GRAD 0.9H;", Offered(kit));
        kit.Stacks.Used(Six);
        kit.Stacks.Used(Three);
        Assert.AreEqual("ND 0.9;ND 1.8;ND 3.0;ND 3.0+GRAD 0.9H;", Offered(kit));
        kit.Stacks.Used(Three | Six);
        Assert.AreEqual("ND 0.9+ND 1.8;ND 0.9;ND 1.8;ND 3.0;", Offered(kit), "four stacks are kept, and the oldest is forgotten");
        kit.Stacks.Used(Six);
        Assert.AreEqual("ND 1.8;ND 0.9+ND 1.8;ND 0.9;ND 3.0;", Offered(kit));
    }

    [TestMethod]
    public void UpToFourHaveANameAndNoTwoTheSame()
    {
        FilterKit kit = FilterKit.Starter();
        FilterStacks stacks = kit.Stacks;
        stacks.Rename(Ten, 1);
        Assert.AreEqual("ND 3.0 Streaks;", Offered(kit));
        stacks.Rename(Six, 1);
        Assert.AreEqual("ND 3.0 Streaks;ND 1.8 Milk;", Offered(kit), "it has the next name that is free");
        stacks.Rename(Ten, 1);
        Assert.AreEqual("ND 3.0 Dawn;ND 1.8 Milk;", Offered(kit));
        stacks.Rename(Three, -1);
        stacks.Rename(Hard, -1);
        Assert.AreEqual("ND 3.0 Dawn;ND 1.8 Milk;ND 0.9 Dusk;GRAD 0.9H Day;", Offered(kit));
        Assert.IsFalse(stacks.CanName(Ten | Hard));
        Assert.IsTrue(stacks.CanName(Ten));
        stacks.Rename(Ten | Hard, 1);
        Assert.AreEqual("ND 3.0 Dawn;ND 1.8 Milk;ND 0.9 Dusk;GRAD 0.9H Day;", Offered(kit), "a fifth stack gets no name");
        stacks.Rename(Three, 1);
        Assert.AreEqual("ND 3.0 Dawn;ND 1.8 Milk;GRAD 0.9H Day;", Offered(kit), "after the last name comes none");
        // A stack that was used and has a name is offered once.
        stacks.Used(Six);
        Assert.AreEqual("ND 1.8 Milk;ND 3.0 Dawn;GRAD 0.9H Day;", Offered(kit));
    }

    [TestMethod]
    public void AStackIsLostWhenAFilterOfItLeavesTheKit()
    {
        FilterKit kit = FilterKit.Starter();
        FilterStacks stacks = kit.Stacks;
        stacks.Used(Six | Hard);
        stacks.Used(Six);
        stacks.Used(Three | Hard);
        stacks.Rename(Six | Ten, 1);
        stacks.Rename(Three | Ten, 1);
        kit.Remove("ND 1.8");
        Assert.AreEqual("ND 0.9+GRAD 0.9H;lost;lost Streaks;ND 0.9+ND 3.0 Milk;", Offered(kit), "two filters without a name are shown as one");
        int slot = stacks.SlotOf(2);
        Assert.IsTrue(stacks.Lost(slot));
        Assert.AreEqual(0, stacks.Filters(slot));
        stacks.Forget(slot);
        Assert.AreEqual("ND 0.9+GRAD 0.9H;lost;ND 0.9+ND 3.0 Milk;", Offered(kit));
    }

    [TestMethod]
    public void AStackFollowsItsFiltersToOtherPlaces()
    {
        FilterKit kit = FilterKit.Starter();
        kit.Stacks.Used(Three | Hard);
        kit.Stacks.Used(1 << 12);
        kit.Stacks.Rename(Six | Ten, -1);
        kit.Move(0, 12);
        Assert.AreEqual("POL;GRAD 0.9H+ND 0.9;ND 1.8+ND 3.0 Dusk;", Offered(kit));
        kit.Move(12, 1);
        Assert.AreEqual("POL;ND 0.9+GRAD 0.9H;ND 1.8+ND 3.0 Dusk;", Offered(kit));
        kit.Remove("GRAD 1.2S");
        Assert.AreEqual("POL;ND 0.9+GRAD 0.9H;ND 1.8+ND 3.0 Dusk;", Offered(kit));
    }

    [TestMethod]
    public void AStackPutsOnItsFiltersAndTakesOffAllOthers()
    {
        FilterKit kit = FilterKit.Starter();
        kit[0].On = true;
        kit.PutOn(Ten | Hard);
        Assert.AreEqual(Ten | Hard, kit.FiltersOn);
        // A density of 3.0 over log10 2 (ISO 5-1); the grad counts nothing toward the foreground.
        Check.Near(9.965784, kit.StopsOf(Ten | Hard).Value, 1e-6, "stops");
        Assert.AreEqual("ND 3.0+GRAD 0.9H", kit.NamesOf(Ten | Hard));
        Assert.AreEqual("", kit.NamesOf(0));
    }

    [TestMethod]
    public void WhatIsKeptComesBackAndWhatMakesNoSenseDoesNot()
    {
        FilterKit kit = FilterKit.Starter();
        kit.Stacks.Used(1 << 12);
        kit.Stacks.Rename(Ten, 1);
        FilterKit other = FilterKit.Starter();
        for (int slot = 0; slot < FilterStacks.Slots; slot++) Assert.IsTrue(other.Stacks.TryPutBack(slot, kit.Stacks.Kept(slot), 13));
        Assert.AreEqual("POL;ND 3.0 Streaks;", Offered(other));
        Assert.IsFalse(other.Stacks.TryPutBack(0, kit.Stacks.Kept(0), 12), "a place that the kit does not have");
        Assert.IsFalse(other.Stacks.TryPutBack(0, Ten, 13), "filters without a name, nor the sign of having none");
        Assert.AreEqual("POL;ND 3.0 Streaks;", Offered(other), "nothing has changed");
    }
}

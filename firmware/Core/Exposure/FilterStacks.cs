namespace Intervalometer.Core.Exposure;

/// <summary>
/// The stacks of filters that were used last, newest first, and up to four that have a name. A stack refers to its filters by their places
/// in the kit, so the kit reports every change of place. A stack is lost when one of its filters leaves the kit. A lost stack can still
/// be shown and forgotten, but it cannot be put on the lens.
/// </summary>
/// <remarks>
/// A stack is one number. It holds one bit for each place of the kit, and above them its name, 1 to <see cref="Words"/>, or
/// <see cref="Unnamed"/>. A lost stack has no place bit left. The number 0 means that there is no stack.
/// </remarks>
public sealed class FilterStacks
{
    /// <summary>How many of the stacks used last are kept.</summary>
    public const int Recent = 4;

    /// <summary>The number of slots: those for the stacks used last, newest first, then four for stacks with a name.</summary>
    public const int Slots = Recent + 4;

    /// <summary>The number of names, which are numbered from 1.</summary>
    public const int Words = 6;

    private const int Unnamed = 7;
    private const int Places = (1 << FilterKit.Capacity) - 1;

    private readonly int[] _slots = new int[Slots];

    /// <summary>How many stacks can be offered: those used last, and those with a name that are not among them.</summary>
    public int Count
    {
        get
        {
            int count = 0;
            for (int slot = 0; slot < Slots; slot++)
            {
                if (Offered(slot)) count++;
            }
            return count;
        }
    }

    /// <summary>The number of a slot that the memory stores, 0 to 65535; 0 for an empty slot.</summary>
    public int Kept(int slot) => _slots[slot];

    /// <summary>Restores a slot from its stored number. Returns false and changes nothing when the number refers to places that the kit lacks.</summary>
    /// <param name="slot">The slot.</param>
    /// <param name="kept">The number that <see cref="Kept"/> gave.</param>
    /// <param name="filters">How many filters the kit has.</param>
    public bool TryPutBack(int slot, int kept, int filters)
    {
        bool sound = kept == 0 || (kept > Places && (kept & Places) >> filters == 0);
        if (sound) _slots[slot] = kept;
        return sound;
    }

    /// <summary>The slot of an offered stack, counted from 0; -1 when fewer stacks are offered.</summary>
    public int SlotOf(int offered)
    {
        for (int slot = 0; slot < Slots; slot++)
        {
            if (Offered(slot) && offered-- == 0) return slot;
        }
        return -1;
    }

    /// <summary>The filters of a slot, one bit for each place of the kit; 0 when the slot is empty or its stack is lost.</summary>
    public int Filters(int slot) => _slots[slot] & Places;

    /// <summary>True when a filter of the stack has left the kit.</summary>
    public bool Lost(int slot) => _slots[slot] != 0 && Filters(slot) == 0;

    /// <summary>The name of the stack of these filters, 1 to <see cref="Words"/>; 0 when it has none.</summary>
    /// <param name="filters">One bit for each place of the kit.</param>
    public int WordOf(int filters)
    {
        int slot = SlotNamed(filters);
        return slot < 0 ? 0 : Word(slot);
    }

    /// <summary>The name stored in the slot itself, whether its stack is lost or not; 0 when it has none.</summary>
    public int Word(int slot)
    {
        int word = _slots[slot] >> FilterKit.Capacity;
        return word == Unnamed ? 0 : word;
    }

    /// <summary>The text of a name; empty for 0.</summary>
    public static string Named(int word) => word switch
    {
        1 => "Streaks",
        2 => "Milk",
        3 => "Dawn",
        4 => "Sunrise",
        5 => "Day",
        6 => "Dusk",
        _ => "",
    };

    /// <summary>Notes that these filters were on the lens for a run, which makes them the stack used last. Does nothing when there is no filter.</summary>
    /// <param name="filters">One bit for each place of the kit.</param>
    public void Used(int filters)
    {
        int stack = filters | (Unnamed << FilterKit.Capacity);
        if (filters == 0) return;
        // If the stack was listed already, those before it move down one slot each. If not, all move down and the oldest is forgotten.
        int at = 0;
        while (at < Recent - 1 && _slots[at] != stack) at++;
        for (; at > 0; at--) _slots[at] = _slots[at - 1];
        _slots[0] = stack;
    }

    /// <summary>True when these filters have a name, or when fewer than four stacks have one so that they could get one.</summary>
    /// <param name="filters">One bit for each place of the kit; at least one is set.</param>
    public bool CanName(int filters) => SlotNamed(filters) >= 0 || FreeSlot() >= 0;

    /// <summary>Goes on to the next name that no other stack has, or to no name after the last. Changes nothing when <see cref="CanName"/> is false.</summary>
    /// <param name="filters">One bit for each place of the kit; at least one is set.</param>
    /// <param name="direction">+1 for the next name, -1 for the one before.</param>
    public void Rename(int filters, int direction)
    {
        int slot = SlotNamed(filters);
        if (slot < 0) slot = FreeSlot();
        if (slot < 0) return;
        int word = Word(slot);
        do
        {
            word += direction;
            word = word < 0 ? Words : word > Words ? 0 : word;
        }
        while (word != 0 && Taken(word, slot));
        _slots[slot] = word == 0 ? 0 : filters | (word << FilterKit.Capacity);
    }

    /// <summary>Empties a slot.</summary>
    public void Forget(int slot) => _slots[slot] = 0;

    /// <summary>Adjusts the stacks after a filter has left the kit and those behind it have moved up by one place.</summary>
    public void Removed(int place)
    {
        int below = (1 << place) - 1;
        for (int slot = 0; slot < Slots; slot++)
        {
            int filters = Filters(slot);
            int name = _slots[slot] - filters;
            bool had = (filters >> place & 1) != 0;
            _slots[slot] = name + (had ? 0 : (filters & below) | (filters >> 1 & ~below));
            // All lost stacks without a name look the same, so only one of them is kept.
            for (int other = 0; other < slot && slot < Recent; other++)
            {
                if (Lost(slot) && _slots[other] == _slots[slot]) _slots[slot] = 0;
            }
        }
    }

    /// <summary>Adjusts the stacks after a filter has moved to another place and those in between have shifted.</summary>
    public void Moved(int from, int to)
    {
        int step = from < to ? 1 : -1;
        for (int slot = 0; slot < Slots; slot++)
        {
            int stack = _slots[slot];
            int moved = stack >> from & 1;
            for (int place = from; place != to; place += step) stack = With(stack, place, stack >> (place + step) & 1);
            _slots[slot] = With(stack, to, moved);
        }
    }

    private static int With(int stack, int place, int bit) => (stack & ~(1 << place)) | (bit << place);

    private bool Offered(int slot) => _slots[slot] != 0 && (slot < Recent || Lost(slot) || !UsedLately(Filters(slot)));

    private bool UsedLately(int filters)
    {
        for (int slot = 0; slot < Recent; slot++)
        {
            if (Filters(slot) == filters) return true;
        }
        return false;
    }

    private int SlotNamed(int filters)
    {
        for (int slot = Recent; slot < Slots; slot++)
        {
            if (filters != 0 && Filters(slot) == filters) return slot;
        }
        return -1;
    }

    private int FreeSlot()
    {
        for (int slot = Recent; slot < Slots; slot++)
        {
            if (_slots[slot] == 0) return slot;
        }
        return -1;
    }

    private bool Taken(int word, int slot)
    {
        for (int other = Recent; other < Slots; other++)
        {
            if (other != slot && Word(other) == word) return true;
        }
        return false;
    }
}

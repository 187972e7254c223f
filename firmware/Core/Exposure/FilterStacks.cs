namespace Intervalometer.Core.Exposure;

/// <summary>
/// The stacks of filters that were used last, newest first, and up to four that have a name. A stack knows its filters by their places
/// in the kit, so the kit says when a place changes. A stack is lost when one of its filters leaves the kit: it can be told of and
/// forgotten, and it puts nothing on.
/// </summary>
/// <remarks>
/// A stack is one number: a bit for each place of the kit, and above them its name, 1 to <see cref="Words"/>, or <see cref="Unnamed"/>.
/// A lost one has no bit left, and 0 is no stack.
/// </remarks>
public sealed class FilterStacks
{
    /// <summary>Stacks used last that are kept.</summary>
    public const int Recent = 4;

    /// <summary>Slots: those used last, newest first, then four that have a name.</summary>
    public const int Slots = Recent + 4;

    /// <summary>Names that there are, numbered from 1.</summary>
    public const int Words = 6;

    private const int Unnamed = 7;
    private const int Places = (1 << FilterKit.Capacity) - 1;

    private readonly int[] _slots = new int[Slots];

    /// <summary>Stacks that can be offered: those used last, and those with a name that are not among them.</summary>
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

    /// <summary>A slot as it is kept in the memory, 0 to 65535; 0 is an empty one.</summary>
    public int Kept(int slot) => _slots[slot];

    /// <summary>Puts a slot back as it was kept. False, with nothing changed, when the kit has no such places.</summary>
    /// <param name="slot">Which.</param>
    /// <param name="kept">What <see cref="Kept"/> gave.</param>
    /// <param name="filters">How many filters the kit has.</param>
    public bool TryPutBack(int slot, int kept, int filters)
    {
        bool sound = kept == 0 || (kept > Places && (kept & Places) >> filters == 0);
        if (sound) _slots[slot] = kept;
        return sound;
    }

    /// <summary>The slot of a stack that is offered, from 0; -1 when there are not so many.</summary>
    public int SlotOf(int offered)
    {
        for (int slot = 0; slot < Slots; slot++)
        {
            if (Offered(slot) && offered-- == 0) return slot;
        }
        return -1;
    }

    /// <summary>The filters of a slot, a bit for each place of the kit; 0 when the stack is lost or there is none.</summary>
    public int Filters(int slot) => _slots[slot] & Places;

    /// <summary>True when a filter of the stack has left the kit.</summary>
    public bool Lost(int slot) => _slots[slot] != 0 && Filters(slot) == 0;

    /// <summary>The name of the filters of a stack, 1 to <see cref="Words"/>; 0 for none.</summary>
    /// <param name="filters">A bit for each place of the kit.</param>
    public int WordOf(int filters)
    {
        int slot = SlotNamed(filters);
        return slot < 0 ? 0 : Word(slot);
    }

    /// <summary>The name that a slot has itself, lost or not; 0 for none.</summary>
    public int Word(int slot)
    {
        int word = _slots[slot] >> FilterKit.Capacity;
        return word == Unnamed ? 0 : word;
    }

    /// <summary>A name in plain words; empty for 0.</summary>
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

    /// <summary>These filters were on the lens for a run: they are the stack that was used last. No filter is no stack.</summary>
    /// <param name="filters">A bit for each place of the kit.</param>
    public void Used(int filters)
    {
        int stack = filters | (Unnamed << FilterKit.Capacity);
        if (filters == 0) return;
        // Those before it move on by one, as far as the place where it stood, or the oldest is forgotten.
        int at = 0;
        while (at < Recent - 1 && _slots[at] != stack) at++;
        for (; at > 0; at--) _slots[at] = _slots[at - 1];
        _slots[0] = stack;
    }

    /// <summary>True when these filters have a name, or could get one: four stacks have one at the most.</summary>
    /// <param name="filters">A bit for each place of the kit, at least one.</param>
    public bool CanName(int filters) => SlotNamed(filters) >= 0 || FreeSlot() >= 0;

    /// <summary>Turns to the next name that no other stack has, or to none after the last. Nothing changes when <see cref="CanName"/> says no.</summary>
    /// <param name="filters">A bit for each place of the kit, at least one.</param>
    /// <param name="direction">+1 or -1.</param>
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

    /// <summary>A filter has left the kit, and those behind it moved up by one place.</summary>
    public void Removed(int place)
    {
        int below = (1 << place) - 1;
        for (int slot = 0; slot < Slots; slot++)
        {
            int filters = Filters(slot);
            int name = _slots[slot] - filters;
            bool had = (filters >> place & 1) != 0;
            _slots[slot] = name + (had ? 0 : (filters & below) | (filters >> 1 & ~below));
            // Of the lost ones without a name one is told.
            for (int other = 0; other < slot && slot < Recent; other++)
            {
                if (Lost(slot) && _slots[other] == _slots[slot]) _slots[slot] = 0;
            }
        }
    }

    /// <summary>A filter went to another place, and those between closed up.</summary>
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

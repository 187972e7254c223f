using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The stacks of filters that were used last, newest first, and those with a name. It shows one at a time, and one press puts that one on the lens.</summary>
public sealed class StacksCard : Card
{
    // More names than this never fit into a small line.
    private const int MostNames = 6;

    // How many columns a plus between two names takes in the medium font, with its gaps.
    private const int PlusColumns = 10;

    // The two rows for the names of filters.
    private const int NamesY = 26;
    private const int MoreNamesY = 40;

    private readonly BoxSettings _settings;
    private int _at;

    // The filters of the stack that is being named. They are stored here because the stack itself may vanish while its name changes.
    private int _naming;

    /// <summary>Creates the card.</summary>
    public StacksCard(BoxSettings settings)
    {
        _settings = settings;
    }

    /// <inheritdoc/>
    public override string Name => Stacks.Count == 0 ? "STACKS" : "STACKS " + (_at + 1).ToString() + "/" + Stacks.Count.ToString();

    private FilterStacks Stacks => _settings.Kit.Stacks;

    // The slot of the stack that is shown; -1 when there is none.
    private int Slot => Stacks.SlotOf(_at);

    /// <summary>Shows the stack that was used last.</summary>
    public void Open() => _at = 0;

    /// <summary>Goes to another stack; Up goes towards the one used last.</summary>
    public void Step(int direction)
    {
        int next = _at - direction;
        if (next >= 0 && next < Stacks.Count) _at = next;
    }

    /// <summary>Puts the stack on the lens and takes all other filters off. Returns false and changes nothing when there is no stack, or when one of its filters has left the kit.</summary>
    public bool TryPutOn()
    {
        int filters = Slot < 0 ? 0 : Stacks.Filters(Slot);
        if (filters == 0) return false;
        _settings.Kit.PutOn(filters);
        _settings.Solve();
        return true;
    }

    /// <summary>Begins to name the stack that is shown. A lost stack is forgotten instead. Returns true when naming has begun.</summary>
    public bool TryName()
    {
        if (Slot < 0) return false;
        _naming = Stacks.Filters(Slot);
        if (_naming != 0) return true;
        Stacks.Forget(Slot);
        if (_at > 0) _at--;
        return false;
    }

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        if (!fields.Is("Keep it as")) return;
        if (!fields.Changes)
        {
            int word = Stacks.WordOf(_naming);
            bool room = Stacks.CanName(_naming);
            fields.Value = word > 0 ? FilterStacks.Named(word) : room ? "not kept" : "no room";
            fields.Note = !room ? "Four stacks have a name: let one go first." : Told(_naming);
            return;
        }
        Stacks.Rename(_naming, fields.Direction);
        // The list has grown or shrunk. The same stack stays selected, or otherwise the last one.
        int count = Stacks.Count;
        if (_at >= count) _at = count > 0 ? count - 1 : 0;
        for (int i = 0; i < count; i++)
        {
            if (Stacks.Filters(Stacks.SlotOf(i)) == _naming) _at = i;
        }
    }

    private string Told(int filters)
    {
        string count = CountOf(filters).ToString() + " filters";
        return CountOf(filters) > MostNames ? count : CardPainter.Shorter(_settings.Kit.NamesOf(filters), count);
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        int slot = Slot;
        if (slot < 0)
        {
            frame.Text(LeftX, NothingY, "No stack yet", Font.Medium);
            CardPainter.Paragraph(frame, ReasonY, Reason2Y, "What is on the lens when you fire stands here.");
            return;
        }
        int filters = Stacks.Filters(slot);
        int word = filters == 0 ? Stacks.Word(slot) : Stacks.WordOf(filters);
        frame.Text(LeftX, Line1Y, word > 0 ? FilterStacks.Named(word) : slot == 0 ? "Used last" : "Earlier", Font.Medium);
        if (filters == 0)
        {
            frame.Text(LeftX, NamesY, "A filter of it", Font.Medium);
            frame.Text(LeftX, MoreNamesY, "left the kit", Font.Medium);
            frame.Text(LeftX, HintY, "Hold Select: forget it", Font.Small);
            return;
        }
        frame.TextRight(RightX, Line1Y + SmallDrop, ExposureText.StopsOf(_settings.Kit.StopsOf(filters)) + " st", Font.Small);
        int rest = DrawLine(frame, filters, NamesY);
        if (Fits(rest)) DrawLine(frame, rest, MoreNamesY);
        else
        {
            frame.Line.Clear().Add("and ").AddNumber(CountOf(rest)).Add(" more");
            frame.Text(LeftX, MoreNamesY, frame.Line, Font.Medium);
        }
        frame.Text(LeftX, HintY, "Select: put on  Held: name", Font.Small);
    }

    // Draws the names of the first filters, as many as fit into a line. Returns the filters that are left.
    private int DrawLine(Frame frame, int filters, int y)
    {
        Font font = Font.Medium;
        int x = 0;
        for (int i = 0; filters != 0; i++)
        {
            if ((filters >> i & 1) == 0) continue;
            string name = _settings.Kit[i].Name;
            if (x > 0) name = "+" + name;
            if (x + font.WidthOf(name) > Frame.Width) break;
            x = frame.Text(x, y, name, font) + font.Gap;
            filters &= ~(1 << i);
        }
        return filters;
    }

    private bool Fits(int filters)
    {
        int width = 0;
        for (int i = 0; filters >> i != 0 && width <= Frame.Width; i++)
        {
            if ((filters >> i & 1) != 0) width += Font.Medium.WidthOf(_settings.Kit[i].Name) + PlusColumns;
        }
        return width <= Frame.Width + PlusColumns;
    }

    private static int CountOf(int filters)
    {
        int count = 0;
        for (; filters != 0; filters &= filters - 1) count++;
        return count;
    }
}

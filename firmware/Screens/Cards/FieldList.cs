namespace Intervalometer.Screens.Cards;

/// <summary>
/// Goes through the fields of a card. The card states each of its fields once, in one place: its name, its value, a note, and what Up
/// and Down do to it. The number of fields and the place of each follow from that.
/// </summary>
/// <example>
/// <code>
/// public override void Fields(FieldList fields)
/// {
///     if (fields.Is("Gap between")) plan.GapMs = fields.Number(plan.GapMs, 100, 0, 5000, " ms");
///     if (fields.Is("Dark frame")) plan.DarkFrame = fields.Switch(plan.DarkFrame);
/// }
/// </code>
/// </example>
/// <remarks>One list serves all cards. What it says about a field holds until the next question.</remarks>
public sealed class FieldList
{
    /// <summary>Stands for no field, which is the card's overview.</summary>
    public const int None = -1;

    /// <summary>Stands for no earlier value, so that the field cannot be put back.</summary>
    public const int Nothing = int.MinValue;

    private int _asked = None;
    private int _passed;
    private int _back = Nothing;

    /// <summary>The name of the field that was asked for.</summary>
    public string Label { get; set; } = "";

    /// <summary>Its value as text.</summary>
    public string Value { get; set; } = "";

    /// <summary>One line about the present value, or an empty string.</summary>
    public string Note { get; set; } = "";

    /// <summary>True for a field that is changed on the overview itself, such as a place in a list.</summary>
    public bool OnOverview { get; set; }

    /// <summary>True for a field that must not change by a slip: its first press only asks.</summary>
    public bool AskTwice { get; set; }

    /// <summary>After a change, the number that the field held before it; <see cref="Nothing"/> when the field holds no number.</summary>
    public int Before { get; set; } = Nothing;

    /// <summary>True when the change puts the field back to an earlier number.</summary>
    public bool PutsBack => _back != Nothing;

    /// <summary>The number to which the field is put back.</summary>
    public int Back => _back;

    /// <summary>How many fields the card that was asked last has.</summary>
    public int Count => _passed;

    /// <summary>+1 for Up, -1 for Down, 0 when the field is only to be shown.</summary>
    public int Direction { get; private set; }

    /// <summary>True when the field is to be changed.</summary>
    public bool Changes => Direction != 0;

    /// <summary>How many times the held button has repeated; 0 for a fresh press.</summary>
    public int Repeats { get; private set; }

    /// <summary>Which field of a group of similar ones was asked for, from 0; see <see cref="IsAmong"/>.</summary>
    public int Part { get; private set; }

    /// <summary>A factor for steps that grows while a button is held: 1, then 5, then 25.</summary>
    public int Stride => Repeats < 10 ? 1 : Repeats < 25 ? 5 : 25;

    /// <summary>How many fields a card has at present.</summary>
    public int CountOf(Card card)
    {
        Put(card, None, 0, 0, Nothing);
        return _passed;
    }

    /// <summary>Asks a card for a field. For one that the card does not have, the label stays empty.</summary>
    public void Ask(Card card, int field) => Put(card, field, 0, 0, Nothing);

    /// <summary>Changes a field of a card. To show the new value, ask for the field again.</summary>
    /// <param name="card">The card.</param>
    /// <param name="field">The number of the field.</param>
    /// <param name="direction">+1 for Up, -1 for Down.</param>
    /// <param name="repeats">How many times the held button has repeated; 0 for a fresh press.</param>
    public void Change(Card card, int field, int direction, int repeats) => Put(card, field, direction, repeats, Nothing);

    /// <summary>Puts a field of a card back to a number that it held before.</summary>
    /// <param name="card">The card.</param>
    /// <param name="field">The number of the field.</param>
    /// <param name="value">The number that <see cref="Before"/> held when the field was changed.</param>
    public void PutBack(Card card, int field, int value) => Put(card, field, 1, 0, value);

    /// <summary>States the next field of the card. Returns true when it is the one that was asked for.</summary>
    public bool Is(string label)
    {
        bool asked = _passed == _asked;
        _passed++;
        if (asked) Label = label;
        return asked;
    }

    /// <summary>States a group of similar fields. Returns true when one of them was asked for; <see cref="Part"/> says which, and the card sets its label.</summary>
    public bool IsAmong(int count)
    {
        int part = _asked - _passed;
        _passed += count;
        if (part < 0 || part >= count) return false;
        Part = part;
        return true;
    }

    /// <summary>Handles a whole number with its unit. Returns the number, changed when it is to be changed.</summary>
    /// <param name="value">The present number.</param>
    /// <param name="step">By how much a press changes it; the result is a whole multiple of it.</param>
    /// <param name="low">The least.</param>
    /// <param name="high">The most.</param>
    /// <param name="unit">The unit behind the number, with its space.</param>
    public int Number(int value, int step, int low, int high, string unit)
    {
        value = Moved(value, step, low, high);
        if (!Changes) Value = value.ToString() + unit;
        return value;
    }

    /// <summary>Handles a time in milliseconds that is shown in seconds. Returns the time, changed when it is to be changed.</summary>
    public int Seconds(int milliseconds, int step, int low, int high)
    {
        milliseconds = Moved(milliseconds, step, low, high);
        if (!Changes) Value = Card.SecondsText(milliseconds);
        return milliseconds;
    }

    /// <summary>Handles a switch. Returns its state, changed when it is to be changed.</summary>
    public bool Switch(bool on)
    {
        if (Changes) on = !on;
        Value = Card.OnOff(on);
        return on;
    }

    /// <summary>Moves a value by a step to a whole multiple of the step within its range. Returns the value itself when nothing is to be changed.</summary>
    public int Moved(int value, int step, int low, int high)
    {
        if (!Changes) return value;
        if (PutsBack) return _back;
        Before = value;
        int moved = value + Direction * step;
        // divisor: a step is at least 1.
        if (step > 1) moved = (Direction > 0 ? moved : moved + step - 1) / step * step;
        return moved < low ? low : moved > high ? high : moved;
    }

    // Every question sets all of this anew, because the card may have thrown an exception at the question before.
    private void Put(Card card, int field, int direction, int repeats, int back)
    {
        _back = back;
        _asked = field;
        _passed = 0;
        Direction = direction;
        Repeats = repeats;
        Label = "";
        Value = "";
        Note = "";
        OnOverview = false;
        AskTwice = false;
        Before = Nothing;
        card.Fields(this);
    }
}

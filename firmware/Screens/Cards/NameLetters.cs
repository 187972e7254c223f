namespace Intervalometer.Screens.Cards;

/// <summary>A name that is typed letter by letter, each a field of its own.</summary>
internal static class NameLetters
{
    /// <summary>The letters that a name may have, in the order in which Up goes through them, round and round.</summary>
    internal const string All = " ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.+-/";

    /// <summary>Tells the letter of a name that was asked for.</summary>
    internal static void Tell(FieldList fields, string name)
    {
        int at = fields.Part;
        fields.Label = "Name, letter " + (at + 1).ToString();
        fields.Value = at < name.Length && name[at] != ' ' ? name.Substring(at, 1) : "space";
        fields.Note = "now: " + name;
    }

    /// <summary>The name with one of its letters moved on; spaces at its end are left away.</summary>
    /// <param name="name">The name; shorter than the letter's place when nothing stands there yet.</param>
    /// <param name="at">Which letter.</param>
    /// <param name="by">How many letters further, at most as many as there are.</param>
    internal static string Moved(string name, int at, int by)
    {
        while (name.Length <= at) name += " ";
        int letter = All.IndexOf(name[at]);
        // Where a letter stands that cannot be typed, Up begins with the first and Down with the last.
        if (letter < 0 && by < 0) letter = 0;
        letter += by;
        if (letter < 0) letter += All.Length;
        if (letter >= All.Length) letter -= All.Length;
        return (name.Substring(0, at) + All.Substring(letter, 1) + name.Substring(at + 1)).TrimEnd(' ');
    }
}

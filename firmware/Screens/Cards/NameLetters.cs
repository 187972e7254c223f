namespace Intervalometer.Screens.Cards;

/// <summary>Helps to type a name letter by letter, with one field for each letter.</summary>
internal static class NameLetters
{
    /// <summary>The letters that a name may have, in the order in which Up goes through them. After the last comes the first.</summary>
    internal const string All = " ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.+-/";

    /// <summary>Fills in the field for the letter of a name that was asked for.</summary>
    internal static void Tell(FieldList fields, string name)
    {
        int at = fields.Part;
        fields.Label = "Name, letter " + (at + 1).ToString();
        fields.Value = at < name.Length && name[at] != ' ' ? name.Substring(at, 1) : "space";
        fields.Note = "now: " + name;
    }

    /// <summary>The name with one of its letters changed, without spaces at its end.</summary>
    /// <param name="name">The name, which may be shorter than the letter's place.</param>
    /// <param name="at">The place of the letter.</param>
    /// <param name="by">How many letters to go on, at most as many as there are.</param>
    internal static string Moved(string name, int at, int by)
    {
        while (name.Length <= at) name += " ";
        int letter = All.IndexOf(name[at]);
        // From a letter that cannot be typed, Up goes to the first letter and Down to the last.
        if (letter < 0 && by < 0) letter = 0;
        letter += by;
        if (letter < 0) letter += All.Length;
        if (letter >= All.Length) letter -= All.Length;
        return (name.Substring(0, at) + All.Substring(letter, 1) + name.Substring(at + 1)).TrimEnd(' ');
    }
}

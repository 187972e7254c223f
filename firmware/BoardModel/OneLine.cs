namespace Intervalometer.VirtualBoard;

/// <summary>Keeps an error message on one line, whatever it quotes.</summary>
public static class OneLine
{
    /// <summary>The message about a file that cannot be read, with what to do.</summary>
    public static string CannotRead(string path, Exception why) => $"{path}: cannot be read ({why.Message.Split(". ")[0].TrimEnd('.')}); check the name";

    /// <summary>The message about a file or folder that cannot be written, with what to do.</summary>
    public static string CannotWrite(string path, Exception why)
    {
        string reason = Directory.Exists(path) ? "that is a folder"
            : File.Exists(path) ? "that is a file"
            : why is UnauthorizedAccessException or FileNotFoundException or DirectoryNotFoundException ? "its folder takes no new file"
            : why.Message.Split(". ")[0].TrimEnd('.');
        return $"{path}: cannot be written ({reason}); choose another name";
    }

    /// <summary>The text, with a question mark in place of every control character.</summary>
    public static string Of(string text) => string.Create(text.Length, text, static (into, from) =>
    {
        for (int i = 0; i < from.Length; i++) into[i] = char.IsControl(from[i]) || from[i] is '\u2028' or '\u2029' ? '?' : from[i];
    });
}

namespace Intervalometer.VirtualBoard;

/// <summary>
/// Reads a whole file that the user named, but only when it is a plain file of a sensible length. A device gives bytes without
/// end and a pipe may give none, so neither is opened.
/// </summary>
public static class InputFile
{
    /// <summary>Reads the file.</summary>
    /// <param name="path">Its name.</param>
    /// <param name="most">The most bytes that such a file may have.</param>
    /// <exception cref="IOException">It cannot be read, or is not such a file. The message says why, in one line without a full stop at its end.</exception>
    public static byte[] Read(string path, long most)
    {
        if (path.Contains('\0')) throw new IOException("the name holds a character that no file name can");
        try
        {
            // Of a link, the length of the file that it leads to.
            var named = new FileInfo(path);
            if (Directory.Exists(path)) throw new IOException("that is a folder");
            if (!named.Exists) throw new IOException("there is no such file");
            var file = new FileInfo((named.ResolveLinkTarget(true) ?? named).FullName);
            // Pipes and devices report a length of 0.
            if (file.Length == 0) throw new IOException("it is empty, or not a plain file");
            if (file.Length > most) throw new IOException($"it has {file.Length} bytes, and such a file may have {most} at most");
            return File.ReadAllBytes(path);
        }
        catch (Exception e) when (e is UnauthorizedAccessException or ArgumentException or NotSupportedException or System.Security.SecurityException)
        {
            throw new IOException(e.Message.Split(". ")[0].TrimEnd('.'), e);
        }
    }

    /// <summary>A file that a scenario names: it must lie in the scenario's folder, or below it.</summary>
    /// <exception cref="IOException">It lies elsewhere.</exception>
    public static string Beside(string folder, string name)
    {
        bool inside = !Path.IsPathRooted(name) && !name.Split('/', '\\').Contains("..");
        return inside ? Path.Combine(folder, name) : throw new IOException($"\"{name}\" lies outside the scenario's folder");
    }
}

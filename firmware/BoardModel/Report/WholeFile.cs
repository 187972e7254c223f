namespace Intervalometer.VirtualBoard.Report;

/// <summary>A file that appears whole or not at all. Its folder is made when it does not exist. Throws <see cref="IOException"/> with a line for the user when it cannot be written.</summary>
public static class WholeFile
{
    /// <summary>Writes bytes.</summary>
    public static void Write(string path, byte[] content) => Place(path, part => File.WriteAllBytes(part, content));

    /// <summary>Writes text as UTF-8.</summary>
    public static void Write(string path, Action<TextWriter> write) => Place(path, part =>
    {
        using var to = new StreamWriter(part);
        write(to);
    });

    private static void Place(string path, Action<string> write)
    {
        string whole = Path.GetFullPath(path);
        try
        {
            if (Directory.Exists(whole)) throw new IOException("that is a folder");
            Directory.CreateDirectory(Path.GetDirectoryName(whole)!);
            string part = whole + ".part";
            write(part);
            File.Move(part, whole, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new IOException(OneLine.CannotWrite(path, e), e);
        }
    }
}

namespace Intervalometer.VirtualBoard.Report;

/// <summary>A folder that appears whole or not at all: files are written beside it and moved into place at the end.</summary>
public sealed class OutputFolder : IDisposable
{
    private readonly string _target;
    private readonly string _work;
    private bool _done;

    /// <summary>Begins a folder. Throws <see cref="IOException"/> when it already holds something.</summary>
    public OutputFolder(string path)
    {
        _target = Path.GetFullPath(path);
        if (File.Exists(_target)) throw new IOException($"{path}: is a file; name a folder that does not exist yet");
        if (Directory.Exists(_target) && Directory.EnumerateFileSystemEntries(_target).Any())
            throw new IOException($"{path}: is not empty; name a new folder or empty this one");
        string parent = Path.GetDirectoryName(_target) ?? _target;
        Directory.CreateDirectory(parent);
        _work = Path.Combine(parent, "." + Path.GetFileName(_target) + "." + Environment.ProcessId + ".part");
        Directory.CreateDirectory(_work);
    }

    /// <summary>Writes a text file as UTF-8 with bare line feeds as given.</summary>
    public void Text(string name, string content) => File.WriteAllText(Path.Combine(_work, name), content);

    /// <summary>Writes a binary file.</summary>
    public void Bytes(string name, byte[] content) => File.WriteAllBytes(Path.Combine(_work, name), content);

    /// <summary>Moves the folder into place.</summary>
    public void Finish()
    {
        if (Directory.Exists(_target)) Directory.Delete(_target);
        Directory.Move(_work, _target);
        _done = true;
    }

    /// <summary>Removes what was not finished.</summary>
    public void Dispose()
    {
        if (!_done && Directory.Exists(_work)) Directory.Delete(_work, recursive: true);
    }
}

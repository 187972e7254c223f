namespace Intervalometer.VirtualBoard.Memory;

/// <summary>A file that is not an image of the memory. The message is one line.</summary>
public sealed class MemoryImageException(string message) : Exception(message);

/// <summary>The memory's cells as a file: 4096 bytes, nothing else, as a programmer for such chips reads and writes them.</summary>
public static class MemoryImage
{
    // Larger than any memory chip of this kind, so that a file which is only a little too long is refused with its length.
    private const long MostBytes = 1_000_000;

    /// <summary>Reads an image.</summary>
    public static byte[] Load(string path)
    {
        byte[] cells;
        try
        {
            cells = InputFile.Read(path, MostBytes);
        }
        catch (IOException e)
        {
            throw new MemoryImageException(OneLine.CannotRead(path, e));
        }
        if (cells.Length != At24c32Model.Size)
            throw new MemoryImageException($"{path}: holds {cells.Length} bytes, and the memory {At24c32Model.Size}; read the whole chip out");
        return cells;
    }
}

using System.Buffers.Binary;
using System.Text;
using Intervalometer.Settings.Store;

namespace Intervalometer.VirtualBoard.Report;

/// <summary>
/// Joins pictures of one size to an animated PNG (W3C, PNG Specification, Third Edition, clauses 5 and 11.3.6): the first picture is the one that a
/// reader without animation shows, and the chunks of the others follow as frame data.
/// </summary>
public static class AnimatedPng
{
    private const int SignatureBytes = 8;
    private const int NumbersOfChunk = 12;

    /// <summary>The animation, repeated without end.</summary>
    /// <param name="pictures">PNG files, all of one size and kind.</param>
    /// <param name="frameMs">How long each is shown, ms.</param>
    public static byte[] Join(IReadOnlyList<byte[]> pictures, int frameMs)
    {
        var file = new MemoryStream();
        byte[] first = pictures[0];
        file.Write(first, 0, SignatureBytes);
        byte[] header = Chunks(first).First(c => c.Kind == "IHDR").Data;
        Put(file, "IHDR", header);
        var control = new byte[8];
        BinaryPrimitives.WriteInt32BigEndian(control, pictures.Count);
        Put(file, "acTL", control);
        int number = 0;
        for (int i = 0; i < pictures.Count; i++)
        {
            Put(file, "fcTL", Frame(header, number++, frameMs));
            foreach (byte[] data in Chunks(pictures[i]).Where(c => c.Kind == "IDAT").Select(c => c.Data))
            {
                if (i == 0)
                {
                    Put(file, "IDAT", data);
                    continue;
                }
                var numbered = new byte[data.Length + sizeof(int)];
                BinaryPrimitives.WriteInt32BigEndian(numbered, number++);
                data.CopyTo(numbered, sizeof(int));
                Put(file, "fdAT", numbered);
            }
        }
        Put(file, "IEND", []);
        return file.ToArray();
    }

    /// <summary>The chunks of a PNG file in their order.</summary>
    public static IEnumerable<(string Kind, byte[] Data)> Chunks(byte[] file)
    {
        for (int at = SignatureBytes; at + NumbersOfChunk <= file.Length;)
        {
            int length = BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(at));
            yield return (Encoding.ASCII.GetString(file, at + 4, 4), file[(at + 8)..(at + 8 + length)]);
            at += NumbersOfChunk + length;
        }
    }

    // Number, size, place 0 0, time as a fraction of a second, and that it replaces what was there.
    private static byte[] Frame(byte[] header, int number, int frameMs)
    {
        var control = new byte[26];
        BinaryPrimitives.WriteInt32BigEndian(control, number);
        header.AsSpan(0, 8).CopyTo(control.AsSpan(4));
        BinaryPrimitives.WriteInt16BigEndian(control.AsSpan(20), (short)frameMs);
        BinaryPrimitives.WriteInt16BigEndian(control.AsSpan(22), 1000);
        return control;
    }

    private static void Put(MemoryStream file, string kind, byte[] data)
    {
        byte[] body = [.. Encoding.ASCII.GetBytes(kind), .. data];
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, data.Length);
        file.Write(number);
        file.Write(body);
        BinaryPrimitives.WriteUInt32BigEndian(number, (uint)Crc.Of32(body, 0, body.Length));
        file.Write(number);
    }
}

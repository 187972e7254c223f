using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.Tests.Fuzz;

/// <summary>Makes a new input out of old ones, the same way for the same seed.</summary>
internal sealed class Mutator(Dice dice, byte[][] words, int longest)
{
    private static readonly byte[] Telling = [0, 1, 2, 9, 10, 13, 31, 32, 48, 57, 58, 59, 96, 99, 126, 127, 128, 254, 255];

    /// <summary>One to eight changes of an input, some of them with parts of another.</summary>
    public byte[] Change(byte[] input, byte[] other)
    {
        var bytes = new List<byte>(input);
        int changes = 1 << (int)dice.Whole(0, 3);
        for (int i = 0; i < changes; i++) Once(bytes, other);
        if (bytes.Count > longest) bytes.RemoveRange(longest, bytes.Count - longest);
        return [.. bytes];
    }

    private void Once(List<byte> bytes, byte[] other)
    {
        int at = Place(bytes.Count);
        switch (dice.Whole(0, 11))
        {
            case 0 when bytes.Count > 0:
                bytes[at] ^= (byte)(1 << (int)dice.Whole(0, 7));
                break;
            case 1 when bytes.Count > 0:
                bytes[at] = (byte)dice.Whole(0, 255);
                break;
            case 2 when bytes.Count > 0:
                bytes[at] = Telling[dice.Whole(0, Telling.Length - 1)];
                break;
            case 3 when bytes.Count > 0:
                bytes[at] += (byte)dice.Whole(-9, 9);
                break;
            case 4 when bytes.Count > 0:
                bytes.RemoveRange(at, (int)Math.Min(bytes.Count - at, dice.Whole(1, 24)));
                break;
            case 5 when bytes.Count > 0:
                bytes.InsertRange(at, bytes.GetRange(at, (int)Math.Min(bytes.Count - at, dice.Whole(1, 48))));
                break;
            case 6 when bytes.Count > 0 && other.Length > 0:
                int from = (int)dice.Whole(0, other.Length - 1);
                bytes.RemoveRange(at, bytes.Count - at);
                bytes.AddRange(other.AsSpan(from));
                break;
            case 7 when other.Length > 0:
                int start = (int)dice.Whole(0, other.Length - 1);
                bytes.InsertRange(at, other.AsSpan(start, (int)Math.Min(other.Length - start, dice.Whole(1, 64))).ToArray());
                break;
            case 8 when bytes.Count > 0:
                // A line, with its end.
                int end = bytes.IndexOf((byte)'\n', at);
                if (end < 0) end = bytes.Count - 1;
                List<byte> line = bytes.GetRange(at, end - at + 1);
                if (dice.Whole(0, 1) == 0) bytes.RemoveRange(at, line.Count);
                else bytes.InsertRange(Place(bytes.Count), line);
                break;
            case 9 when bytes.Count > 3:
                // A longer number in place: extreme values of fields of several bytes.
                byte all = dice.Whole(0, 2) switch { 0 => 0, 1 => 0xFF, _ => 0x7F };
                for (int i = at; i < Math.Min(bytes.Count, at + 4); i++) bytes[i] = all;
                break;
            default:
                if (words.Length == 0) break;
                byte[] word = words[dice.Whole(0, words.Length - 1)];
                if (dice.Whole(0, 1) == 0) bytes.RemoveRange(at, Math.Min(bytes.Count - at, word.Length));
                bytes.InsertRange(at, word);
                break;
        }
    }

    private int Place(int count) => count == 0 ? 0 : (int)dice.Whole(0, count - 1);
}

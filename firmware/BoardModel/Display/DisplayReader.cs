using Intervalometer.Screens;

namespace Intervalometer.VirtualBoard.Display;

/// <summary>
/// Reads the words off a display for somebody who cannot see it. It compares letter by letter with the firmware's own fonts, the largest first, light on dark and dark on
/// light. It skips what is drawn and not written: curves, bars and icons.
/// </summary>
public static class DisplayReader
{
    /// <summary>Fewer letters in a row than this may be part of a drawing.</summary>
    private const int FewestLetters = 3;

    private static readonly Script[] Scripts = [new(Font.Huge, 1), new(Font.Large, 1), new(Font.Medium, 2), new(Font.Small, FewestLetters)];

    /// <summary>The words, row by row from the top; a point ends each.</summary>
    public static string Words(PixelAt lit)
    {
        var columns = new ulong[Frame.Width];
        for (int x = 0; x < Frame.Width; x++)
        {
            for (int y = 0; y < Frame.Height; y++) columns[x] |= lit(x, y) ? 1UL << y : 0;
        }
        var found = new List<(int Y, int X, string Text)>();
        foreach (Script script in Scripts)
        {
            for (int y = 0; y + script.Rows <= Frame.Height; y++)
            {
                script.Read(columns, y, false, found);
                script.Read(columns, y, true, found);
            }
        }
        // Words that begin within a few rows of each other stand on one line.
        return string.Join(" ", found.OrderBy(f => f.Y / 6).ThenBy(f => f.X).Select(f => f.Text.EndsWith('.') ? f.Text : f.Text + "."));
    }

    /// <summary>A letter's inked columns, from its first to its last, and the rows that belong to it: the next line may begin below the foot of a capital.</summary>
    private sealed record Letter(char Sign, ulong[] Columns, ulong Rows);

    /// <summary>One font, by the part above the foot of the first inked column of its letters.</summary>
    private sealed class Script
    {
        private readonly Dictionary<ulong, Letter[]> _letters;
        private readonly int _gap, _space, _fewest;
        private readonly ulong _aboveFoot;

        public Script(Font font, int fewest)
        {
            _fewest = fewest;
            _gap = font.Gap;
            Rows = font.Height;
            _aboveFoot = (1UL << font.Baseline) - 1;
            // Between two words there is a space and a gap on either side of it; digits of one width bring blank columns of their own.
            _space = font.Has(' ') ? font.WidthOf(" ") + font.Gap : font.Height / 2;
            _letters = Enumerable.Range('!', '~' - '!' + 1).Select(c => (char)c).Where(c => c != '|' && font.Has(c)).Select(c => Drawn(font, c)).Where(l => l.Columns.Length > 0)
                .GroupBy(l => l.Columns[0] & _aboveFoot).ToDictionary(g => g.Key, g => g.OrderByDescending(l => l.Rows).ThenByDescending(l => l.Columns.Length).ToArray());
        }

        public int Rows { get; }

        private static Letter Drawn(Font font, char sign)
        {
            ulong above = (1UL << font.Baseline) - 1, all = (1UL << font.Height) - 1;
            var frame = new Frame();
            frame.Text(0, 0, sign.ToString(), font);
            ulong[] columns = [.. Enumerable.Range(0, font.WidthOf(sign.ToString())).Select(x => Enumerable.Range(0, font.Height).Aggregate(0UL, (bits, y) => frame.Pixel(x, y) ? bits | 1UL << y : bits))];
            int first = Array.FindIndex(columns, c => c != 0), last = Array.FindLastIndex(columns, c => c != 0);
            return first < 0 ? new Letter(sign, [], 0) : new Letter(sign, columns[first..(last + 1)], columns.Any(c => (c & ~above) != 0) ? all : above);
        }

        /// <summary>Takes the words of one line of this height out of the picture.</summary>
        public void Read(ulong[] columns, int y, bool darkOnLight, List<(int, int, string)> found)
        {
            ulong At(int x, ulong rows) => x < 0 || x >= columns.Length ? 0 : (darkOnLight ? ~columns[x] : columns[x]) >> y & rows;
            bool Stands(Letter l, int x)
            {
                if (At(x + l.Columns.Length, _aboveFoot) != 0) return false;
                for (int i = 0; i < l.Columns.Length; i++)
                {
                    if (At(x + i, l.Rows) != l.Columns[i]) return false;
                }
                return true;
            }
            var run = new List<(int X, Letter Letter)>();
            int end = 0;
            for (int x = 0; x <= columns.Length;)
            {
                ulong ink = At(x, _aboveFoot);
                bool begins = ink != 0 && (run.Count > 0 || At(x - 1, _aboveFoot) == 0);
                Letter? letter = begins && _letters.TryGetValue(ink, out Letter[]? those) ? Array.Find(those, l => Stands(l, x)) : null;
                if (letter is not null)
                {
                    run.Add((x, letter));
                    x += letter.Columns.Length;
                    end = x;
                    continue;
                }
                bool over = x >= columns.Length || ink != 0 || x - end > 3 * _space;
                if (over) Take(run, columns, y, darkOnLight, found);
                x++;
            }
        }

        private void Take(List<(int X, Letter Letter)> run, ulong[] columns, int y, bool darkOnLight, List<(int, int, string)> found)
        {
            if (run.Count >= _fewest && run.Any(r => char.IsAsciiLetterOrDigit(r.Letter.Sign)))
            {
                string text = "";
                int end = run[0].X;
                foreach ((int x, Letter letter) in run)
                {
                    if (x - end > _gap + _space / 2 && text.Length > 0) text += " ";
                    text += letter.Sign;
                    end = x + letter.Columns.Length;
                    for (int i = 0; i < letter.Columns.Length; i++)
                    {
                        if (darkOnLight) columns[x + i] |= letter.Columns[i] << y;
                        else columns[x + i] &= ~(letter.Columns[i] << y);
                    }
                }
                found.Add((y, run[0].X, text));
            }
            run.Clear();
        }
    }
}

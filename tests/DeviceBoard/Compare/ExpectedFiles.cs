using System.Globalization;
using System.Text;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>What the virtual board does, as files: for people, and for a test that has no runtime.</summary>
public static class ExpectedFiles
{
    /// <summary>Writes, for each start of each script, the source of its script assembly, its edges and its pictures.</summary>
    public static int Write(string folder, IEnumerable<string> names, PlaceIn place)
    {
        Directory.CreateDirectory(folder);
        foreach (string name in names)
        {
            BoardCase board = BoardCase.Make(name, place);
            int number = 0;
            foreach (Start start in Expectation.Of(board))
            {
                string path = Path.Combine(folder, $"{name}-{++number}");
                byte[]? memory = number == 1 ? board.Memory : null;
                File.WriteAllText(path + ".cs", ScriptSource.Of(start, memory, Expectation.BatteryCount(board.Scene), Expectation.Watched, printPictures: false));
                File.WriteAllLines(path + ".edges.csv", start.Edges.Select(e => FormattableString.Invariant($"{e.AtUs},{e.Pin},{(e.High ? 1 : 0)}")).Prepend("at us,pin,level"));
                var pictures = new StringBuilder();
                foreach (var (step, picture) in start.Pictures) pictures.Append(CultureInfo.InvariantCulture, $"{start.Steps[step].Name} {picture.Sum:X8}\n{picture.Text}\n");
                File.WriteAllText(path + ".pictures.txt", pictures.ToString());
            }
        }
        return 0;
    }
}

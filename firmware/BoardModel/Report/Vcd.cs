using System.Text;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Report;

/// <summary>Writes every line as a value change dump (IEEE 1364-2005, clause 18), one unit a microsecond. Holds no wall-clock date, so equal runs give equal files.</summary>
public static class Vcd
{
    private static readonly string[] Names =
    [
        "half_press", "shutter", "button_up", "button_down", "button_back", "button_select", "button_mark", "button_fire",
        "led", "sensor_open", "camera_busy", "buzzer",
    ];

    private const char Backwash = (char)('!' + 12);

    /// <summary>The whole dump as text, from 0 to <paramref name="endUs"/>.</summary>
    public static string Text(IReadOnlyList<LineChange> changes, ISea sea, long endUs)
    {
        var text = new StringBuilder();
        text.Append("$version virtual board $end\n$timescale 1 us $end\n$scope module board $end\n");
        for (int i = 0; i < Names.Length; i++) text.Append("$var wire 1 ").Append(Code(i)).Append(' ').Append(Names[i]).Append(" $end\n");
        text.Append("$var wire 1 ").Append(Backwash).Append(" backwash $end\n$upscope $end\n$enddefinitions $end\n");
        text.Append("#0\n$dumpvars\n");
        for (int i = 0; i < Names.Length; i++) text.Append('0').Append(Code(i)).Append('\n');
        text.Append('0').Append(Backwash).Append("\n$end\n");

        long written = 0;
        void Put(long atUs, bool on, char code)
        {
            if (atUs != written) text.Append('#').Append(written = atUs).Append('\n');
            text.Append(on ? '1' : '0').Append(code).Append('\n');
        }

        int next = 0;
        foreach (var (atUs, on) in BackwashEdges(sea, endUs))
        {
            for (; next < changes.Count && changes[next].AtUs <= atUs; next++) Put(changes[next].AtUs, changes[next].On, Code((int)changes[next].Line));
            Put(atUs, on, Backwash);
        }
        for (; next < changes.Count && changes[next].AtUs <= endUs; next++) Put(changes[next].AtUs, changes[next].On, Code((int)changes[next].Line));
        if (endUs != written) text.Append('#').Append(endUs).Append('\n');
        return text.ToString();
    }

    private static char Code(int line) => (char)('!' + line);

    private static IEnumerable<(long AtUs, bool On)> BackwashEdges(ISea sea, long endUs)
    {
        bool on = false;
        long last = 0;
        foreach (Swash wave in Waves.Between(sea, 0, endUs))
        {
            if (wave.EndUs <= wave.TurnUs) continue;
            if (on && wave.TurnUs > last) { yield return (last, false); on = false; }
            if (!on && wave.TurnUs <= endUs) { yield return (wave.TurnUs, true); on = true; }
            last = Math.Max(last, wave.EndUs);
        }
        if (on && last <= endUs) yield return (last, false);
    }
}

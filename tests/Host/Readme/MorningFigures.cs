using System.Globalization;
using System.Text.RegularExpressions;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.Readme;

/// <summary>The figures of the guided morning and of the plan: what the display shows when the morning is played, what the camera takes, and what the search finds.</summary>
internal static class MorningFigures
{
    private const string Morning = "firmware/VirtualBoard/Examples/morning.json";

    public static IEnumerable<Figure> All()
    {
        SceneFile scene = GuidedMorning.Load();
        using Board board = SceneStart.PowerOn(scene);
        var shown = new Dictionary<string, string>();
        foreach (DisplayShot shot in scene.Pictures)
        {
            board.RunUntil((long)(shot.At * 1e6));
            shown[shot.Name] = DisplayReader.Words(board.Display.Model.Pixel);
        }
        board.RunUntil((long)(scene.EndAt * 1e6));

        Site site = DemoSite.Load();
        Morning best = Planner.Search(site, Planner.FromDateTime(new DateTime(2031, 3, 18, 20, 0, 0)), 60).Ranked[0];
        string day = Day(site, best);
        string setOff = Read(shown, "mornings", @"\b(\d\d:\d\d)\b"), cut = Read(shown, "path", @"cut (\d\d:\d\d)"), leave = Read(shown, "path", @"leave by\W+(\d\d:\d\d)"), sum = Read(shown, "path", @"sum: (\d+) min");
        yield return new($"{Planner.ToDateTime(best.Sun).ToString("dddd", CultureInfo.InvariantCulture)} {day}", "the best morning that plan finds");
        yield return new($"proposes {day}", "the best morning that plan finds");
        yield return new($"set off: at {setOff}", "the display at mornings.png of " + Morning);
        yield return new($"the sand neck at {cut}", "the display at path.png of " + Morning);
        yield return new($"leave by {leave}", "the display at path.png of " + Morning);
        yield return new($"The walk takes {site.Place.PathPoint(0).WalkMinutes} minutes, and the box takes off {sum} more", "the walk of the place, and the display at path.png of " + Morning);
        yield return new($"{Figure.Counted(Hours(Read(shown, "path", @"\b(\d+:\d\d)\b")))} hours left", "the display at path.png of " + Morning);

        double metered = double.Parse(Read(shown, "metered", @"(\d\.\d+) s"), CultureInfo.InvariantCulture);
        yield return new($"The camera says 1/{1 / metered:F0} at {Read(shown, "metered", @"(f/\d+)")}.", "the display at metered.png of " + Morning);
        yield return new($"Metered {Figure.Seconds(metered)}", "the display at metered.png of " + Morning);
        double[] frames = [.. board.Camera.Frames.Select(f => (f.CloseUs - f.OpenUs) / 1e6)];
        yield return new($"The answer is {frames[0]:F0} s, which", "the first frame of " + Morning);
        yield return new($"All {Figure.Count(frames.Count(f => Math.Abs(f - 1) < 0.01))} frames lie", "the frames of one second in " + Morning + "; ExampleTests holds that each lies on the backwash");
        string wanted = Read(shown, "wanted", @"\b(\d:\d\d)\b");
        yield return new($"You want {wanted}.", "the display at wanted.png of " + Morning);
        yield return new($"Three ways to {Figure.Count(Hours(wanted))} minutes", "the display at wanted.png of " + Morning);
        yield return new($"{Read(shown, "wanted", @"(ND \d\.\d) f/11\b")} at f/11 misses the time by {Read(shown, "wanted", @"-(0\.\d\d)\b")} stop", "the display at wanted.png of " + Morning);
        yield return new($"{Read(shown, "dawn", @"(1/\d+) f/11")} through a density of 3.0 is {Read(shown, "dawn", @"on (\d+)\.0 s")} s", "the display at dawn.png of " + Morning);
        yield return new($"so under a clear sky {Read(shown, "dawn", @"(\d+)\.0 s")} s collect as much", "the display at dawn.png of " + Morning);
        yield return new($"The correction is {Read(shown, "dawn", @"-(0\.\d\d) st")} stop", "the display at dawn.png of " + Morning);
        double again = double.Parse(Read(shown, "again", @"(\d+\.\d) s"), CultureInfo.InvariantCulture);
        yield return new($"it now takes {again:F0} s", "the display at again.png of " + Morning);
        yield return new($"ends that frame after {frames[6]:F0} s", "the seventh frame of " + Morning);

        long up = (long)(scene.Pictures.Single(p => p.Name == "alarm").At * 1e6);
        int flashes = board.Lines.Changes.Count(c => c.Line == Line.Led && c.On && c.AtUs >= up && c.AtUs < up + 2_000_000) / 2;
        yield return new($"The lamp gives {Figure.Count(flashes)} short flashes a second", "the lamp while the alarm is up in " + Morning);

        IReadOnlyList<Morning> ranked = Planner.Search(site, site.Place.Offset.ToUtc(new CivilTime(2031, 3, 14, 12, 0, 0)), 30).Ranked;
        TideTurn low;
        for (UtcInstant at = best.WorkStart; !site.Place.Tide.TryNextTurn(at, out low) || low.IsHigh; at = low.Time)
        {
        }
        yield return new($"{day}: low water at {TimeText.HourMinute(low.Time, site.Place.Offset)}", "the tide of the invented place");
        string[] early = [.. ranked.Where(m => m.WorkEnd.Seconds < m.Sun.Seconds + site.Wish.AfterMinutes * 60).Select(m => Day(site, m))];
        string shownEarly = Figure.Written("README.md", @"(\d+ \w+): the band is left early");
        yield return new($"{(early.Contains(shownEarly) ? shownEarly : early.FirstOrDefault())}: the band is left early", "a morning that plan finds, whose work ends before the window does");
    }

    private static string Day(Site site, Morning morning) => Planner.ToDateTime(morning.Sun).AddMinutes(site.Place.Offset.MinutesAt(morning.Sun)).ToString("d MMMM", CultureInfo.InvariantCulture);

    // Of 6:02 the 6.
    private static double Hours(string words) => double.Parse(words.Split(':')[0], CultureInfo.InvariantCulture);

    private static string Read(Dictionary<string, string> shown, string picture, string pattern)
    {
        Match found = Regex.Match(shown[picture], pattern);
        return found.Success ? found.Groups[1].Value : throw new InvalidOperationException($"The display of {picture} has nothing like {pattern}: {shown[picture]}");
    }
}

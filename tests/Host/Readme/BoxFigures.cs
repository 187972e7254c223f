using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Intervalometer.Coast.Place;
using Intervalometer.Core;
using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;
using Intervalometer.Drivers.Composition;
using Intervalometer.Flash;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.Settings.Shore;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.Tests.Host.Screens;
using Intervalometer.Tests.Host.Tide;
using Intervalometer.VirtualBoard.Cli;

namespace Intervalometer.Tests.Host.Readme;

/// <summary>The figures of the box, its cards, the waves, the shore and the program: read from the firmware, from the tables of the hardware and from the study.</summary>
internal static class BoxFigures
{
    private const string Study = "firmware/VirtualBoard/Study/README.md", Outing = "firmware/VirtualBoard/Study/Outing.cs";

    public static IEnumerable<Figure> All() => [.. Box(), .. Exposure(), .. Cards(), .. Waves(), .. Shore(), .. Program(), .. Unsourced()];

    private static IEnumerable<Figure> Box()
    {
        int buttons = Enum.GetValues<Button>().Length;
        yield return new($"with {Figure.Count(buttons)} buttons", "the buttons of the firmware");
        yield return new($"display, {Figure.Count(buttons)} buttons", "the buttons of the firmware");
        yield return new($"are two of the {Figure.Count(buttons)} buttons", "the buttons of the firmware");
        double couplers = double.Parse(Figure.Written("hardware/bom.csv", @"\n[^,\n]*,(\d+),Optocoupler,"), CultureInfo.InvariantCulture);
        yield return new($"{Figure.Counted(couplers)} optocouplers join", "hardware/bom.csv");
        yield return new($"through {Figure.Count(couplers)} optocouplers only", "hardware/bom.csv");
        yield return new($"the .NET {Figure.Written("firmware/VirtualBoard/VirtualBoard.csproj", @"<TargetFramework>net(\d+)\.0")} SDK", "firmware/VirtualBoard/VirtualBoard.csproj");
        yield return new($"http://{IPAddress.Loopback}:{Figure.Written("firmware/VirtualBoard/Cli/ServeVerb.cs", @"=> (\d+) \}")} and", "firmware/VirtualBoard/Cli/ServeVerb.cs");
        yield return new($"listens on {IPAddress.Loopback} only", "the address of the server, which the test of its commands asks");
        int places = Regex.Count(File.ReadAllText(Repository.At("firmware/VirtualBoard/Web/Page/index.html")), "<a href=\"#\\w+\">[A-Z]");
        yield return new($"The page has {Figure.Count(places - 1)} more places", "firmware/VirtualBoard/Web/Page/index.html");
    }

    private static IEnumerable<Figure> Exposure()
    {
        const string Source = "the command answer";
        string sixtieth = Answer("--base", "1/60", "--filter", "10 stops");
        string power = Found(sixtieth, @"truly (2\^-?\d+)");
        yield return new($"\"1/60\" is {power} s (1/{1 << int.Parse(power[3..], CultureInfo.InvariantCulture)} s)", Source);
        yield return new($"\"15\" is {Found(Answer("--base", "15"), @"truly (2\^\d+)")} s ({Found(Answer("--base", "15"), @"= (\d+)\.\d+ s")} s)", Source);
        yield return new($"\"30\" is {Found(Answer("--base", "30"), @"truly (2\^\d+)")} s ({Found(Answer("--base", "30"), @"= (\d+)\.\d+ s")} s)", Source);
        string seconds = Found(sixtieth, @"\((\d+\.\d\d) s\)");
        yield return new($"Why 1/60 and ten stops is {Figure.Plain(double.Parse(seconds, CultureInfo.InvariantCulture))} s", Source);
        yield return new($"So 1/60 through 10 stops is exactly {seconds} s", Source);
        yield return new($"through 12 stops it is {Found(Answer("--base", "1/60", "--filter", "10 stops", "--filter", "2 stops"), @"Bulb (\d+\.\d\d) s")} s", Source);
        yield return new($"the printed 1/60, you would get {Found(sixtieth, @"would give (\d+\.\d\d) s")} s, which is {Found(sixtieth, @"(\d\.\d\d) stops off")} stop too long", Source);
        yield return new($"A density of 3.0 is 3.0 / {Figure.Plain(Math.Log10(2), "0.00000")} = {Found(Answer("--base", "1", "--filter", "ND 3.0"), @"takes (\d\.\d\d) stops")} stops", Source);
        yield return new($"a factor of 1000 is log2(1000) = {Found(Answer("--base", "1", "--filter", "ND1000"), @"takes (\d\.\d\d) stops")} stops", Source);
    }

    private static IEnumerable<Figure> Cards()
    {
        yield return new($"a ring of {Figure.Count(Ring())} cards", "Down pressed until the first card comes again");
        yield return new($"the {Figure.Count(Ring(Button.Back))} cards of the shore", "the same on the shore");
        yield return new($"press Back {Figure.Count(KeyLock.Presses)} times", "KeyLock.Presses");
        yield return new($"more than {Figure.Count(ReachTests.Most)} presses away from LIGHT", "the limit of ReachTests");
        yield return new($"needs more than {Figure.Count(ColdHandsTests.Most)} presses besides", "the limit of ColdHandsTests");
        yield return new($"Below {Figure.Plain(BatteryWatch.WarnMillivolts / 1000.0)} V the box warns", "BatteryWatch.WarnMillivolts");
        yield return new($"Below {Figure.Plain(BatteryWatch.RefuseMillivolts / 1000.0)} V it starts no new run", "BatteryWatch.RefuseMillivolts");
        yield return new($"At power-on the box shows for {Figure.Plain(StartCheck.ShowUs / 1e6)} s", "StartCheck.ShowUs");
    }

    private static IEnumerable<Figure> Waves()
    {
        Dictionary<string, string[]> table = StudyTable();
        string[] head = table[""];
        int after = Array.IndexOf(head, "mark, a little later"), rhythm = Array.IndexOf(head, "rhythm");
        const string Beach = "traced beach", Short = "wind sea 6 s";
        int[] usual = [.. table.Where(r => r.Key is not ("" or Beach or Short)).Select(r => Percent(r.Value[after]))];
        int[] rhythms = [.. table.Where(r => r.Key != "" && char.IsAsciiDigit(r.Value[rhythm][0])).Select(r => Percent(r.Value[rhythm]))];
        yield return new($"{usual.Min()} to {usual.Max()} of 100 one-second frames", Study);
        yield return new($"On a short wind sea it was {Percent(table[Short][after])} of 100", Study);
        yield return new($"it was {Percent(table[Beach][after])}.", Study);
        yield return new($"between one frame in five and {Figure.Count(rhythms.Max() / 20.0)} in five", Study);
        Assert.AreEqual(1, Math.Round(rhythms.Min() / 20.0), "the lowest share on the rhythm is no longer one frame in five");
        yield return new($"was within {Figure.Written(Study, @"within (\d) points on every")} points of what happened", Study);
        yield return new($"one wave in {Figure.Count(int.Parse(Figure.Written(Outing, @"int MarkedShare = (\d+)"), CultureInfo.InvariantCulture))} was marked", "the photographer of the study");
        int records = Directory.GetFiles(Repository.At("firmware/BoardModel/Sea/Records")).Length;
        yield return new($"known from {Figure.Count(records)} shorelines", "firmware/BoardModel/Sea/Records");
        Assert.AreEqual("Outing.Learning", Figure.Written(Outing, @"int Timed = ([\w.]+)"), "every wave before the run is timed");
        yield return new($"mark about {Figure.Count(int.Parse(Figure.Written(Outing, @"int Learning = (\d+)"), CultureInfo.InvariantCulture))} waves", "the photographer of the study");
        yield return new($"press Mark {Figure.Dozen(HandDrill.PressesNeeded)} times", "HandDrill.PressesNeeded");
        yield return new($"fits {Figure.Count(Figure.Constant("firmware/Core/Swash/FiringAdvice.cs", "FitChance") * 10)} times in ten", "FiringAdvice.FitChance");
        yield return new($"a pause of more than {WaveRhythm.LongestGapSeconds:F0} seconds", "WaveRhythm.LongestGapSeconds");
        yield return new($"it needs {Figure.Count(WaveRhythm.GapsToConfirm + 1)} marks that agree", "WaveRhythm.GapsToConfirm: between three marks lie two gaps");
    }

    private static IEnumerable<Figure> Shore()
    {
        yield return new($"type in up to {Figure.Count(TypedTable.Capacity)} high and low waters", "TypedTable.Capacity");
        yield return new($"screen: {ShoreDesk.PackUpSoonMinutes} minutes before the leave-by time, {ShoreDesk.WarningMinutes} minutes before it", "ShoreDesk");
        yield return new($"silences it for {Figure.Count(Figure.Constant("firmware/Coast/Place/WayBackAlarm.cs", "QuietUs") / 60e6)} minutes", "WayBackAlarm.QuietUs");
        yield return new($"it takes off {TideAllowance.AnyTableMinutes} minutes and {TideAllowance.TableCentimetres} cm; for harmonic constants, {TideAllowance.SumMinutes} minutes and {TideAllowance.SumCentimetres} cm", "TideAllowance");
        yield return new($"keep a margin of {Figure.Plain(TenCoastTests.Margin)} m", "the margin of TenCoastTests");
        yield return new($"On {Figure.Count(RealCoast.All().Length)} coasts over {Span(TenCoastTests.Days)}", "the coasts of TenCoastTests");
        int ways = Regex.Match(ReadmeText.File, @"bring the place to the box:\n\n((?:- .*\n(?:  .*\n)*)+)").Groups[1].Value.Split("\n- ").Length;
        yield return new($"There are {Figure.Count(ways)} ways to bring", "the list that follows");
    }

    private static IEnumerable<Figure> Program()
    {
        string step = Figure.Written("README.md", @"\n(\d)\. Check and join them: `dotnet run --project firmware/Flash");
        yield return new($"the command in step {step} of", "the list of the steps");
        yield return new($"says what step {step} checks", "the list of the steps");
        yield return new($"keeps GPIO {string.Join(" and ", Tables.Boards.Single(b => b.Key == "esp32-psram").Taken)} to itself", "firmware/Flash, boards.csv");
        yield return new($"After {Figure.Count(FaultNote.MostInARow)} restarts by a fault", "FaultNote.MostInARow");
        yield return new($"In the last {Drivers.Composition.Box.LastMomentUs / 1000} ms before an edge", "Box.LastMomentUs");
        yield return new($"both contacts {Figure.Seconds(ReleaseLimits.HeartbeatHoldShortestUs / 1e6)} to {Figure.Seconds(ReleaseLimits.HeartbeatHoldLongestUs / 1e6)} after", "hardware/release-limits.csv");
        yield return new($"tested up to {Figure.Written("tests/Host/Faults/BusFaultTests.cs", @"int slower in new\[\] \{ [\d, ]*?(\d+) \}")} times too slow", "BusFaultTests");
        yield return new($"takes more than {Figure.Seconds(Figure.Constant("firmware/Drivers/Composition/DisplaySender.cs", "MostPageUs") / 1e6)} to send", "DisplaySender.MostPageUs");
        yield return new($"The time of an instruction ({Figure.Written("tests/Budgets/Rewriter.cs", @"An instruction is put at (\d) µs")} µs)", "tests/Budgets/Rewriter.cs");
        yield return new($"### {FirmwareVersion.Text} ", "FirmwareVersion.Text");
    }

    /// <summary>What no file and no command can give.</summary>
    private static IEnumerable<Figure> Unsourced()
    {
        yield return new("Half a minute or more turns", "common practice among photographers, no source");
        yield return new("runs in powers of two", "a stop is a factor of two, by definition");
        yield return new("Try it in two minutes", "a promise to the reader: one command and one click");
        yield return new("for example two on each wave", "an example of marks that contradict each other");
        yield return new("for a 32-bit PC", "how the platform's runtime was built; tests/DeviceBoard/README.md");
        yield return new("It takes about eleven minutes on two cores", "depends on the computer; .ci/run prints what it took");
    }

    private static string Span(int days) => days is > 175 and < 190 ? "half a year" : $"{days} days";

    private static string Answer(params string[] args)
    {
        var output = new StringWriter();
        var error = new StringWriter();
        Assert.AreEqual(0, CommandLine.Run(["answer", .. args], output, error), error.ToString());
        return output.ToString();
    }

    private static string Found(string text, string pattern)
    {
        Match found = Regex.Match(text, pattern);
        return found.Success ? found.Groups[1].Value : throw new InvalidOperationException($"nothing like {pattern} in: {text}");
    }

    // How many cards Down goes through until it is back at the first one.
    private static int Ring(params Button[] before)
    {
        PanelRig rig = new PanelRig().Press(before);
        string first = rig.Panel.ScreenName;
        for (int cards = 1; cards < 50; cards++)
        {
            if (rig.Press(Button.Down).Panel.ScreenName == first) return cards;
        }
        return 0;
    }

    // The first table of the study, by the sea; its head has no name.
    private static Dictionary<string, string[]> StudyTable()
    {
        var rows = new Dictionary<string, string[]>();
        foreach (string line in File.ReadAllLines(Repository.At(Study)).SkipWhile(l => !l.Contains("| fixed timer |")).TakeWhile(l => l.StartsWith('|')).Where(l => !l.Contains("---")))
        {
            string[] cells = [.. line.Replace("*", "").Trim('|').Split('|').Select(c => c.Trim())];
            rows[cells[0]] = cells;
        }
        return rows;
    }

    private static int Percent(string cell) => int.Parse(cell.Split(' ')[0], CultureInfo.InvariantCulture);
}

using System.Globalization;
using System.Text.Json;
using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Battery;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Sea;
using Intervalometer.VirtualBoard.Sky;

namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>Reads and checks a scenario file; every mistake is one <see cref="SceneFileException"/>.</summary>
public static class SceneReader
{
    private static readonly string[] ButtonWords = ["up", "down", "back", "select", "mark", "fire"];

    /// <summary>The most bytes that a scenario may have.</summary>
    public const int LongestBytes = 1_000_000;

    /// <summary>Reads a file from disk.</summary>
    public static SceneFile Load(string path)
    {
        byte[] bytes;
        try
        {
            bytes = InputFile.Read(path, LongestBytes);
        }
        catch (IOException e)
        {
            throw new SceneFileException(OneLine.CannotRead(path, e));
        }
        return Parse(Path.GetFileName(path), bytes, Path.GetDirectoryName(Path.GetFullPath(path)));
    }

    /// <summary>Reads the bytes of a file.</summary>
    /// <param name="file">Its name, for complaints.</param>
    /// <param name="utf8">Its content.</param>
    /// <param name="folder">Where a site file it names is looked for; null for the present folder.</param>
    public static SceneFile Parse(string file, byte[] utf8, string? folder = null)
    {
        JsonNode root = JsonNode.Parse(file, utf8);
        var top = new Fields(root, "the scenario");
        // For editors only: where the schema lies.
        top.Text("$schema");
        double end = top.NeedNumber("endAt", 0.01, SceneFile.LongestSeconds, "s");
        var timed = new List<TimedPress>();
        var turns = new List<TurnPress>();
        foreach (JsonNode press in top.List("presses")) ReadPress(press, end, timed, turns);
        CheckOverlaps(top.List("presses"), timed);
        DisplayShot[] pictures = [.. ReadPictures(top, end)];
        var scene = new SceneFile
        {
            Name = top.Text("name") ?? Path.GetFileNameWithoutExtension(file),
            StartUtc = ReadStart(top),
            Site = top.Text("site"),
            Memory = ReadMemory(top, folder ?? ""),
            Place = ReadPlace(top, folder ?? ""),
            Kit = ReadKit(top),
            KitOfMemory = top.Get("memory") is not null && top.Get("kit") is null && top.Get("filters") is null,
            Metered = top.Get("metered") is JsonNode metered ? ReadMetered(metered) : null,
            Camera = top.Get("camera") is JsonNode camera ? ReadCamera(camera) : new CameraOptions(),
            Battery = top.Get("battery") is JsonNode battery ? ReadBattery(battery) : new BatteryOptions(),
            Seed = (ulong)(top.Whole("seed", 0, int.MaxValue) ?? 1),
            Sea = top.Get("sea") is JsonNode sea ? ReadSea(sea) : new SeaChoice(),
            Sky = top.Get("sky") is JsonNode sky ? ReadSky(sky) : new SkyChoice(),
            LightSensor = top.Flag("lightSensor"),
            Presses = timed,
            TurnPresses = turns,
            Pictures = pictures,
            Dials = [.. top.List("dials").Select(node => ReadDial(node, end))],
            Steps = StepReader.Read(top, end, pictures),
            EndAt = end,
        };
        top.Done();
        return scene;
    }

    private static DateTimeOffset? ReadStart(Fields top)
    {
        string? text = top.Text("startUtc");
        if (text is null) return null;
        if (DateTimeOffset.TryParseExact(text, "yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset start))
        {
            if (start.Year is >= 2026 and <= 2099) return start;
            throw top.Get("startUtc")!.Fault($"\"startUtc\" is in {start.Year}", "the clock takes 2026 to 2099");
        }
        throw top.Get("startUtc")!.Fault($"\"startUtc\" is \"{text}\"", "write it like 2031-03-14T05:12:00Z");
    }

    private static byte[]? ReadMemory(Fields top, string folder)
    {
        string? name = top.Text("memory");
        if (name is null) return null;
        if (top.Get("place") is JsonNode place) throw place.Fault("\"place\" and \"memory\" both bring a place", "remove one");
        try
        {
            return MemoryImage.Load(InputFile.Beside(folder, name));
        }
        catch (Exception e) when (e is MemoryImageException or IOException)
        {
            throw top.Get("memory")!.Fault($"memory: {e.Message.Split("; ")[0]}", "name an image of 4096 bytes, as memory.bin of a played scenario");
        }
    }

    private static Site? ReadPlace(Fields top, string folder)
    {
        string? name = top.Text("place");
        if (top.Get("memory") is not null) return null;
        if (name is null or "demo") return DemoSite.Load();
        try
        {
            return SiteFile.Load(InputFile.Beside(folder, name));
        }
        catch (Exception e) when (e is SiteFileException or IOException)
        {
            throw top.Get("place")!.Fault($"place: {(e is SiteFileException site ? site.Short : e.Message).TrimEnd('.')}", "correct the site file, or write \"demo\"");
        }
    }

    // Read once now to find mistakes, and again for each run, so that no run sees the changes of another.
    private static Func<FilterKit> ReadKit(Fields top)
    {
        KitReader.Read(top);
        return () => KitReader.Read(top);
    }

    private static MeteredBase ReadMetered(JsonNode node)
    {
        var fields = new Fields(node, "metered");
        string shutter = fields.NeedText("shutter"), aperture = fields.NeedText("aperture"), iso = fields.Text("iso") ?? "100";
        if (!ShutterSetting.TryParse(shutter, out ShutterSetting time, out string problem)) throw fields.Get("shutter")!.Fault(problem.TrimEnd('.'), "write a mark of the dial");
        if (!ApertureSetting.TryParse(aperture, out ApertureSetting stop, out problem)) throw fields.Get("aperture")!.Fault(problem.TrimEnd('.'), "write a mark of the lens");
        if (!IsoSetting.TryParse(iso, out IsoSetting speed, out problem)) throw (fields.Get("iso") ?? node).Fault(problem.TrimEnd('.'), "write a mark of the dial");
        fields.Done();
        return new MeteredBase(stop, speed, time, 0);
    }

    private static CameraOptions ReadCamera(JsonNode node)
    {
        var fields = new Fields(node, "camera");
        var standard = new CameraOptions();
        var (dial, seconds) = ReadDialFields(node, fields);
        var camera = new CameraOptions
        {
            Dial = dial,
            DialSeconds = seconds ?? standard.DialSeconds,
            LagMs = fields.Number("lagMs", 10, 1000, "ms") ?? standard.LagMs,
            DebounceMs = fields.Number("debounceMs", 0, 9, "ms") ?? standard.DebounceMs,
            WakeMs = fields.Number("wakeMs", 0, 5000, "ms") ?? standard.WakeMs,
            SleepAfterSeconds = fields.Number("sleepAfterSeconds", 1, 7200, "s") ?? standard.SleepAfterSeconds,
            Continuous = fields.Flag("continuous"),
            FramesPerSecond = fields.Number("framesPerSecond", 0.1, 30, "a second") ?? standard.FramesPerSecond,
            MirrorLockUp = fields.Flag("mirrorLockUp"),
            BufferFrames = (int)(fields.Whole("bufferFrames", 1, 999) ?? standard.BufferFrames),
            StoreSeconds = fields.Number("storeSeconds", 0.01, 60, "s") ?? standard.StoreSeconds,
            DarkFrame = fields.Flag("darkFrame"),
        };
        fields.Done();
        return camera;
    }

    private static (CameraDial Dial, double? Seconds) ReadDialFields(JsonNode node, Fields fields)
    {
        CameraDial dial = fields.Choice("dial", "bulb", "timed") == 1 ? CameraDial.Timed : CameraDial.Bulb;
        double? seconds = fields.Number("dialSeconds", 0.0001, 60, "s");
        if (dial == CameraDial.Timed && seconds is null) throw node.Fault("the camera is timed but has no \"dialSeconds\"", "add it");
        if (dial == CameraDial.Bulb && seconds is not null) throw node.Fault("\"dialSeconds\" is set but the dial is on bulb", "set \"dial\" to \"timed\" or remove it");
        return (dial, seconds);
    }

    private static DialTurn ReadDial(JsonNode node, double end)
    {
        var fields = new Fields(node, "the turn of the dial");
        double at = fields.NeedNumber("at", 0, end, "s");
        fields.Need("dial");
        var (dial, seconds) = ReadDialFields(node, fields);
        fields.Done();
        return new DialTurn(at, dial, seconds ?? new CameraOptions().DialSeconds);
    }

    private static BatteryOptions ReadBattery(JsonNode node)
    {
        var fields = new Fields(node, "battery");
        var battery = new BatteryOptions
        {
            Millivolts = fields.NeedNumber("millivolts", 0, 5500, "mV"),
            PerHour = fields.Number("perHour", -10_000, 10_000, "mV an hour") ?? 0,
            GaugeFitted = !fields.Flag("noGauge"),
        };
        fields.Done();
        return battery;
    }

    private static SeaChoice ReadSea(JsonNode node)
    {
        var fields = new Fields(node, "sea");
        string kind = SeaChoice.Kinds[fields.Choice("kind", [.. SeaChoice.Kinds]) ?? 0];
        var choice = new SeaChoice(kind, (int)(fields.Whole("seed", 0, int.MaxValue) ?? 1));
        if (kind == SeaChoice.Steady)
        {
            choice = choice with
            {
                PeriodSeconds = fields.Number("periodSeconds", 2, 60, "s") ?? choice.PeriodSeconds,
                Spread = fields.Number("spread", 0, 0.25, "") ?? choice.Spread,
            };
        }
        fields.Done();
        return choice;
    }

    private static SkyChoice ReadSky(JsonNode node)
    {
        var fields = new Fields(node, "sky");
        var standard = new SkyChoice();
        string kind = SkyChoice.Kinds[fields.Choice("kind", [.. SkyChoice.Kinds]) ?? 0];
        var choice = new SkyChoice(kind, (int)(fields.Whole("seed", 0, int.MaxValue) ?? standard.Seed), fields.Number("sunAsideDegrees", 0, 180, "degrees") ?? standard.AsideDegrees);
        fields.Done();
        return choice;
    }

    private static void ReadPress(JsonNode node, double end, List<TimedPress> timed, List<TurnPress> turns)
    {
        var fields = new Fields(node, "the press");
        bool everyTurn = fields.Flag("everyTurn");
        fields.Need("button");
        var button = (Button)fields.Choice("button", ButtonWords)!.Value;
        double forSeconds = fields.Number("forSeconds", 0.005, 60, "s") ?? 0.12;
        if (everyTurn)
        {
            double from = fields.Number("from", 0, end, "s") ?? 0;
            int count = (int)(fields.Whole("count", 1, 10_000) ?? 1);
            turns.Add(new TurnPress(from, count, button, fields.Number("reactionMs", 0, 5000, "ms") ?? 0, forSeconds));
        }
        else
        {
            timed.Add(new TimedPress(fields.NeedNumber("at", 0, end, "s"), button, forSeconds));
        }
        fields.Done();
    }

    private static void CheckOverlaps(IReadOnlyList<JsonNode> nodes, List<TimedPress> timed)
    {
        foreach (var button in timed.GroupBy(p => p.Button))
        {
            TimedPress? last = null;
            foreach (TimedPress press in button.OrderBy(p => p.At))
            {
                if (last is not null && press.At <= last.At + last.ForSeconds)
                {
                    JsonNode node = nodes.Where(n => !new Fields(n, "").Flag("everyTurn")).ElementAt(timed.IndexOf(press));
                    throw node.Fault($"{ButtonWords[(int)press.Button]} is pressed again before it was released", "move it or shorten the press before it");
                }
                last = press;
            }
        }
    }

    private static IEnumerable<DisplayShot> ReadPictures(Fields top, double end)
    {
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (JsonNode node in top.List("pictures"))
        {
            var fields = new Fields(node, "the picture");
            double at = fields.NeedNumber("at", 0, end, "s");
            string name = fields.NeedText("name");
            if (name.Length is 0 or > 60 || !name.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_'))
                throw fields.Get("name")!.Fault($"picture name \"{name}\" cannot be a file name", "use letters, digits, - and _");
            if (!names.Add(name)) throw fields.Get("name")!.Fault($"two pictures are called \"{name}\"", "choose another name");
            fields.Done();
            yield return new DisplayShot(at, name);
        }
    }
}

using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>A time in which the box needs real passes, so that the clocks must not jump. Seconds.</summary>
public sealed record Stay(double From, double To);

/// <summary>A script with everything that the two boards need to play it alike.</summary>
public sealed record BoardCase
{
    /// <summary>Its name on the command line.</summary>
    public required string Name { get; init; }

    /// <summary>What is pressed and looked at when.</summary>
    public required SceneFile Scene { get; init; }

    /// <summary>What the memory holds when the power comes on: place, kit and metered base with it.</summary>
    public byte[] Memory => Scene.Memory!;

    /// <summary>The place that stands in the firmware; null for none.</summary>
    public Site? InFirmware { get; init; }

    /// <summary>When the place was made: the day before the script begins, UTC.</summary>
    public UtcInstant PlaceMade => Planner.FromDateTime(Scene.Start.AddDays(-1));

    /// <summary>When the sleeping box is woken, s.</summary>
    public IReadOnlyList<double> WakesAt { get; init; } = [];

    /// <summary>
    /// A planned closing may differ by this share of its length. The box works out the dawn's correction every two seconds, and the two boards do so not at
    /// the same instant, and at a twilight's 0.002 stop a second that is 0.3 % of the exposure. 0 without that correction.
    /// </summary>
    public double ClosingPart { get; init; }

    /// <summary>The light on the sensor; null for a box without one.</summary>
    public LightCurve? Light { get; init; }

    /// <summary>When the clocks must not jump.</summary>
    public IReadOnlyList<Stay> Stays { get; init; } = [];

    /// <summary>The names of all cases, in the order in which they are played.</summary>
    public static IReadOnlyList<string> Names { get; } = ["screens", "frames", "waves", "light", "heap", "morning"];

    /// <summary>A case by its name.</summary>
    /// <param name="name">One of <see cref="Names"/>.</param>
    /// <param name="place">Where the box finds the place that needs most.</param>
    public static BoardCase Make(string name, PlaceIn place = PlaceIn.Memory)
    {
        if (name == "morning") return Morning(place);
        SceneFile scene = Read(name);
        return new BoardCase
        {
            Name = name,
            Scene = FromMemory(scene, place),
            InFirmware = Built(place),
            Light = name == "light" ? LightCurve.OfScript : null,
            Stays = name is "screens" or "heap" or "light" ? [new Stay(0, scene.EndAt)] : [],
        };
    }

    /// <summary>The virtual board with the case loaded; its contacts do not bounce, as those of the stand-in board do not.</summary>
    public Board PowerOn()
    {
        Board board = SceneStart.PowerOn(Scene, options => options with
        {
            BounceUs = 0,
            BuiltIn = InFirmware is null ? null : FlashPlace.Held(FlashPlace.Room(InFirmware, PlaceMade)),
            LightAt = Light is null ? null : Light.LuxAt,
        });
        Light?.Follow(board);
        return board;
    }

    /// <summary>Lets the virtual board run to the end, with its wakings.</summary>
    public void RunToTheEnd(Board board)
    {
        foreach (double wake in WakesAt)
        {
            board.RunUntil(Us(wake));
            board.PowerOff();
            board.PowerOn(woken: true);
        }
        board.RunUntil(Us(Scene.EndAt));
    }

    private static long Us(double seconds) => (long)Math.Round(seconds * 1e6);

    // The device's clock begins again when it wakes, while that of the virtual board runs on. Lines that alternate on the display do so every 18 s
    // and every 8 s: the box wakes a whole number of both after the start, so that both boards show the same one.
    private const double WakingSeconds = 72 * 441;

    // A box that nobody touches sleeps after ten minutes, so the long night between the plan and the beach ends with a waking, and
    // three presses bring back the card that was left. The other presses are the guided morning's own.
    private static BoardCase Morning(PlaceIn place)
    {
        const double night = 602.6, waking = WakingSeconds;
        SceneFile scene = GuidedMorning.Load();
        double[] back = [waking + 1, waking + 1.72, waking + 2.44];
        TimedPress[] presses =
        [
            .. scene.Presses,
            new TimedPress(back[0], Intervalometer.Settings.Button.Back, 0.12),
            new TimedPress(back[1], Intervalometer.Settings.Button.Up, 0.12),
            new TimedPress(back[2], Intervalometer.Settings.Button.Up, 0.12),
        ];
        return new BoardCase
        {
            Name = "morning",
            ClosingPart = 0.003,
            InFirmware = Built(place),
            Scene = FromMemory(scene, place) with { Presses = presses },
            WakesAt = [waking],
            Stays = [new Stay(0, 62), new Stay(night - 1, night + 3)],
        };
    }

    private static SceneFile Read(string name)
    {
        using Stream stream = typeof(BoardCase).Assembly.GetManifestResourceStream($"script/{name}.json")
            ?? throw new ArgumentException($"There is no script \"{name}\"; there are: {string.Join(", ", Names)}.");
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return SceneReader.Parse(name + ".json", copy.ToArray());
    }

    private static Site? Built(PlaceIn place) => place == PlaceIn.Firmware ? LargestPlace.Site() : null;

    // Both boards read kit and metered base from the memory, and the place too unless it stands in the firmware: the program on the device has no other way in.
    // Only a case with a light of its own has a light sensor.
    private static SceneFile FromMemory(SceneFile scene, PlaceIn place) => scene with { LightSensor = false, Place = null, KitOfMemory = true, Metered = null, Memory = Image(scene, place == PlaceIn.Memory) };

    private static byte[] Image(SceneFile scene, bool withPlace)
    {
        byte[]? place = withPlace ? SiteImage.Make(LargestPlace.Site(), Planner.FromDateTime(scene.Start.AddDays(-1))) : null;
        var box = new OfflineBox(place);
        box.Settings.Kit = scene.Kit();
        if (scene.Metered is { } metered) box.Settings.SetBase(metered);
        return box.Settle();
    }
}

using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Light;

/// <summary>A board with a light sensor whose light has been metered by the buttons, for a camera on bulb.</summary>
internal static class MeteredRig
{
    /// <summary>A second, µs.</summary>
    public const long Second = 1_000_000;

    /// <summary>When the metered time is set, µs.</summary>
    public const long MeteredUs = 5 * Second;

    /// <summary>The light sensor's address on the bus.</summary>
    public const int SensorAddress = 0x10;

    /// <summary>Sets a board up, meters, and goes on for some seconds.</summary>
    /// <param name="options">The board; its camera's dial is put on bulb.</param>
    /// <param name="shape">What Fire is to start.</param>
    /// <param name="metered">The metered time.</param>
    /// <param name="set">What else is set before the light is metered; may be null.</param>
    public static Board Metered(BoardOptions options, PlanShape shape, MeteredBase metered, Action<Board>? set)
    {
        var board = new Board(options with { Camera = options.Camera with { Dial = CameraDial.Bulb } });
        BoxSettings settings = board.Box!.Settings;
        settings.AlwaysBulb = true;
        settings.Plan.Shape = shape;
        settings.Plan.SettleUs = 0;
        settings.SetBase(metered);
        set?.Invoke(board);
        // LIGHT, its first field: a third down and up again is the reading of the camera's meter.
        Tap(board, Button.Select, 3 * Second);
        Tap(board, Button.Down, 4 * Second);
        Tap(board, Button.Up, MeteredUs);
        Tap(board, Button.Back, 6 * Second);
        board.RunUntil(9 * Second);
        return board;
    }

    /// <summary>Presses a button for a moment.</summary>
    public static void Tap(Board board, Button button, long atUs) => board.Press(button, atUs, 120_000);
}

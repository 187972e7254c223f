using System.Text.Json;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Scenario;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Web;

/// <summary>Carries out what a page asks for. A request that it does not understand changes nothing and gets an answer in words.</summary>
public static class LiveOrders
{
    /// <summary>Carries out one message. Null when it was done, otherwise what is wrong with it.</summary>
    public static string? Take(LiveSession session, ReadOnlySpan<byte> utf8)
    {
        try
        {
            var reader = new Utf8JsonReader(utf8);
            using JsonDocument document = JsonDocument.ParseValue(ref reader);
            JsonElement order = document.RootElement;
            switch (order.GetProperty("do").GetString())
            {
                case "down": session.Down(ButtonOf(order)); return null;
                case "up": session.Up(ButtonOf(order)); return null;
                case "speed": session.SetSpeed(Number(order, "speed", 0, LiveSession.FastestSpeed)); return null;
                case "turn": session.RunToTurn(); return null;
                case "morning": session.Play(GuidedMorning.Load()); return null;
                case "on": session.GoOn(); return null;
                case "hurry": session.Hurry(); return null;
                case "camera": session.SetCamera(CameraOf(order)); return null;
                case "battery": session.SetBattery(Number(order, "millivolts", 0, 5500)); return null;
                case "restart":
                    session.Restart(SeaOf(order));
                    return null;
                default: return "Unknown request; reload the page.";
            }
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException)
        {
            return e.Message.ReplaceLineEndings(" ");
        }
    }

    private static Button ButtonOf(JsonElement order) =>
        Enum.TryParse(order.GetProperty("button").GetString(), ignoreCase: true, out Button button) && Enum.IsDefined(button)
            ? button
            : throw new FormatException("Unknown button; reload the page.");

    private static SeaChoice SeaOf(JsonElement order)
    {
        string kind = order.GetProperty("kind").GetString() ?? "";
        if (!SeaChoice.Kinds.Contains(kind)) throw new FormatException("Unknown sea; reload the page.");
        return new SeaChoice(kind, (int)Number(order, "seed", 0, int.MaxValue), Number(order, "period", 4, 25), Number(order, "spread", 0, 0.25));
    }

    private static CameraOptions CameraOf(JsonElement order) => new()
    {
        Dial = order.GetProperty("dial").GetString() == "timed" ? CameraDial.Timed : CameraDial.Bulb,
        DialSeconds = Number(order, "dialSeconds", 0.0001, 60),
        LagMs = Number(order, "lagMs", 10, 1000),
        DarkFrame = order.GetProperty("darkFrame").GetBoolean(),
        MirrorLockUp = order.GetProperty("mirrorLockUp").GetBoolean(),
        Continuous = order.GetProperty("continuous").GetBoolean(),
    };

    private static double Number(JsonElement order, string name, double low, double high)
    {
        double value = order.GetProperty(name).GetDouble();
        if (value >= low && value <= high) return value;
        throw new FormatException(FormattableString.Invariant($"{name} is {value}; use {low} to {high}."));
    }
}

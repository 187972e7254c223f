using System.Text.Json;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Report;
using Intervalometer.VirtualBoard.Scenario;
using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Web;

/// <summary>Remembers what one page has been sent so far, and makes the next message with only what is new.</summary>
public sealed class LiveView(LiveSession session)
{
    private const long HistoryUs = 120_000_000;
    private const long LeapUs = 60_000_000;
    private const int MostSamples = 120;
    private static readonly TimeSpan ReadEvery = TimeSpan.FromSeconds(1);

    private int _generation = -1;
    private int _lines, _frames, _missed;
    private long _display = -1;
    private string _name = "", _words = "";
    private long _readVersion = -1, _readAt;
    private int _presses;
    private long _edgeUs, _waveUs;

    /// <summary>The next message, as UTF-8 JSON.</summary>
    public byte[] Next() => session.Use(board =>
    {
        bool fresh = _generation != session.Generation;
        if (fresh) Begin(board);
        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer))
        {
            json.WriteStartObject();
            if (fresh) WriteSetup(json, board);
            json.WriteNumber("now", board.Time.NowUs / 1e6);
            json.WriteNumber("speed", session.Speed);
            json.WriteNumber("pace", session.Pace);
            json.WriteBoolean("paused", session.Paused);

            // This is counted from the board's start. The box reads its own clock chip.
            json.WriteString("day", board.Options.StartUtc is DateTime start ? Planner.LocalWords(start.AddTicks(board.Time.NowUs * TimeSpan.TicksPerMicrosecond), board.Options.Place) : "");
            json.WriteNumber("step", session.StepIndex);
            json.WriteBoolean("over", session.SceneOver);
            if (session.Broken is string broken) json.WriteString("broken", broken);
            if (board.PlannedEdgeUs != long.MaxValue) json.WriteNumber("plan", board.PlannedEdgeUs / 1e6);
            if (board.Camera.OpenSinceUs is long open) json.WriteNumber("open", open / 1e6);
            json.WriteBoolean("busy", board.Camera.Busy);
            if (_display != board.Display.Version)
            {
                _display = board.Display.Version;
                json.WriteBase64String("screen", board.Display.Rows());
                json.WriteNumber("glow", board.Display.Brightness);
            }
            WriteWords(json, board);
            WriteLines(json, board);
            WriteSea(json, board);
            WriteFrames(json, board);
            json.WriteEndObject();
        }
        return buffer.ToArray();
    });

    private void Begin(Board board)
    {
        _generation = session.Generation;
        long from = Math.Max(0, board.Time.NowUs - HistoryUs);
        _lines = _frames = _missed = 0;
        _display = -1;
        _edgeUs = from;
        _waveUs = from - 1;
    }

    private void WriteSetup(Utf8JsonWriter json, Board board)
    {
        CameraOptions set = board.Camera.Options;
        json.WriteStartObject("fresh");
        json.WriteStartArray("kinds");
        foreach (string kind in SeaChoice.Kinds) json.WriteStringValue(kind);
        json.WriteEndArray();
        json.WriteString("kind", session.Setup.Kind);
        json.WriteNumber("seed", session.Setup.Seed);
        json.WriteNumber("period", session.Setup.PeriodSeconds);
        json.WriteNumber("spread", session.Setup.Spread);
        json.WriteString("sea", board.Sea.Description);
        json.WriteString("dial", set.Dial == CameraDial.Timed ? "timed" : "bulb");
        json.WriteNumber("dialSeconds", set.DialSeconds);
        json.WriteNumber("lagMs", set.LagMs);
        json.WriteNumber("millivolts", Math.Round(board.Battery.Millivolts));
        json.WriteBoolean("darkFrame", set.DarkFrame);
        json.WriteBoolean("mirrorLockUp", set.MirrorLockUp);
        json.WriteBoolean("continuous", set.Continuous);
        if (session.Scene is SceneFile scene) WriteSteps(json, scene);
        json.WriteEndObject();
    }

    private static void WriteSteps(Utf8JsonWriter json, SceneFile scene)
    {
        json.WriteString("scene", scene.Name);
        json.WriteStartArray("steps");
        foreach (SceneStep step in scene.Steps)
        {
            json.WriteStartObject();
            json.WriteString("title", step.Title);
            json.WriteString("words", step.Words);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    // The words are read from the display at most once a second, and only when the picture is complete, because it is sent page by page. A screen reader speaks
    // them when another screen is shown or a button was pressed. A screen on which only a number changes can be read and is not spoken.
    private void WriteWords(Utf8JsonWriter json, Board board)
    {
        string name = board.Box?.Panel?.ScreenName ?? "";
        int presses = board.Lines.Changes.Count(c => c.On && c.Line is >= Line.Up and <= Line.Fire);
        if (_readVersion == board.Display.Version || System.Diagnostics.Stopwatch.GetElapsedTime(_readAt) < ReadEvery) return;
        _readAt = System.Diagnostics.Stopwatch.GetTimestamp();
        _readVersion = board.Display.Version;
        string words = DisplayReader.Words(board.Display.Model.Pixel);
        if (words == _words) return;
        _words = words;
        json.WriteStartObject("words");
        json.WriteString("words", words);
        json.WriteBoolean("told", name != _name || presses != _presses);
        json.WriteEndObject();
        (_name, _presses) = (name, presses);
    }

    private void WriteLines(Utf8JsonWriter json, Board board)
    {
        json.WriteStartArray("lines");
        for (; _lines < board.Lines.Changes.Count; _lines++)
        {
            LineChange change = board.Lines.Changes[_lines];
            if (change.Line is Line.Led) continue;
            json.WriteStartArray();
            json.WriteNumberValue(change.AtUs / 1e6);
            json.WriteNumberValue((int)change.Line);
            json.WriteNumberValue(change.On ? 1 : 0);
            json.WriteEndArray();
        }
        json.WriteEndArray();
    }

    private void WriteSea(Utf8JsonWriter json, Board board)
    {
        long now = board.Time.NowUs;
        json.WriteStartArray("edge");
        // After a leap in time only as many samples are sent as the widest window can show, close enough together to be drawn.
        _edgeUs = Math.Max(_edgeUs, now - LeapUs);
        long step = Math.Max(50_000, (now - _edgeUs) / MostSamples);
        for (; _edgeUs + step <= now; _edgeUs += step) WritePair(json, _edgeUs + step, board.Sea.EdgeMetres(_edgeUs + step));
        json.WriteEndArray();
        json.WriteStartArray("waves");
        foreach (Swash wave in Waves.Between(board.Sea, Math.Max(0, _waveUs), now))
        {
            if (wave.ArrivalUs <= _waveUs) continue;
            _waveUs = wave.ArrivalUs;
            json.WriteStartArray();
            json.WriteNumberValue(wave.ArrivalUs / 1e6);
            json.WriteNumberValue(wave.TurnUs / 1e6);
            json.WriteNumberValue(wave.EndUs / 1e6);
            json.WriteEndArray();
        }
        json.WriteEndArray();
    }

    private void WriteFrames(Utf8JsonWriter json, Board board)
    {
        json.WriteStartArray("frames");
        foreach (FrameReport frame in ReportBuilder.Frames(board, _frames)) JsonSerializer.Serialize(json, frame, ReportJson.ForPage.FrameReport);
        _frames = board.Camera.Frames.Count;
        json.WriteEndArray();
        json.WriteStartArray("missed");
        for (; _missed < board.Camera.Missed.Count; _missed++)
        {
            json.WriteStartObject();
            json.WriteNumber("at", board.Camera.Missed[_missed].AtUs / 1e6);
            json.WriteString("why", board.Camera.Missed[_missed].Why);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WritePair(Utf8JsonWriter json, long us, double value)
    {
        json.WriteStartArray();
        json.WriteNumberValue(us / 1e6);
        json.WriteNumberValue(Math.Round(value, 3));
        json.WriteEndArray();
    }
}

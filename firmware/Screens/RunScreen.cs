using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.Screens;

/// <summary>
/// What is shown while a run is on: what happens now, a large countdown to the next thing, and which press stops it.
/// Drawn many times during a run, so it allocates nothing.
/// </summary>
public sealed class RunScreen
{
    private readonly RunDesk _desk;
    private readonly BoxSettings _settings;
    private readonly BoxHealth _health;
    private readonly FrameText _line = new FrameText();

    /// <summary>Creates the screen.</summary>
    public RunScreen(RunDesk desk, BoxSettings settings, BoxHealth health)
    {
        _health = health;
        _desk = desk;
        _settings = settings;
    }

    /// <summary>Time between redraws, µs.</summary>
    public const long RedrawUs = 100_000;

    /// <summary>Draws the screen.</summary>
    public void Draw(Frame frame, long nowUs)
    {
        RunState state = _desk.State;
        if (state == RunState.Plan) DrawPlan(frame, nowUs);
        else if (_desk.Running) DrawWaves(frame, nowUs);
        else DrawEnd(frame, state);
    }

    private void DrawPlan(Frame frame, long nowUs)
    {
        ReleasePlayer player = _desk.Player;
        FrameLog log = _desk.Log;
        int total = _desk.Plan.FrameCount;
        bool exposing = player.FramesStarted > 0 && nowUs < log.LastEndUs && nowUs >= log.LastStartUs;
        Heading(frame, exposing ? "EXPOSING" : player.FramesStarted == 0 ? "STARTS IN" : "NEXT FRAME IN", player.FramesStarted, total);
        if (exposing)
        {
            Countdown(frame, log.LastEndUs - nowUs, Font.Huge, 128);
            frame.Progress(0, 48, 128, 6, nowUs - log.LastStartUs, log.LastExposureUs);
        }
        else
        {
            long next = player.NextFrameUs;
            if (next != long.MaxValue) Countdown(frame, next - nowUs, Font.Huge, 128);
        }
        frame.Text(0, 56, "Fire stops", Font.Small);
        Contacts(frame);
    }

    private void DrawWaves(Frame frame, long nowUs)
    {
        WaveRun waves = _desk.Waves;
        RunState state = _desk.State;
        string what = state switch
        {
            RunState.AwaitMark => waves.AsksForHolds ? "HOLD MARK" : _settings.Waves.Way == Core.Swash.FiringWay.OnArrival ? "MARK THE ARRIVAL" : "MARK TO FIRE",
            RunState.AwaitWave => "WAVE IN",
            RunState.OnWave => "ON THE WAVE",
            _ => "MARK THE NEXT TURN",
        };
        Heading(frame, what, waves.WavesFired, _settings.Waves.Waves);
        bool coming = state == RunState.AwaitWave || (state == RunState.AwaitMark && !waves.AsksForHolds);
        if (coming && waves.ChancePercent >= 0)
        {
            _line.Clear().AddNumber(waves.ChancePercent).Add(" %");
            frame.TextRight(128, 12, _line, Font.Medium);
            frame.TextRight(128, 26, "chance", Font.Small);
        }
        if (state == RunState.AwaitWave)
        {
            Countdown(frame, waves.TargetUs - nowUs, Font.Large, 84);
        }
        else if (state == RunState.OnWave)
        {
            long left = _desk.Log.LastEndUs - nowUs;
            Countdown(frame, left, Font.Huge, 128);
        }
        else if (state == RunState.AskMark)
        {
            frame.Icon(4, 20, Icon.Caution);
            frame.Text(22, 13, waves.Rhythm.Ready ? "Rhythm is old," : "No rhythm yet,", Font.Medium);
            frame.Text(22, 29, "nothing fires", Font.Medium);
        }
        else if (waves.AsksForHolds)
        {
            frame.Text(0, 14, "down as a wave arrives,", Font.Small);
            frame.Text(0, 25, "up as it turns back", Font.Small);
        }
        else
        {
            frame.Icon(4, 20, Icon.Wave);
            frame.Text(26, 17, "waiting", Font.Medium);
        }
        if (state == RunState.AskMark || state == RunState.OnWave) DrawMissed(frame, waves);
        else WaveBand.Draw(frame, 37, waves.Rhythm, state == RunState.AwaitWave ? waves.TargetUs : 0, nowUs);
        frame.Text(0, 56, "Fire stops", Font.Small);
        Contacts(frame);
    }

    private void DrawMissed(Frame frame, WaveRun waves)
    {
        if (waves.WavesMissed == 0) return;
        _line.Clear().Add("camera was busy for ").AddNumber(waves.WavesMissed);
        frame.Text(0, 48, _line, Font.Small);
    }

    private void DrawEnd(Frame frame, RunState state)
    {
        ReleasePlayer player = _desk.Player;
        bool failed = state == RunState.Failed;
        frame.Text(0, 0, failed ? "STOPPED BY THE BOX" : state == RunState.Stopped ? "STOPPED" : _desk.EndedEarly ? "ENDED BEFORE ITS PLAN" : "DONE", Font.Small);
        frame.HLine(0, 9, Frame.Width);
        if (failed)
        {
            frame.Icon(0, 15, Icon.Caution);
            frame.Text(16, 13, player.Failure == PlayerFailure.TooLate ? "Came too late" : "Plan was broken", Font.Medium);
            frame.Text(0, 30, "Both contacts are open.", Font.Small);
            frame.Text(0, 40, "Check camera, fire again.", Font.Small);
        }
        else
        {
            frame.Icon(0, 17, state == RunState.Stopped ? Icon.ContactOpen : Icon.Tick);
            _line.Clear();
            if (_desk.LastRunOnWaves) _line.AddNumber(_desk.Waves.WavesFired).Add(_desk.Waves.WavesFired == 1 ? " wave" : " waves");
            else _line.AddNumber(player.FramesStarted).Add(player.FramesStarted == 1 ? " frame" : " frames");
            frame.Text(18, 14, _line, Font.Medium);
            if (state == RunState.Stopped) frame.Text(0, 32, "Both contacts are open.", Font.Small);
            else if (_health.Battery.Refuses || _desk.EndedEarly) DrawBatteryEnd(frame);
            if (_desk.LastRunOnWaves) DrawMissed(frame, _desk.Waves);
        }
        frame.Text(0, 56, "Any button closes this", Font.Small);
    }

    private void DrawBatteryEnd(Frame frame)
    {
        bool kept = _health.MemoryFitted && _health.Memory == MemoryTrouble.None;
        frame.Text(0, 30, _health.Battery.Refuses ? "Battery empty: charge it." : "The battery was empty.", Font.Small);
        frame.Text(0, 39, kept ? "Frames and settings kept." : "Nothing is kept.", Font.Small);
    }

    private void Heading(Frame frame, string what, int part, int whole)
    {
        frame.Text(0, 0, what, Font.Small);
        _line.Clear().AddNumber(part);
        if (whole > 0) _line.Add('/').AddNumber(whole);
        frame.TextRight(128, 0, _line, Font.Small);
        frame.HLine(0, 9, Frame.Width);
    }

    // Tenths below ten minutes, so that the number is seen to move; minutes from a hundred seconds on.
    private void Countdown(Frame frame, long leftUs, Font font, int right)
    {
        if (leftUs < 0) leftUs = 0;
        long tenths = (leftUs + 99_999) / 100_000;
        _line.Clear();
        if (tenths < 1000) _line.AddNumber(tenths, 1);
        else _line.AddSeconds((leftUs + 999_999) / 1_000_000);
        frame.TextCentre(0, right, font == Font.Huge ? 12 : 11, _line, tenths < 36000 ? font : Font.Large);
    }

    private void Contacts(Frame frame)
    {
        frame.Icon(100, 56, _desk.Player.HalfPressClosed ? Icon.ContactClosed : Icon.ContactOpen);
        frame.Icon(115, 56, _desk.Player.ShutterClosed ? Icon.ContactClosed : Icon.ContactOpen);
    }
}

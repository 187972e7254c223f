using Intervalometer.Core.Light;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <summary>The screen at the end of a run: what was taken, how long the last frame was, what did not go as planned, and how to take the next frame.</summary>
public sealed class EndScreen
{
    // How many frames were taken, and its sign; below that how long the last was open, what goes on, and what was off the plan.
    private const int FramesY = 14;
    private const int SignY = 17;
    private const int CautionY = 15;
    private const int OpenY = 30;
    private const int AfterY = 39;
    internal const int OffY = 48;

    private readonly RunLink _link;
    private readonly BoxHealth _health;
    private readonly SensedLight _light;

    /// <summary>Creates the screen.</summary>
    public EndScreen(RunLink link, BoxHealth health, SensedLight light)
    {
        _light = light;
        _link = link;
        _health = health;
    }

    /// <summary>Draws the screen. Allocates nothing.</summary>
    public void Draw(Frame frame, RunReport run, long nowUs)
    {
        bool failed = run.State == RunState.Failed;
        bool stopped = run.State == RunState.Stopped;
        bool taken = run.FramesStarted >= run.FramesPlanned;
        CardPainter.Title(frame, failed ? "STOPPED BY THE BOX" : stopped ? "STOPPED" : run.EndedEarly ? "ENDED BEFORE ITS PLAN" : "DONE");
        frame.Icon(LeftX, failed ? CautionY : SignY, failed ? Icon.Caution : stopped ? Icon.ContactOpen : Icon.Tick);
        frame.Line.Clear();
        if (run.OnWaves) frame.Line.AddNumber(run.WavesFired).Add(run.WavesFired == 1 ? " wave" : " waves");
        else if (run.HeldDrive) frame.Line.Add(run.FramesStarted == 0 ? "not held" : "held drive");
        else if (taken) frame.Line.AddNumber(run.FramesStarted).Add(run.FramesStarted == 1 ? " frame" : " frames");
        else frame.Line.AddNumber(run.FramesStarted).Add(" of ").AddNumber(run.FramesPlanned).Add(run.FramesPlanned > 9 ? "" : " frames");
        frame.Text(BesideSignX + 2, FramesY, frame.Line, Font.Medium);
        if (failed) frame.Text(LeftX, OpenY, FailureWords(run.Failure), Font.Small);
        else if (stopped) DrawCut(frame, run, nowUs);
        else if (_health.Battery.Refuses || run.EndedEarly) DrawBatteryEnd(frame);
        else DrawLength(frame);
        DrawOff(frame, run);
        frame.Text(LeftX, HintY, "Select: again  Up/Down: 1 st", Font.Small);
    }

    private string FailureWords(PlayerFailure failure) => failure switch
    {
        PlayerFailure.TooLate => "The next came too late.",
        PlayerFailure.LimiterOff => _link.Limiter > LimiterTrouble.StaysOff ? "A contact failed: it ended." : "Limiter off: none taken.",
        _ => "The plan was broken.",
    };

    // How long the shutter was open in the last frame, from the writes of its contact or from the camera's dial.
    private void DrawLength(Frame frame)
    {
        FrameRing frames = _link.Frames;
        if (frames.Total == 0) return;
        TakenCard.Length(frame.Line.Clear().Add("Open "), frames.ExposureUs(frames.Total - 1));
        frame.Text(LeftX, OpenY, frame.Line, Font.Medium);
    }

    // What is left after a stop. A frame that the camera's own dial times goes on, and one that the box timed was cut.
    private void DrawCut(Frame frame, RunReport run, long nowUs)
    {
        frame.Text(LeftX, OpenY, "Both contacts are open.", Font.Small);
        frame.Line.Clear();
        if (_link.Frames.CutUs > 0) frame.Line.Add("Last frame cut: ").AddNumber(_link.Frames.CutUs / 100_000, 1).Add(" s");
        else if (run.FramesStarted > 0 && nowUs < run.FrameEndUs)
        {
            frame.Line.Add("CAMERA GOES ON ");
            // The dial goes to 30 s at the most, so tenths of a second are enough.
            frame.Line.AddNumber((run.FrameEndUs - nowUs + 99_999) / 100_000, 1).Add(" s");
        }
        else if (run.MirrorUp) frame.Line.Add("The mirror may be up.");
        frame.Text(LeftX, AfterY, frame.Line, Font.Small);
    }

    // What did not go as planned, from the writes of the contacts.
    private void DrawOff(Frame frame, RunReport run)
    {
        FrameRing frames = _link.Frames;
        frame.Line.Clear();
        if (frames.InDoubt > 0) frame.Line.Add("Length in doubt: ").AddNumber(frames.InDoubt);
        else if (frames.Off > 0)
        {
            frame.Line.AddNumber(frames.Off).Add(frames.Off == 1 ? " was " : " off, worst ");
            frame.Line.AddNumber((frames.WorstOffUs + 50_000) / 100_000, 1).Add(!frames.WorstWasLong ? " s late" : frames.Off == 1 ? " s too long" : " s over");
        }
        else if (run.OnWaves)
        {
            RunScreen.DrawMissed(frame, run);
            if (run.WavesMissed > 0) return;
        }
        else if (run.PlannedUs > 0) AddLight(frame.Line, frames.Total - 1);
        else if (run.FollowsUpToUs > 0) frame.Line.Add(SensedLight.FromWords(_light.Series.From)).Add(" to the last");
        else if (run.AnswerUs > 0 && frames.Total > 0) RunScreen.AgainstAnswer(frame.Line, frames.ExposureUs(frames.Total - 1), run.AnswerUs);
        if (frame.Line.Length == 0) frame.Line.Add("Fire, Back: close this");
        frame.Text(LeftX, OffY, frame.Line, Font.Small);
    }

    // What ended a frame that the light could end, and the share of the light that it got.
    private void AddLight(FrameText line, int frame)
    {
        LightNotes notes = _light.Series.Notes;
        LightEnd end = notes.End(frame);
        if (end == LightEnd.None) return;
        line.Add(SensedLight.EndWords(end)).Add(end == LightEnd.Estimated ? ", about " : ": ").AddNumber(notes.Thousandths(frame) / 10).Add(" %");
    }

    private void DrawBatteryEnd(Frame frame)
    {
        bool kept = _health.MemoryFitted && _health.Memory == MemoryTrouble.None;
        frame.Text(LeftX, OpenY, _health.Battery.Refuses ? "Battery empty: charge it." : "The battery was empty.", Font.Small);
        frame.Text(LeftX, AfterY, kept ? "Frames and settings kept." : "Nothing is kept.", Font.Small);
    }
}

using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <summary>
/// The screen while a run is on: what happens now, a large countdown to what comes next, how the camera must be set, and which buttons act.
/// It is drawn many times during a run, so it allocates nothing.
/// </summary>
public sealed class RunScreen
{
    // The line that names the buttons changes at this interval, µs.
    private const long KeysUs = 2_000_000;

    private const long TenthUs = 100_000;

    // What stands below the countdown: a line in medium letters, the bar, or the band of the waves.
    private const int BelowFigureY = 40;
    private const int BarY = 48;
    private const int BarRows = 6;
    private const int BandY = 37;

    // A countdown beside a chance ends here, and the word under the chance begins in this row.
    private const int BesideChanceX = 84;
    private const int ChanceWordY = 26;

    // A sign, and the words beside it: a question, or that the box waits.
    private const int SignX = 4;
    private const int SignY = 20;
    private const int AskX = 22;
    private const int AskY = 13;
    private const int WaitingX = 26;
    private const int WaitingY = 17;

    // How to hold Mark, in two lines.
    private const int HoldY = 14;

    // The signs of the two contacts in the last line.
    private const int HalfPressX = 100;
    private const int ShutterX = 115;

    private readonly RunLink _link;
    private readonly BoxSettings _settings;
    private readonly EndScreen _end;
    private readonly SensedLight _light;

    /// <summary>Creates the screen.</summary>
    public RunScreen(RunLink link, BoxSettings settings, BoxHealth health, SensedLight light)
    {
        _end = new EndScreen(link, health, light);
        _light = light;
        _link = link;
        _settings = settings;
    }

    /// <summary>The time between redraws, µs.</summary>
    public const long RedrawUs = 100_000;

    // The question and its answer alternate at this interval, µs.
    private const long AskUs = 1_000_000;

    /// <summary>How the camera must be set for what was offered last: B, or a time on its dial.</summary>
    public string CameraSet { get; set; } = "";

    /// <summary>Draws the screen.</summary>
    public void Draw(Frame frame, long nowUs)
    {
        RunReport run = _link.Report;
        RunState state = run.State;
        if (state == RunState.Plan) DrawPlan(frame, run, nowUs);
        else if (run.Running) DrawWaves(frame, run, nowUs);
        else _end.Draw(frame, run, nowUs);
    }

    /// <summary>True while the picture changes by itself: during a run, and after it while the camera still exposes.</summary>
    public bool Moves(long nowUs) => _link.Report.Running || nowUs < _link.Report.FrameEndUs + 2 * RedrawUs;

    private void DrawPlan(Frame frame, RunReport run, long nowUs)
    {
        long start = run.FrameStartUs;
        long end = run.FrameEndUs;
        bool exposing = run.FramesStarted > 0 && nowUs < end && nowUs >= start;
        bool byHand = exposing && run.AnswerUs > 0;
        if (exposing && _light.FrameOpen)
        {
            DrawByLight(frame, nowUs);
            Keys(frame, run, nowUs);
            return;
        }
        bool follows = run.FollowsUpToUs > 0;
        Heading(frame, byHand ? "TIMED BY HAND" : exposing ? follows ? _light.SeriesWords : "EXPOSING" : run.FramesStarted == 0 ? "STARTS IN" : "NEXT FRAME IN", run.FramesStarted, run.FramesPlanned);
        if (byHand)
        {
            Large(frame, (nowUs - start) / TenthUs, Font.Large, RightX);
            AgainstAnswer(frame.Line.Clear(), nowUs - start, run.AnswerUs);
            // When the answer is hours long, the line can be too long for the larger letters.
            frame.TextCentre(LeftX, RightX, BelowFigureY, frame.Line, Font.Medium.WidthOf(frame.Line) <= Frame.Width ? Font.Medium : Font.Small);
        }
        else if (exposing)
        {
            Countdown(frame, end - nowUs, Font.Huge, RightX);
            frame.Progress(LeftX, BarY, Frame.Width, BarRows, nowUs - start, end - start);
        }
        else if (run.NextUs != long.MaxValue && run.FramesStarted > 0)
        {
            Countdown(frame, run.NextUs - nowUs, Font.Huge, RightX);
            if (!follows || _light.Series.NextUs == 0) frame.Line.Clear();
            else TakenCard.Length(frame.Line.Clear().Add(SensedLight.FromWords(_light.Series.From)).Add(": next "), _light.Series.NextUs);
            frame.Text(LeftX, Line5Y, frame.Line, Font.Small);
        }
        else if (run.NextUs != long.MaxValue)
        {
            Countdown(frame, run.NextUs - nowUs, Font.Large, RightX);
            frame.Line.Clear().Add("Camera: ").Add(CameraSet);
            frame.TextCentre(LeftX, RightX, BelowFigureY, frame.Line, Font.Medium);
        }
        Keys(frame, run, nowUs);
    }

    // Draws the time left at the present light, and how much light is collected. While the sensor cannot be trusted, it says why.
    private void DrawByLight(Frame frame, long nowUs)
    {
        long thousandths = Elementary.Round(_light.Sum.Share(nowUs) * 1000);
        CardPainter.Title(frame, _light.FrameWords);
        frame.Line.Clear().AddNumber(thousandths / 10).Add(" %");
        frame.TextRight(RightX, HeadingY, frame.Line, Font.Small);
        Countdown(frame, _light.EndUs - nowUs, Font.Huge, RightX);
        frame.Progress(LeftX, BarY, Frame.Width, BarRows, thousandths < 1000 ? thousandths : 1000, 1000);
    }

    private void DrawWaves(Frame frame, RunReport run, long nowUs)
    {
        RunState state = run.State;
        string what = state switch
        {
            RunState.AwaitMark => run.AsksForHolds ? "HOLD MARK" : _settings.Waves.Way == Core.Swash.FiringWay.OnArrival ? "MARK THE ARRIVAL" : "MARK TO FIRE",
            RunState.AwaitWave => "WAVE IN",
            RunState.OnWave => "ON THE WAVE",
            _ => "MARK NEXT TURN",
        };
        Heading(frame, what, run.FramesOnWaves, _settings.Waves.Waves * run.FramesPlanned);
        bool waits = state == RunState.AwaitMark && !run.AsksForHolds;
        bool told = waits && run.ChancePercent >= 0;
        if (told) WavesCard.DrawNumber(frame, HeadlineY, run.ChancePercent, _link.Sea, WavesCard.FramesThatFit(_link.Sea, _settings), _settings.Waves.FramesPerWave);
        else if (state == RunState.AwaitWave && run.ChancePercent >= 0)
        {
            frame.Line.Clear().AddNumber(run.ChancePercent).Add(" %");
            frame.TextRight(RightX, HeadlineY, frame.Line, Font.Medium);
            frame.TextRight(RightX, ChanceWordY, "chance", Font.Small);
        }
        if (state == RunState.AwaitWave)
        {
            Countdown(frame, run.NextUs - nowUs, Font.Large, BesideChanceX);
        }
        else if (state == RunState.OnWave)
        {
            Countdown(frame, run.FrameEndUs - nowUs, Font.Huge, RightX);
        }
        else if (state == RunState.AskMark)
        {
            frame.Icon(SignX, SignY, Icon.Caution);
            frame.Text(AskX, AskY, _link.Sea.Ready ? "Rhythm is old," : "No rhythm yet,", Font.Medium);
            frame.Text(AskX, AskY + 16, "nothing fires", Font.Medium);
        }
        else if (run.AsksForHolds)
        {
            frame.Text(LeftX, HoldY, "down as a wave arrives,", Font.Small);
            frame.Text(LeftX, HoldY + 11, "up as it turns back", Font.Small);
        }
        else if (!told)
        {
            frame.Icon(SignX, SignY, Icon.Wave);
            frame.Text(WaitingX, WaitingY, "waiting", Font.Medium);
        }
        if (state == RunState.AskMark || state == RunState.OnWave) DrawMissed(frame, run);
        else if (run.Doubtful) DrawDoubt(frame);
        else if (_settings.Waves.Way == Core.Swash.FiringWay.OnArrival && WavesCard.TurnIsSurer(_link.Sea, run.ChancePercent)) DrawSurer(frame);
        else if (told && WavesCard.IsTooLong(run.ChancePercent)) frame.Text(LeftX, Line4Y, WavesCard.TooLongWords, Font.Small);
        else WaveBand.Draw(frame, BandY, _link.Sea, state == RunState.AwaitWave ? run.NextUs : 0, nowUs);
        Keys(frame, run, nowUs);
    }

    // The chance after the mark was worked out on the WAVES card. A run on arrivals does not change it.
    private void DrawSurer(Frame frame)
    {
        int marked = _link.Sea.Percent(Core.Swash.FiringAdvice.AfterMark);
        frame.Text(LeftX, BandY + 2, WavesCard.TurnIsSurerWords, Font.Small);
        if (marked >= 0) frame.Line.Clear().Add("After mark would be ").AddNumber(marked).Add(" %");
        else frame.Line.Clear().Add("On WAVES set: after mark");
        frame.Text(LeftX, Line5Y, frame.Line, Font.Small);
    }

    private void DrawDoubt(Frame frame)
    {
        bool arrivals = _settings.Waves.Way == Core.Swash.FiringWay.OnArrival;
        frame.Text(LeftX, BandY, arrivals ? "A tap means an arrival: hold" : "The marks disagree: mark", Font.Small);
        frame.Text(LeftX, BandY + LineRows, arrivals ? "Mark down until it turns." : "only where the water turns.", Font.Small);
    }

    internal static void DrawMissed(Frame frame, RunReport run)
    {
        if (run.WavesMissed == 0) return;
        frame.Line.Clear().Add("camera was busy for ").AddNumber(run.WavesMissed);
        frame.Text(LeftX, EndScreen.OffY, frame.Line, Font.Small);
    }

    private static void Heading(Frame frame, string what, int part, int whole)
    {
        CardPainter.Title(frame, what);
        frame.Line.Clear().AddNumber(part);
        if (whole > 0) frame.Line.Add('/').AddNumber(whole);
        frame.TextRight(RightX, HeadingY, frame.Line, Font.Small);
    }

    /// <summary>Adds how far an exposure timed by hand is from the worked-out one, such as "-1.3 st of 8.0 s". Allocates nothing.</summary>
    /// <param name="line">The line to add to.</param>
    /// <param name="openUs">How long the shutter has been open or was open, µs.</param>
    /// <param name="answerUs">The worked-out exposure, µs.</param>
    internal static void AgainstAnswer(FrameText line, long openUs, long answerUs)
    {
        // divisor: an exposure by hand has an answer above zero.
        double ratio = answerUs <= 0 || openUs <= 0 ? 0 : (double)openUs / answerUs;
        long tenths = ratio <= 0 ? 0 : Elementary.Round(Elementary.Log2(ratio) * 10);
        if (openUs > 0) line.Add(tenths < 0 ? '-' : '+').AddNumber(tenths < 0 ? -tenths : tenths, 1).Add(" st of ");
        if (answerUs < 1000 * TenthUs) line.AddNumber((answerUs + TenthUs / 2) / TenthUs, 1).Add(" s");
        else line.AddSeconds((answerUs + 500_000) / 1_000_000);
    }

    // The time is rounded up, so that the last tenth shown is still to come.
    private static void Countdown(Frame frame, long leftUs, Font font, int right) => Large(frame, leftUs <= 0 ? 0 : (leftUs + TenthUs - 1) / TenthUs, font, right);

    // Below 100 s tenths of a second are shown, so that one sees the number move. From 100 s on it is minutes and seconds.
    private static void Large(Frame frame, long tenths, Font font, int right)
    {
        frame.Line.Clear();
        if (tenths < 1000) frame.Line.AddNumber(tenths, 1);
        else frame.Line.AddSeconds((tenths + 9) / 10);
        // The last second of an hour is rounded up to 1:00:00, which is too long for the larger digits.
        frame.TextCentre(LeftX, right, font == Font.Huge ? HeadlineY : FigureY, frame.Line, tenths <= 35_990 ? font : Font.Large);
    }

    // Names the buttons that act, and shows the two contacts as they are.
    private void Keys(Frame frame, RunReport run, long nowUs)
    {
        bool handEnds = run.AnswerUs > 0 && run.ShutterClosed;
        frame.Text(LeftX, HintY, _settings.Locked ? "Locked. Fire stops" : run.PressHeldUp ? Asks(nowUs) : handEnds ? "Fire closes it" : nowUs / KeysUs % 3 == 2 ? AboutMark(run) : "Stop: Fire, hold Back", Font.Small);
        frame.Icon(HalfPressX, HintY, run.HalfPressClosed ? Icon.ContactClosed : Icon.ContactOpen);
        frame.Icon(ShutterX, HintY, run.ShutterClosed ? Icon.ContactClosed : Icon.ContactOpen);
    }

    // A chance from a few backwashes may be ten points off, so each mark at a turn is better held until as many were timed as the box keeps.
    private string AboutMark(RunReport run) => run.State != RunState.Plan && _settings.Waves.Way != Core.Swash.FiringWay.OnArrival && _link.Sea.AsksForLengths ? "Hold as it runs back" : "Mark: marks a wave";

    private static string Asks(long nowUs) => nowUs / AskUs % 2 == 0 ? "PRESSED TWICE?" : "Fire stops";
}

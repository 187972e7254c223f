using System.Globalization;
using System.Text.RegularExpressions;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host;

/// <summary>
/// What a hand at the sea does that the box could misread. Every press is an edge at a pin, also those that set the card; what is judged is what
/// the contacts did to the camera and what stands on the display. The seas are regular on purpose, so that the right answer needs no model.
/// </summary>
[TestClass]
public partial class WaveCasesThroughPinsTests
{
    private const long Second = 1_000_000;
    private const long Tap = 120_000;
    private const long Glove = 600_000;

    // The card WAVES is open from here on, and the first wave comes later still.
    private const long Open = 5 * Second;

    [TestMethod]
    public void ANewBoxIsSetToFireALittleAfterTheMark()
    {
        using Board board = OnWaves();
        StringAssert.StartsWith(WordsAt(board, Open), "WAVES. after mark.", "what a new box shows before anything was set");
        // The first press of Mark in a run opens the shutter, but not at once: the water has only begun to turn.
        board.Press(Button.Fire, Open + 100_000, Tap);
        board.Press(Button.Mark, 10 * Second, Tap);
        board.RunUntil(20 * Second);
        Assert.HasCount(1, board.Camera.Frames);
        Assert.AreEqual(0.3, (board.Camera.Frames[0].OpenUs - 10 * Second) / 1e6, 0.02, "seconds after the mark, while nothing is known of this sea");
    }

    [TestMethod]
    [DataRow(8.0, 3.5, 2.0, DisplayName = "one wave arrives two seconds after a turn")]
    [DataRow(8.0, 5.2, double.NaN, DisplayName = "the period is only 1.54 times the way up")]
    [DataRow(8.0, 5.2, 0.9, DisplayName = "both")]
    public void OnArrivalsEveryPressStaysAnArrival(double period, double delay, double afterTurn)
    {
        using Board board = OnWaves();
        Set(board, Open, FiringWay.OnArrival);
        board.Box!.Settings.Waves.Waves = 0;
        board.Press(Button.Fire, 10 * Second, Tap);
        double at = 15;
        var arrivals = new List<double>();
        for (int wave = 0; wave < 28; wave++)
        {
            // The first four are held up to their turn. The wave in the middle comes soon after the turn of the one before.
            if (wave == 14 && !double.IsNaN(afterTurn)) at += delay + afterTurn - period;
            board.Press(Button.Mark, Us(at), wave < 4 ? Us(delay) : Tap);
            if (wave >= 4) arrivals.Add(at);
            at += period;
        }
        board.RunUntil(Us(at + 5));
        double[] opened = [.. board.Camera.Frames.Select(f => f.OpenUs / 1e6)];
        foreach (double arrival in arrivals)
        {
            int frames = opened.Count(o => o >= arrival + delay && o <= arrival + delay + 2);
            Assert.AreEqual(1, frames, $"frames within two seconds after the turn of the wave that arrived at {arrival:F1} s; all opened at {string.Join(", ", opened.Select(o => o.ToString("F1", CultureInfo.InvariantCulture)))}");
        }
    }

    [TestMethod]
    public void OnArrivalsATurnThatWasNotMarkedWhileLearningTeachesNothingWrong()
    {
        using Board board = OnWaves();
        Set(board, Open, FiringWay.OnArrival);
        board.Box!.Settings.Waves.Waves = 0;
        board.Press(Button.Fire, 10 * Second, Tap);
        // Nobody held the button up to the turn of the first wave.
        board.Press(Button.Mark, 15 * Second, Tap);
        for (int wave = 1; wave < 5; wave++) board.Press(Button.Mark, (15 + 8 * wave) * Second, 3_500_000);
        for (int wave = 5; wave < 20; wave++) board.Press(Button.Mark, (15 + 8 * wave) * Second, Tap);
        board.RunUntil(180 * Second);
        double[] opened = [.. board.Camera.Frames.Select(f => f.OpenUs / 1e6)];
        for (int wave = 5; wave < 20; wave++)
            Assert.AreEqual(1, opened.Count(o => o >= 15 + 8 * wave + 3.5 && o <= 15 + 8 * wave + 5.5), $"wave {wave}, its turn at {15 + 8 * wave + 3.5} s");
    }

    [TestMethod]
    public void WhoMarksBothEventsAndThenFiresOnTheRhythmIsToldAndGetsHalfTheChance()
    {
        // Waves every 8 s turn 3.5 s after their arrival, and run back for 3.6 s.
        using Board both = OnWaves(), turns = OnWaves();
        Set(both, Open, FiringWay.OnRhythm);
        Set(turns, Open, FiringWay.OnRhythm);
        for (int wave = 0; wave < 14; wave++)
        {
            both.Press(Button.Mark, (15 + 8 * wave) * Second, Tap);
            both.Press(Button.Mark, Us(18.5 + 8 * wave), 3_600_000);
            turns.Press(Button.Mark, Us(18.5 + 8 * wave), 3_600_000);
        }
        string card = WordsAt(both, Us(18.5 + 8 * 13 + 3.9));
        StringAssert.Contains(card, "doubtful", card);
        both.Press(Button.Fire, both.Time.NowUs + 100_000, Tap);
        turns.RunUntil(both.Time.NowUs - 100_000);
        turns.Press(Button.Fire, turns.Time.NowUs + 100_000, Tap);
        string told = WordsAt(both, both.Time.NowUs + 900_000), sure = WordsAt(turns, turns.Time.NowUs + 900_000);
        StringAssert.Contains(told, "The marks disagree: mark", told);
        StringAssert.Contains(told, "only where the water turns", told);
        Assert.DoesNotContain("disagree", sure);
        int doubted = Chance(told), believed = Chance(sure);
        Assert.IsTrue(doubted is >= 0 and <= 50, $"at most one frame in two while the marks contradict each other: {told}");
        Assert.IsTrue(believed > 60, $"a regular sea marked at its turns: {sure}");
    }

    [TestMethod]
    public void SixteenPressesWithGlovesAreNoBackwashesAndTheCardGoesOnAskingForThem()
    {
        using Board board = OnWaves();
        for (int i = 0; i < 16; i++) board.Press(Button.Mark, (10 + 8 * i) * Second, Glove);
        string even = WordsAt(board, 136 * Second + 1_900_000), odd = WordsAt(board, 138 * Second + 1_900_000);
        string words = even + " " + odd;
        Assert.AreEqual(16, board.Box!.Link!.Sea.MarkCount, "all sixteen are marks");
        Assert.DoesNotContain("lasts", words, "no length is made up from how long a glove presses");
        Assert.DoesNotContain("fits", words);
        Assert.DoesNotContain("%", words, "and no chance");
        StringAssert.Contains(words, "Hold Mark as it runs back", "it says what is missing");
        // Six true ones, then gloves again: what the card shows are the six.
        for (int i = 0; i < 6; i++) board.Press(Button.Mark, (145 + 8 * i) * Second, 3 * Second);
        for (int i = 0; i < 6; i++) board.Press(Button.Mark, (193 + 8 * i) * Second, Glove);
        words = WordsAt(board, 237 * Second);
        StringAssert.Contains(words, "lasts 3.0 s", words);
    }

    [TestMethod]
    public void AfterTenMinutesWithoutAMarkOnePressDoesNotBringTheOldRhythmBack()
    {
        using Board board = OnWaves();
        Set(board, Open, FiringWay.OnRhythm);
        for (int i = 0; i < 16; i++) board.Press(Button.Mark, (15 + 8 * i) * Second, 3 * Second);
        long later = (15 + 8 * 15 + 600) * Second;
        string words = WordsAt(board, later - Second);
        StringAssert.Contains(words, "The rhythm is old: mark again", words);
        board.Press(Button.Mark, later, Tap);
        board.Press(Button.Fire, later + Second, Tap);
        words = WordsAt(board, later + 3 * Second);
        StringAssert.Contains(words, "Rhythm is old", words);
        StringAssert.Contains(words, "nothing fires", words);
        board.RunUntil(later + 7 * Second);
        Assert.HasCount(0, board.Camera.Frames, "one press says nothing about the sea of now");
        // Two more, one period apart, confirm the rhythm.
        for (int i = 1; i < 3; i++) board.Press(Button.Mark, later + 8 * i * Second, Tap);
        board.RunUntil(later + 40 * Second);
        Assert.IsTrue(board.Camera.Frames.Count > 0 && board.Camera.Frames[0].OpenUs > later + 16 * Second, "it fires once the marks agree again");
    }

    [TestMethod]
    public void FiveFramesThatDoNotFitOnAWaveAreReportedAndTheRunCountsEachOfThem()
    {
        using Board board = OnWaves();
        // The third field of the card, four steps up; then Back.
        for (int i = 0; i < 3; i++) board.Press(Button.Select, Open + i * 400_000, Tap);
        for (int i = 3; i < 7; i++) board.Press(Button.Up, Open + i * 400_000, Tap);
        board.Press(Button.Back, Open + 7 * 400_000, Tap);
        // Backwashes of 3 s. Five frames of a fifth of a second or so, with 0.3 s between them, take less; five of a second take more.
        board.RunUntil(Open + 8 * 400_000);
        Assert.AreEqual(5, board.Box!.Settings.Waves.FramesPerWave);
        board.Box.Settings.StepShutter(18);
        for (int i = 0; i < 16; i++) board.Press(Button.Mark, (15 + 8 * i) * Second, 3 * Second);
        string words = WordsAt(board, 140 * Second + 500_000) + " " + WordsAt(board, 142 * Second + 500_000);
        Match fit = Fit().Match(words);
        Assert.IsTrue(fit.Success, words);
        int frames = int.Parse(fit.Groups[1].Value, CultureInfo.InvariantCulture);
        Assert.IsTrue(frames is 1 or 2, $"two frames of a second with a gap of 0.3 s take 2.3 s of 3, three take 3.6 s: {words}");
        StringAssert.Contains(words, $"Too long: {frames} of 5 frames fit", words);
        board.Press(Button.Fire, 144 * Second, Tap);
        board.Press(Button.Mark, 146 * Second, Tap);
        // The wave takes five frames of a second and four gaps: 6.2 s. Its third frame is on when 3 s have gone by.
        StringAssert.Contains(WordsAt(board, 146 * Second + 3_300_000), "3/25", "the third frame of twenty-five is on");
        words = WordsAt(board, 155 * Second);
        StringAssert.Contains(words, "5/25", words);
        Assert.HasCount(5, board.Camera.Frames, "the camera took as many");
        board.Press(Button.Mark, 156 * Second, Tap);
        words = WordsAt(board, 165 * Second);
        StringAssert.Contains(words, "10/25", words);
        Assert.HasCount(10, board.Camera.Frames);
    }

    private static long Us(double seconds) => (long)Math.Round(seconds * 1e6);

    // The chance in figures: "45 %".
    private static int Chance(string words) => Percent().Match(words) is { Success: true } m ? int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture) : -1;

    private static Board OnWaves()
    {
        var board = new Board(new BoardOptions { Camera = new CameraOptions { Dial = CameraDial.Bulb } });
        for (int i = 0; i < 3; i++) board.Press(Button.Down, 2 * Second + i * 500_000, Tap);
        return board;
    }

    // Select opens the first field of the card, which is the way of firing; each Up goes on by one way, and Back closes the field.
    private static void Set(Board board, long fromUs, FiringWay way)
    {
        int ups = way - FiringWay.AfterMark;
        board.Press(Button.Select, fromUs, Tap);
        for (int i = 0; i < ups; i++) board.Press(Button.Up, fromUs + (i + 1) * 400_000, Tap);
        board.Press(Button.Back, fromUs + (ups + 1) * 400_000, Tap);
        string words = WordsAt(board, fromUs + (ups + 3) * 400_000);
        StringAssert.Contains(words, way == FiringWay.OnArrival ? "on arrival" : "on rhythm", words);
    }

    private static string WordsAt(Board board, long us)
    {
        board.RunUntil(us);
        return DisplayReader.Words(board.Display.Model.Pixel);
    }

    [GeneratedRegex(@"(\d) of 5 fit")]
    private static partial Regex Fit();

    [GeneratedRegex(@"(\d+)\.? ?%")]
    private static partial Regex Percent();
}

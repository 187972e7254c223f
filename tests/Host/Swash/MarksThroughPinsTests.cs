using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host;

/// <summary>What the waves' card says of marks that cannot all be turns, and of an exposure that cannot fit: presses go in at the pins, words are read off the display.</summary>
[TestClass]
public class MarksThroughPinsTests
{
    private const long Second = 1_000_000;
    private const long Tap = 120_000;

    [TestMethod]
    public void LongAndShortGapsInTurnAreQuestioned()
    {
        // An arrival and a turn marked of every wave: 3 s and 5 s in turn, the longer gap now and then a little longer still.
        using Board board = OnWaves();
        long at = 5 * Second;
        for (int i = 0; i < 60; i++)
        {
            board.Press(Button.Mark, at + i % 2 * 3 * Second, Tap);
            if (i % 2 == 1) at += 8 * Second + i * 7919 % 5 * 100_000;
        }
        string words = WordsAt(board, at - 2 * Second);
        StringAssert.Contains(words, "doubtful", words);
        StringAssert.Contains(words, "Mark only where it turns", words);
    }

    [TestMethod]
    public void RegularGapsAndAFewUnevenOnesAreNotQuestioned()
    {
        using Board regular = OnWaves();
        long at = 5 * Second;
        for (int i = 0; i < 60; i++, at += 8 * Second + i * 7919 % 5 * 100_000) regular.Press(Button.Mark, at, Tap);
        string words = WordsAt(regular, at - 4 * Second);
        StringAssert.Contains(words, "very steady", words);

        using Board few = OnWaves();
        for (int i = 0; i < 16; i++) few.Press(Button.Mark, 5 * Second + i * 4 * Second + i % 2 * Second, Tap);
        words = WordsAt(few, 70 * Second);
        Assert.DoesNotContain("doubtful", words, "a dozen gaps between waves are too few to prove anything");
        StringAssert.Contains(words, "uneven, bar: backwash", words);
    }

    [TestMethod]
    public void WhatCannotFitHasAChanceOfNoughtAndNothingIsRecommended()
    {
        using Board board = OnWaves();
        // 8 s where the water runs back for 4 s.
        board.Box!.Settings.StepShutter(27);
        for (int i = 0; i < 16; i++) board.Press(Button.Mark, (5 + 10 * i) * Second, 4 * Second);
        string words = WordsAt(board, 161 * Second);
        StringAssert.Contains(words, "on backwash", words);
        StringAssert.Contains(words, "lasts 4.0 s", words);
        StringAssert.Contains(words, "Too long: expose shorter", words);
        Assert.AreEqual(0, board.Box.Link!.Sea.Percent((int)FiringWay.AfterMark));
        // Select held takes what the card recommends: nothing, so that the way stays as it was set.
        board.Press(Button.Select, 161 * Second + 200_000, Second);
        board.RunUntil(164 * Second);
        Assert.AreEqual(FiringWay.AfterMark, board.Box.Settings.Waves.Way);
        Assert.HasCount(0, board.Camera.Frames);
    }

    [TestMethod]
    public void AFrameLikelierToFailThanToSucceedIsCalledTooLongOnTheCardAndInTheRun()
    {
        using Board board = OnWaves();
        // 2.5 s, where one backwash in four lasts 5 s and the others 2 s.
        board.Box!.Settings.StepShutter(22);
        for (int i = 0; i < 16; i++) board.Press(Button.Mark, (5 + 10 * i) * Second, (i % 4 == 3 ? 5 : 2) * Second);
        string words = WordsAt(board, 161 * Second);
        Assert.IsTrue(board.Box.Link!.Sea.Percent((int)FiringWay.AfterMark) is > 20 and < FiringAdvice.LeastPercent, words);
        StringAssert.Contains(words, "Too long: expose shorter", words);
        Assert.AreEqual(-1, board.Box.Link.Sea.Recommended, "nothing is recommended for such an exposure");
        board.Press(Button.Fire, 161 * Second + 200_000, Tap);
        words = WordsAt(board, 163 * Second);
        StringAssert.Contains(words, "Too long: expose shorter", words);
        board.Press(Button.Fire, 163 * Second + 200_000, Tap);
        board.Press(Button.Back, 165 * Second, Tap);
        board.RunUntil(166 * Second);
        // Two stops shorter the frame fits on the short ones too.
        board.Box.Settings.StepShutter(-6);
        words = WordsAt(board, 169 * Second);
        Assert.DoesNotContain("Too long", words);
        Assert.AreEqual(FiringAdvice.AfterMark, board.Box.Link.Sea.Recommended, words);
    }

    [TestMethod]
    public void ARunAsksToHoldMarkUntilEnoughBackwashesWereTimed()
    {
        using Board board = OnWaves();
        board.Box!.Settings.Waves.Waves = 0;
        for (int i = 0; i < 12; i++) board.Press(Button.Mark, (5 + 10 * i) * Second, 3 * Second);
        board.Press(Button.Fire, 122 * Second, Tap);
        for (int i = 12; i < BackwashLengths.Kept; i++) board.Press(Button.Mark, (5 + 10 * i) * Second, 3 * Second);
        // The line about Mark stands for two seconds of every six.
        string words = WordsAt(board, 6 * 21 * Second - Second);
        StringAssert.Contains(words, "Hold as it runs back", words);
        words = WordsAt(board, 6 * 52 * Second - Second);
        StringAssert.Contains(words, "Hold as it runs back", "31 were timed: " + words);
        words = WordsAt(board, 6 * 54 * Second - Second);
        StringAssert.Contains(words, "Mark: marks a wave", "all 32 were timed: " + words);
    }

    [TestMethod]
    public void TheCardAsksToHoldMarkAsLongAsTheRunDoes()
    {
        using Board board = OnWaves();
        for (int i = 0; i < BackwashLengths.Kept - 1; i++) board.Press(Button.Mark, (5 + 10 * i) * Second, 3 * Second);
        // The last line has two things to say, for two seconds each.
        string words = WordsAt(board, 311 * Second) + WordsAt(board, 313 * Second);
        StringAssert.Contains(words, "Hold Mark as it runs back", "31 were timed: " + words);
        StringAssert.Contains(words, "Fire starts", words);
        board.Press(Button.Mark, 315 * Second, 3 * Second);
        words = WordsAt(board, 321 * Second) + WordsAt(board, 323 * Second);
        Assert.DoesNotContain("Hold Mark", words, "all 32 were timed");
        StringAssert.Contains(words, "Fire starts", words);
    }

    private static Board OnWaves()
    {
        var board = new Board(new BoardOptions());
        for (int i = 0; i < 3; i++) board.Press(Button.Down, 2 * Second + i * 500_000, Tap);
        return board;
    }

    private static string WordsAt(Board board, long us)
    {
        board.RunUntil(us);
        return DisplayReader.Words(board.Display.Model.Pixel);
    }
}

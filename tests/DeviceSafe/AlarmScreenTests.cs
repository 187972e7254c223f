using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>The words of the alarm's screen for each reason, and when its band covers the heading of a run.</summary>
[TestClass]
public class AlarmScreenTests
{
    private const long Second = 1_000_000;

    private static UtcInstant Noon() => new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc();

    // Low water of 1 m at noon and high of 5 m six hours later; the leave-by time of this neck is 13:38, less the minutes taken off.
    private static ShoreDesk Desk(int points)
    {
        PrintedTide tide = new PrintedTide();
        for (int i = 0; i < 4; i++) Assert.IsTrue(tide.Add(Noon().PlusHours(6 * i), i % 2 == 0 ? 1 : 5, i % 2 == 1) == null);
        PathPoint[] path = new PathPoint[points];
        for (int i = 0; i < points; i++) path[i] = new PathPoint("Neck", 3.5, 20, 0.5);
        ShoreSettings settings = new ShoreSettings();
        settings.Use(new CoastPlace("Any", "datum", new GeoPosition(50, -5), new LocalOffset(0), tide, path, 10), settings.Wish);
        return new ShoreDesk(settings, new BoxSettings());
    }

    // With the clock at that many minutes after noon, and everything worked out.
    private static ShoreDesk At(int minutes, int points)
    {
        ShoreDesk desk = Desk(points);
        desk.Clock.Read(Noon().PlusMinutes(minutes), 0);
        Pass(desk, 0, 20);
        desk.SetAlarm(true);
        Pass(desk, 20, 20);
        return desk;
    }

    private static void Pass(ShoreDesk desk, int from, int seconds)
    {
        for (int i = 0; i < seconds * 10; i++) desk.Pass((from * 10 + i) * 100_000L, long.MaxValue, false, false);
    }

    // True when the rows that a line of small text takes show these words at the left edge and nothing else.
    private static bool Says(ShoreDesk desk, int row, string words)
    {
        Frame drawn = new Frame();
        new AlarmScreen(desk).Draw(drawn, 0);
        Frame expected = new Frame();
        expected.Text(0, row, words, Font.Small);
        for (int y = row; y < row + 8; y++)
            for (int x = 0; x < 128; x++)
                if (drawn.Pixel(x, y) != expected.Pixel(x, y)) return false;
        return true;
    }

    [TestMethod]
    public void EachReasonHasItsWords()
    {
        ShoreDesk desk = Desk(1);
        desk.SetAlarm(true);
        Pass(desk, 0, 40);
        Assert.IsTrue(desk.AlarmUp);
        Assert.IsTrue(Says(desk, 18, "The clock was not read yet."));
        desk = At(30, 1);
        desk.Clock.Read(Noon().PlusMinutes(90), 40 * Second);
        Pass(desk, 40, 40);
        Assert.IsTrue(desk.ClockMoved);
        Assert.IsTrue(Says(desk, 18, "The clock was moved."));
        Assert.IsTrue(Says(At(30, 0), 18, "No low point is typed in."));
        Assert.IsTrue(Says(At(20 * 60, 1), 18, "The tide is not known."));
        Assert.IsTrue(Says(At(20 * 60, 1), 28, "Act as if the sea comes."));
        Assert.IsTrue(Says(At(4 * 60, 1), 18, "Neck is cut"));
    }

    // Pixels that are set in the band; the words are dark in a bright band.
    private static int Lit(ShoreDesk desk, long nowUs, int fromX, int toX)
    {
        Frame frame = new Frame();
        new AlarmScreen(desk).Band(frame, nowUs);
        int lit = 0;
        for (int y = 0; y < 10; y++)
            for (int x = fromX; x < toX; x++)
                if (frame.Pixel(x, y)) lit++;
        return lit;
    }

    /// <summary>The band shows for two seconds and the heading for one. The band gives the minutes while some are left.</summary>
    [TestMethod]
    public void TheBandLetsTheHeadingThroughEveryThirdSecond()
    {
        ShoreDesk desk = At(30, 1);
        for (int i = 0; i < 12; i++)
        {
            bool shown = Lit(desk, i * Second + 500_000, 0, 128) > 0;
            Assert.AreEqual(i % 3 != 2, shown);
        }
        // Beside the words of a cut way back there are no minutes: the right edge is bright throughout.
        Assert.AreEqual(300, Lit(At(4 * 60, 1), 0, 98, 128));
        int leave = (int)(desk.Way.LeaveBy.SecondsSince(Noon()) / 60);
        ShoreDesk warning = At(leave - 5, 1);
        Assert.AreEqual((int)WayBackLevel.Warning, (int)warning.Level);
        Assert.IsTrue(Lit(warning, 0, 98, 128) < 300);
        ShoreDesk notice = At(leave - 25, 1);
        Assert.AreEqual((int)WayBackLevel.PackUpSoon, (int)notice.Level);
        Assert.IsTrue(Lit(notice, 0, 98, 128) < 300);
    }
}

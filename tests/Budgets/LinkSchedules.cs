using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;

namespace Intervalometer.Tests.Budgets;

/// <summary>Both threads at work on the link, under every schedule of up to two switches; runs inside a <see cref="WovenBuild"/>.</summary>
public static class LinkSchedules
{
    private const long Second = 1_000_000, TickUs = 10_000;
    private const int FireDown = PressRing.Down | 5;

    private sealed class Lines : IReleaseLines
    {
        public long NowUs { get; set; }

        public List<(ReleaseLine Line, bool Closed, long AtUs)> Changes { get; } = [];

        public bool IsClosed(ReleaseLine line) => Changes.LastOrDefault(c => c.Line == line).Closed;

        public int Frames => Changes.Count(c => c is { Line: ReleaseLine.Shutter, Closed: true });

        public void Set(ReleaseLine line, bool closed) => Changes.Add((line, closed, NowUs));

        public void OpenAll()
        {
            if (IsClosed(ReleaseLine.Shutter)) Set(ReleaseLine.Shutter, false);
            if (IsClosed(ReleaseLine.HalfPress)) Set(ReleaseLine.HalfPress, false);
        }
    }

    /// <summary>A link with what the panel thread does on it and what the release thread does.</summary>
    private sealed class Table
    {
        public Table()
        {
            Link = new RunLink(Lines);
            Link.Desk.Player.WriteAheadUs = 0;
            Link.Desk.Player.CloseDelayUs = 0;
            Link.Desk.Player.OpenDelayUs = 0;
        }

        public Lines Lines { get; } = new();

        public RunLink Link { get; }

        public long NowUs { get; set; } = Second;

        public List<int> Saved { get; } = [];

        public void Prepare(int number)
        {
            if (Link.TryFill() is not FireOrder order) return;
            Fill(order, number);
            Link.Offer();
        }

        // Every part of an order has its number in it, so that a mixture shows.
        public static void Fill(FireOrder order, int number)
        {
            order.OnWaves = false;
            order.Camera.CopyFrom(new CameraProfile { HalfPressLeadMs = 100 * number });
            order.Plan.CopyFrom(new ShotPlan { BoxTimed = true, SettleUs = number * Second, ExposureUs = number * Second });
        }

        public void Fire()
        {
            int done = Link.Fire(NowUs);
            Link.Presses.Add(FireDown | done, NowUs, false);
        }

        // As the panel thread deals with it; the end of a run is read by the press that finds it.
        public void Attend(int number)
        {
            while (Link.Presses.TryTake(out int code, out _))
            {
                if ((code & (PressRing.Started | PressRing.Spent)) != 0 || !Link.WaitsForLast) continue;
                if (Link.State != RunState.Ready)
                {
                    Link.Acknowledge();
                    Link.Decline();
                }
                else Prepare(number);
            }
        }

        public void Pass(int passes = 1)
        {
            for (int i = 0; i < passes; i++)
            {
                NowUs += TickUs;
                Lines.NowUs = NowUs;
                Link.Pass(NowUs);
            }
        }

        public void PlayOut()
        {
            for (int i = 0; i < 2000 && Link.Desk.Running; i++)
            {
                NowUs = Math.Min(Math.Max(NowUs + 1, Link.NextEdgeUs), NowUs + TickUs);
                Lines.NowUs = NowUs;
                Link.Pass(NowUs);
            }
        }

        // The number of the order that was played from a change of the lines on; what is wrong with it when it was a mixture.
        public string Played(int from = 0)
        {
            PlayOut();
            var c = Lines.Changes.Skip(from).ToArray();
            if (c.Length != 4) return $"{c.Length} edges";
            long lead = c[1].AtUs - c[0].AtUs, exposure = c[2].AtUs - c[1].AtUs;
            long number = exposure / Second;
            return exposure == number * Second && lead == number * 100_000 ? $"{number}" : $"a mixture: lead {lead}, exposure {exposure}";
        }
    }

    private delegate string? Check(Table table);

    /// <summary>All of them; the result in words, and an exception for a schedule that goes wrong.</summary>
    public static string Run()
    {
        int schedules = 0;
        schedules += All("an order is filled in again while Fire is pressed", () => With(1), t => t.Prepare(2), t => t.Fire(), OneRun);
        schedules += All("the end is read while Fire is pressed", Ended, ReadAndOffer, t => { t.Pass(); t.Fire(); t.Pass(); }, OneRunOrNone);
        schedules += All("a run is asked to end while it is stopped", Running, t => t.Link.EndBetweenFrames(), t => { t.Fire(); t.Pass(); }, TheNextRunGoesOn);
        schedules += All("presses are taken while others are put in", () => new Table(), t => Take(t, 3), t => Put(t, 3), InOrder);
        schedules += All("frames are read while others are noted", () => new Table(), ReadFrames, NoteFrames, Quiet);
        schedules += All("the end is read while a frame is stopped", Open, ReadEnd, t => { t.Fire(); t.Pass(); }, NothingIsClosed);
        schedules += All("the end is read while the last frame is taken", Open, ReadEnd, t => t.PlayOut(), NothingIsClosed);
        schedules += All("a run is asked to end while its frame is open", Open, t => t.Link.EndBetweenFrames(), t => t.PlayOut(), NothingIsClosed);
        schedules += All("an order is filled in again while a frame is stopped", Open, t => t.Prepare(2), t => { t.Fire(); t.Pass(); }, NothingIsClosed);
        schedules += All("an exposure is said while an earlier one is taken", Following, t => t.Link.FollowTo(3 * Second), t => t.Pass(), TheLastWordCounts);
        schedules += All("frames are saved while one is stopped", Open, SaveFrames, t => { t.Fire(); t.Pass(); }, t => NothingIsClosed(t) ?? (t.Saved.Count <= 1 ? null : "a frame was saved twice"));
        schedules += All("the sea is read while a wave is marked", Marked, ReadSea, MarkOne, Quiet);
        schedules += All("advice is asked for while a wave is marked", Marked, t => t.Link.WantAdvice(2, 0.1), MarkOne, AdviceIsOfOneSea);
        return $"{schedules} schedules of up to two switches";
    }

    /// <summary>The check works: it notices a panel that fills in an order without withdrawing its offer.</summary>
    public static string RunBroken() => Found(() => All("broken", () => With(1), t => Table.Fill(Order(t), 2), t => t.Fire(), OneRun));

    /// <summary>It notices a release thread that opens no contact when it ends a run.</summary>
    public static string RunLeftClosed() => Found(() => All("broken", Open, ReadEnd, t => { t.Fire(); t.Lines.Set(ReleaseLine.Shutter, true); }, NothingIsClosed));

    /// <summary>It notices a frame that the contacts made and that was not recorded.</summary>
    public static string RunUntold() => Found(() => All("broken", Open, ReadEnd, t => { t.PlayOut(); t.Lines.Set(ReleaseLine.Shutter, true); t.Lines.Set(ReleaseLine.Shutter, false); }, NothingIsClosed));

    private static string Found(Func<int> all)
    {
        try
        {
            all();
        }
        catch (InvalidOperationException found)
        {
            return found.Message;
        }
        return "not found";
    }

    private static FireOrder Order(Table table) =>
        (FireOrder)typeof(RunLink).GetField("_order", System.Reflection.BindingFlags.NonPublic | System.Reflection.BindingFlags.Instance)!.GetValue(table.Link)!;

    private static int All(string what, Func<Table> setUp, Action<Table> panel, Action<Table> release, Check check)
    {
        int schedules = 0;
        foreach (bool panelFirst in new[] { true, false })
        {
            Action<Table> first = panelFirst ? panel : release, second = panelFirst ? release : panel;
            int firstPoints = int.MaxValue, secondPoints = int.MaxValue;
            for (int i = 1; i <= firstPoints; i++)
            {
                for (int j = 1; j <= secondPoints; j++)
                {
                    Table table = setUp();
                    (int a, int b) = Turnstile.Play(() => first(table), i, () => second(table), j);
                    // Past the last point of the second there is one schedule more, in which it runs through.
                    (firstPoints, secondPoints) = (a, b + 1);
                    schedules++;
                    if (check(table) is string wrong) throw new InvalidOperationException($"{what}, {(panelFirst ? "panel" : "release")} first, switched at {i} and {j}: {wrong}");
                }
                secondPoints = int.MaxValue;
            }
        }
        return schedules;
    }

    private static Table With(int number)
    {
        var table = new Table();
        table.Prepare(number);
        return table;
    }

    private static Table Running()
    {
        Table table = With(1);
        table.Fire();
        table.Attend(1);
        table.Pass();
        return table;
    }

    // In the middle of its frame.
    private static Table Open()
    {
        Table table = Running();
        while (!table.Lines.IsClosed(ReleaseLine.Shutter)) table.Pass();
        table.Pass(5);
        return table;
    }

    // In the first frame of a series of three that follows the light; two seconds have been said for the next ones.
    private static Table Following()
    {
        var table = new Table();
        FireOrder order = table.Link.TryFill()!;
        order.Camera.CopyFrom(new CameraProfile { HalfPressLeadMs = 100 });
        order.Plan.CopyFrom(new ShotPlan { Shape = PlanShape.Series, BoxTimed = true, Frames = 3, IntervalUs = 6 * Second, ExposureUs = Second, FollowsUpToUs = 4 * Second });
        table.Link.Offer();
        table.Fire();
        while (!table.Lines.IsClosed(ReleaseLine.Shutter)) table.Pass();
        table.Link.FollowTo(2 * Second);
        return table;
    }

    private static string? TheLastWordCounts(Table table)
    {
        table.PlayOut();
        if (table.Lines.IsClosed(ReleaseLine.Shutter) || table.Lines.IsClosed(ReleaseLine.HalfPress)) return "a contact is closed without a run";
        FrameRing frames = table.Link.Frames;
        string taken = string.Join(" ", Enumerable.Range(0, frames.Total).Select(i => frames.ExposureUs(i)));
        return taken == $"{Second} {3 * Second} {3 * Second}" ? null : $"frames of {taken} µs";
    }

    // Four waves six seconds apart.
    private static Table Marked()
    {
        var table = new Table();
        for (int i = 0; i < 4; i++)
        {
            table.NowUs += 6 * Second;
            table.Link.Mark(table.NowUs, table.NowUs);
        }
        table.Pass();
        return table;
    }

    private static void MarkOne(Table table)
    {
        table.NowUs += 6 * Second;
        table.Link.Mark(table.NowUs, table.NowUs);
        table.Pass(3);
    }

    private static string? Quiet(Table table) => null;

    // No contact is closed without a run, and what was told is what the contacts made.
    private static string? NothingIsClosed(Table table)
    {
        table.PlayOut();
        if (table.Lines.IsClosed(ReleaseLine.Shutter) || table.Lines.IsClosed(ReleaseLine.HalfPress)) return "a contact is closed without a run";
        if (table.Lines.Frames != 1) return $"{table.Lines.Frames} frames, not the one";
        return table.Link.Frames.Total == table.Lines.Frames ? null : $"{table.Link.Frames.Total} frames told, {table.Lines.Frames} made";
    }

    // As a screen reads a run that has ended: the state first, and then what was written before it.
    private static void ReadEnd(Table table)
    {
        RunReport report = table.Link.Report;
        if (report.State < RunState.Done) return;
        if (report.FramesStarted != 1 || report.ShutterClosed || report.HalfPressClosed || report.NextEdgeUs != long.MaxValue)
            throw new InvalidOperationException($"the end was read half: {report.FramesStarted} frames, shutter {report.ShutterClosed}, next edge {report.NextEdgeUs}");
        if (table.Link.Frames.Total != 1) throw new InvalidOperationException("the run has ended, and its frame is not noted");
        table.Link.Acknowledge();
    }

    private static void SaveFrames(Table table)
    {
        for (int i = 0; i < 3; i++)
        {
            if (table.Link.Frames.Has(table.Saved.Count)) table.Saved.Add((int)(table.Link.Frames.ExposureUs(table.Saved.Count) / 1000));
        }
    }

    // As a card reads it. Waves of six seconds: whichever figures are already those of the new mark, the next turn after 33 s is that of 37 s.
    private static void ReadSea(Table table)
    {
        SeaReport sea = table.Link.Sea;
        long now = 33 * Second;
        if (!sea.TryForecast(now, 1, out long turnUs, out double spread)) throw new InvalidOperationException("the forecast is lost while a wave is marked");
        if (Math.Abs(turnUs - 37 * Second) > Second / 2 || spread < 0 || spread > 3) throw new InvalidOperationException($"a forecast of {turnUs}, spread {spread}");
        if (sea.AdvisedMarks > sea.MarkCount) throw new InvalidOperationException("advice of a sea to come");
    }

    // Whatever the schedule, the advice ends with that of all five marks and of the exposure that was asked for last.
    private static string? AdviceIsOfOneSea(Table table)
    {
        table.Pass(600);
        SeaReport sea = table.Link.Sea;
        return sea.AdvisedMarks == 5 && sea.AdvisedSeconds == 2 ? null : $"advice for {sea.AdvisedMarks} marks and {sea.AdvisedSeconds} s";
    }

    private static Table Ended()
    {
        Table table = Running();
        table.PlayOut();
        return table;
    }

    private static void ReadAndOffer(Table table)
    {
        table.Link.Acknowledge();
        table.Prepare(2);
    }

    private static string? OneRun(Table table)
    {
        for (int i = 0; i < 3; i++)
        {
            table.Attend(2);
            table.Pass();
        }
        if (!table.Link.Desk.Running) return "the press was lost";
        return table.Played() is "1" or "2" ? null : table.Played();
    }

    // The press has started the second order, or it has only read the end; either way the next one is heard.
    private static string? OneRunOrNone(Table table)
    {
        const int FirstRun = 4;
        for (int i = 0; i < 3; i++)
        {
            table.Attend(2);
            table.Pass();
        }
        if (table.Link.Desk.Running) return table.Played(FirstRun) == "2" ? null : table.Played(FirstRun);
        if (table.Link.Busy || table.Link.State != RunState.Ready) return $"left in {table.Link.State}, busy {table.Link.Busy}";
        if (table.Lines.Changes.Count != FirstRun) return "a contact moved without a run";
        table.Prepare(2);
        table.Fire();
        return table.Played(FirstRun) == "2" ? null : "the next press is not heard";
    }

    private static string? TheNextRunGoesOn(Table table)
    {
        table.Pass(40);
        if (table.Link.State != RunState.Stopped) return $"not stopped: {table.Link.State}";
        table.Link.Acknowledge();
        table.Attend(2);
        table.Prepare(2);
        table.Fire();
        return table.Played(0) == "2" ? null : $"the next run: {table.Played(0)}, {table.Link.State}";
    }

    private static void Put(Table table, int presses)
    {
        for (int i = 1; i <= presses; i++) table.Link.Presses.Add(PressRing.Down | i, i, true);
    }

    private static void Take(Table table, int most)
    {
        for (int i = 0; i < most; i++)
        {
            if (table.Link.Presses.TryTake(out int code, out long atUs) && (code & PressRing.ButtonBits) != atUs) throw new InvalidOperationException($"press {code} of {atUs}");
        }
    }

    private static string? InOrder(Table table)
    {
        int taken = table.Link.Presses.Taken;
        for (long next = taken + 1; next <= 3; next++)
        {
            if (!table.Link.Presses.TryTake(out _, out long atUs) || atUs != next) return $"press {next} was lost";
        }
        return table.Link.Presses.TryTake(out _, out _) ? "a press came twice" : null;
    }

    private static void NoteFrames(Table table)
    {
        for (int i = 1; i <= 2; i++) table.Link.Frames.Add(i * Second, i * Second, i * FrameRing.LateStepUs, 0, false, false);
    }

    private static void ReadFrames(Table table)
    {
        for (int i = 0; table.Link.Frames.Has(i); i++)
        {
            FrameRing frames = table.Link.Frames;
            if (frames.StartUs(i) != (i + 1) * Second || frames.ExposureUs(i) != (i + 1) * Second || frames.Late(i) != i + 1) throw new InvalidOperationException($"frame {i} was read half");
        }
    }
}

using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Swash;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Budgets;

/// <summary>The maths by itself: 60 constituents, an invented place.</summary>
internal static class Pieces
{
    private const int SearchDays = 60;

    // 12 s and 0.6 s at 2 microseconds an instruction: a person waits for these.
    private const long SearchLimit = 6_000_000;
    private const long DayLimit = 300_000;

    public static void Measure(Sheet sheet)
    {
        Site site = Measurements.LargestSite();
        UtcInstant start = new CivilTime(2031, 3, 14, 0, 0, 0).AsUtc();

        var curve = new TideCurve(240);
        Cost begin = Meter.Of(() => curve.Begin(site.Place.Tide, start, ShoreDesk.CurveStepSeconds, ShoreDesk.DayPoints));
        var steps = new List<(Cost Cost, bool Turn)>();
        while (!curve.Done)
        {
            int turns = curve.TurnCount;
            Cost step = Meter.Of(() => curve.Step());
            steps.Add((step, curve.TurnCount > turns));
        }
        sheet.Add("tide: a day's curve and its high and low waters", steps.Aggregate(begin, (sum, step) => sum + step.Cost), DayLimit);
        sheet.Add("tide: most costly step of it", Sheet.Worst(steps.Select(s => s.Cost)), Measurements.ShoreLimit);
        Cost[] plain = [.. steps.Where(s => !s.Turn).Select(s => s.Cost).OrderBy(c => c.Weighted)];
        Cost turning = steps.Where(s => s.Turn).Aggregate(new Cost(0, 0, 0, 0), (sum, step) => sum + step.Cost - plain[plain.Length / 2]);
        sheet.Add("tide: one high or low water (mean of the day)", new Cost(turning.Il / curve.TurnCount, turning.Weighted / curve.TurnCount, 0, 0));
        sheet.Add("tide: most costly step without a high or low water", Sheet.Worst(plain));

        sheet.Add("sun: a day's rise and set and dawn", Meter.Of(() => _ = new SunDay(site.Place.Position, site.Place.Offset, start).Rise));
        var sun = new SunSheet();
        sun.Begin(site.Place, start);
        sheet.Add("sun: most costly step of its screen", Sheet.Worst(Steps(sun.Step)), Measurements.ShoreLimit);

        var search = new Mornings(site.Place, site.Wish, start, SearchDays, 8);
        Cost[] searched = [.. Steps(search.Step)];
        Cost all = searched.Aggregate((sum, step) => sum + step);
        sheet.Add("mornings: 60 days searched", all, SearchLimit);
        sheet.Add("mornings: one day searched", new Cost(all.Il / SearchDays, all.Weighted / SearchDays, 0, 0));
        sheet.Add("mornings: most costly step", Sheet.Worst(searched), Measurements.ShoreLimit);

        var way = new WayBack(site.Place, 18);
        way.Begin(start, true);
        Cost[] walked = [.. Steps(way.Step)];
        sheet.Add("way back: worked out once", walked.Aggregate((sum, step) => sum + step));
        sheet.Add("way back: most costly step", Sheet.Worst(walked), Measurements.ShoreLimit);

        site.Place.Tide.SpareMemory();
        var slow = new WayBack(site.Place, 18);
        slow.Begin(start, true);
        Cost[] slowly = [.. Steps(slow.Step)];
        sheet.Add("way back: worked out once with little memory", slowly.Aggregate((sum, step) => sum + step));
        sheet.Add("way back: most costly step with little memory", Sheet.Worst(slowly), Measurements.ShoreLimit);

        var rhythm = new WaveRhythm();
        long at = 0;
        for (int i = 0; i < 12; i++) rhythm.LearnBackwash(3.0 + i % 4 * 0.25);
        for (int i = 0; i < 63; i++) rhythm.Mark(at += 9_000_000 + i * 7919 % 40 * 100_000);
        sheet.Add("waves: one mark", Meter.Of(() => rhythm.Mark(at += 10_500_000)));
        sheet.Add("waves: best moment of the next wave", Meter.Of(() => rhythm.TryRelease(at + 1_000_000, 1, 1.0, out _, out _)));
        var best = new ReleaseSearch();
        best.Begin(rhythm, at + 1_000_000, 1, 1.0);
        sheet.Add("waves: most costly step of it", Sheet.Worst(Steps(best.Step)));
        for (int i = 0; i < BackwashLengths.Kept; i++) rhythm.LearnBackwash(1.5 + i % 4 * 0.25);
        sheet.Add("waves: the advice with all backwashes timed that are kept", Meter.Of(() => new FiringAdvice().Update(rhythm, new TurnDelay(rhythm.Lengths), at + 1_000_000, 0.5)));
    }

    private static IEnumerable<Cost> Steps(Func<bool> step)
    {
        bool done = false;
        while (!done) yield return Meter.Of(() => done = step());
    }
}

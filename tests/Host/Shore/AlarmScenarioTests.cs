using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Tests.Host.Tide;

namespace Intervalometer.Tests.Host.Shore;

/// <summary>
/// Random outings on which the sea cuts the path, with the tides of twelve real stations or with a typed table, across midnights, through
/// runs, with clocks that jump, stop, do not answer or are set to a wrong day, and with a user who keeps silencing the alarm.
/// The alarm must be up when it is time to leave.
/// </summary>
[TestClass]
public class AlarmScenarioTests
{
    private const long StepSeconds = 10;
    private const long SlackSeconds = 30;
    private static readonly WayBackLevel[] NeverQuiet = [WayBackLevel.Uncertain, WayBackLevel.Leave, WayBackLevel.CutOff];

    private enum Trouble { None, ClockJumps, ClockStops, ClockSilent, ClockReset, WrongDaySet, TableEnds, WrongDayFromTheStart }

    public TestContext TestContext { get; set; } = null!;

    [TestMethod]
    public void TheAlarmIsUpWheneverThePathFloods()
    {
        var random = new Random(20310314);
        Station[] stations = [.. TideFixtures.Stations().Values];
        var seen = new SortedDictionary<Trouble, int>();
        int midnights = 0, quietBefore = 0, acknowledged = 0, drawn = 0;
        while (seen.Values.Sum() < 400)
        {
            drawn++;
            Assert.IsLessThan(20_000, drawn, "too few drawn outings flood");
            Outing? outing = Outing.Draw(random, stations);
            if (outing == null) continue;
            outing.Play(random);
            seen[outing.Trouble] = seen.GetValueOrDefault(outing.Trouble) + 1;
            if (outing.CrossesMidnight) midnights++;
            if (outing.QuietBefore) quietBefore++;
            acknowledged += outing.Acknowledged;
        }
        TestContext.WriteLine($"{string.Join(", ", seen.Select(s => $"{s.Key} {s.Value}"))}; over midnight {midnights}; quiet at first {quietBefore}; silenced {acknowledged} times");
        foreach (Trouble trouble in Enum.GetValues<Trouble>()) Assert.IsGreaterThan(15, seen.GetValueOrDefault(trouble), trouble.ToString());
        Assert.IsGreaterThan(40, midnights);
        Assert.IsGreaterThan(100, quietBefore, "an alarm that is always up proves nothing");
        Assert.IsGreaterThan(100, acknowledged);
    }

    private sealed class Outing
    {
        private readonly string _name;
        private readonly CoastPlace _place;
        private readonly UtcInstant _start, _leave, _cut;
        private readonly int _deciding;
        private readonly TideSource _truth;
        private readonly CoastPlace _boxPlace;

        private Outing(string name, Trouble trouble, CoastPlace place, CoastPlace boxPlace, UtcInstant start, UtcInstant leave, UtcInstant cut, int deciding)
        {
            (_name, Trouble, _place, _boxPlace, _start, _leave, _cut, _deciding) = (name, trouble, place, boxPlace, start, leave, cut, deciding);
            _truth = place.Tide;
        }

        public Trouble Trouble { get; }

        public bool CrossesMidnight => _start.DayNumber != _cut.DayNumber || _place.Offset.MidnightBefore(_start).Seconds != _place.Offset.MidnightBefore(_cut).Seconds;

        public bool QuietBefore { get; private set; }

        public int Acknowledged { get; private set; }

        /// <summary>An outing that begins with every point clear and ends with one cut within 16 hours; null when the draw has none.</summary>
        public static Outing? Draw(Random random, Station[] stations)
        {
            Station station = stations[random.Next(stations.Length)];
            var trouble = (Trouble)random.Next(Enum.GetValues<Trouble>().Length);
            TideSource tide = new HarmonicTide(station.About(station.MslAboveMllw), NodeSchedule.Yearly);
            UtcInstant start = new CivilTime(2027, 1, 1, 0, 0, 0).AsUtc().PlusSeconds(random.NextInt64(8 * 365 * 86400L));
            bool typed = trouble is Trouble.TableEnds or Trouble.WrongDayFromTheStart || random.Next(4) == 0;
            TideSource boxTide = tide;
            if (typed)
            {
                tide = Table(tide, start.PlusHours(-14), 8);
                if (tide.ValidUntil < start.PlusHours(20)) return null;
                boxTide = trouble == Trouble.TableEnds ? Table(tide, start.PlusHours(-14), random.Next(3, 5)) : tide;
            }
            double top = double.MinValue, bottom = double.MaxValue;
            for (int h = 0; h < 16; h++)
            {
                top = Math.Max(top, tide.HeightMetres(start.PlusHours(h)));
                bottom = Math.Min(bottom, tide.HeightMetres(start.PlusHours(h)));
            }
            PathPoint[] path = [.. Enumerable.Range(0, random.Next(1, 4)).Select(i => new PathPoint("P" + i, bottom + (top - bottom) * (0.3 + 0.8 * random.NextDouble()), random.Next(0, 60), 0.05 * (top - bottom)))];
            var offset = new LocalOffset(15 * random.Next(-40, 41));
            CoastPlace Make(TideSource source) => new("Any", "datum", new GeoPosition(station.Latitude, station.Longitude), offset, source, path, 10);
            CoastPlace place = Make(tide);
            for (int i = 0; i < path.Length; i++) if (tide.HeightMetres(start) >= place.CutMetres(i)) return null;
            // The plain look, every ten seconds.
            long leave = long.MaxValue, cut = 0;
            int deciding = -1;
            for (int i = 0; i < path.Length; i++)
            {
                for (long s = 0; s <= 16 * 3600; s += 10)
                {
                    if (tide.HeightMetres(start.PlusSeconds(s)) < place.CutMetres(i)) continue;
                    if (s - place.BackMinutes(i) * 60 < leave) (leave, cut, deciding) = (s - place.BackMinutes(i) * 60, s, i);
                    break;
                }
            }
            if (deciding < 0 || leave < 0) return null;
            return new Outing($"{station.Name} {start.Seconds} {trouble}{(typed ? " typed" : "")}", trouble, place, Make(boxTide), start, start.PlusSeconds(leave), start.PlusSeconds(cut), deciding);
        }

        public void Play(Random random)
        {
            var box = new BoxSettings();
            var settings = new ShoreSettings();
            settings.Use(_boxPlace, new MorningWish(60, 60, 3, 1, 30, true, false));
            var desk = new ShoreDesk(settings, box);
            long chipOffset = Trouble == Trouble.WrongDayFromTheStart ? (random.Next(2) == 0 ? 1 : -1) * random.Next(3, 20) * 86400L : 0;
            long end = Math.Min(_cut.SecondsSince(_start) + 1800, 17 * 3600);
            long troubleAt = random.NextInt64(Math.Max(_leave.SecondsSince(_start), 1));
            long runFrom = random.NextInt64(end), runUntil = runFrom + random.NextInt64(7200);
            long quietUntil = -1;
            bool risen = false;
            Trouble chip = Trouble.None;
            long us = 5_000_000;
            desk.Clock.Read(_start.PlusSeconds(chipOffset), us);
            Passes(desk, ref us, 60, long.MaxValue, false);
            long zero = us;
            desk.SetAlarm(true);
            for (long s = 0; s < end; s += StepSeconds)
            {
                us = zero + s * 1_000_000;
                bool running = s >= runFrom && s < runUntil;
                UtcInstant truth = _start.PlusSeconds(s);
                if (chip == Trouble.None && s >= troubleAt)
                {
                    chip = Trouble;
                    if (Trouble == Trouble.ClockJumps) chipOffset += (random.Next(2) == 0 ? 1 : -1) * random.NextInt64(120, 3 * 86400);
                    if (Trouble == Trouble.WrongDaySet && !running) desk.Clock.SetByHand(truth.PlusDays(random.Next(2) == 0 ? 1 : -1), us);
                    else if (Trouble == Trouble.WrongDaySet) chip = Trouble.None;
                }
                if (!running && s % 600 == 0 && s > 0 && chip != Trouble.WrongDaySet)
                {
                    if (chip == Trouble.ClockStops) desk.Clock.Fail(ClockTrust.Stopped);
                    else if (chip == Trouble.ClockSilent) desk.Clock.Fail(ClockTrust.NoAnswer);
                    else if (chip == Trouble.ClockReset) desk.Clock.Read(new UtcInstant(s), us);
                    else desk.Clock.Read(truth.PlusSeconds(chipOffset), us);
                }
                long room = running && s % 60 < 40 ? 100_000 : long.MaxValue;
                Passes(desk, ref us, 4, room, running);
                if (desk.AlarmUp) risen = true;
                if (s == 60 && !desk.AlarmUp) QuietBefore = true;
                bool leaveTime = truth >= _leave.PlusSeconds(SlackSeconds);
                bool stillBad = truth <= _cut || _truth.HeightMetres(truth) >= _place.CutMetres(_deciding);
                if (leaveTime && stillBad)
                {
                    Assert.IsTrue(risen, $"{_name}: never up until {s} s, leave-by {_leave.SecondsSince(_start)} s");
                    Assert.IsTrue(desk.AlarmUp || s < quietUntil, $"{_name}: not up at {s} s, leave-by {_leave.SecondsSince(_start)} s, cut {_cut.SecondsSince(_start)} s, level {desk.Level}");
                    CollectionAssert.Contains(NeverQuiet, desk.Level, $"{_name}: level at {s} s");
                }
                if (desk.AlarmUp && random.Next(12) == 0)
                {
                    desk.Acknowledge(us);
                    Acknowledged++;
                    quietUntil = s + 300 + StepSeconds;
                }
            }
        }

        private static void Passes(ShoreDesk desk, ref long us, int passes, long room, bool running)
        {
            for (int i = 0; i < passes; i++)
            {
                desk.Pass(us, room, running, running);
                us += 10_000;
            }
        }

        private static PrintedTide Table(TideSource tide, UtcInstant from, int turns)
        {
            var table = new PrintedTide();
            UtcInstant at = from;
            for (int i = 0; i < turns; i++)
            {
                if (!tide.TryNextTurn(at, out TideTurn turn)) break;
                if (table.Add(turn.Time, turn.HeightMetres, turn.IsHigh) != null) break;
                at = turn.Time;
            }
            return table;
        }
    }
}

using Intervalometer.Coast.Place;
using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>
/// The search for mornings, compared with a plain one that works out the sun of every day and the tide at every five minutes: random weeks of turns, paths and
/// wishes, with changes of the clocks, where the sun may stay up or down, and where the table ends.
/// </summary>
[TestClass]
public class MorningsFigureTests
{
    private const int Draws = 18;

    private int _drawn = 20_261_129;

    // Numbers as good as any for a drawn case, the same on every run.
    private int Draw(int from, int to)
    {
        _drawn = (_drawn * 1_103_515_245 + 12_345) & 0x7FFF_FFFF;
        // divisor: one or more
        return from + (_drawn >> 8) % (to - from + 1);
    }

    private CoastPlace Place(int n, UtcInstant from)
    {
        PrintedTide tide = new PrintedTide();
        UtcInstant at = from.PlusHours(n % 5 == 3 ? 40 : -30);
        bool high = Draw(0, 1) == 1;
        while (tide.Count < PrintedTide.Capacity)
        {
            Assert.IsNull(tide.Add(at, high ? Draw(380, 620) / 100.0 : Draw(-40, 200) / 100.0, high));
            at = at.PlusMinutes(Draw(300, 440));
            high = !high;
        }
        PathPoint[] path = new PathPoint[n % 4];
        for (int i = 0; i < path.Length; i++) path[i] = new PathPoint("Point", Draw(250, 640) / 100.0, n == 7 ? Draw(150, 240) : Draw(0, 60), Draw(0, 40) / 100.0);
        LocalOffset winter = new LocalOffset(60);
        // An island may move to the other side of the date line, as Samoa did in 2011 (from memory).
        LocalOffset moved = new LocalOffset(n % 6 == 4 ? -660 : 120);
        LocalTime local = new LocalTime(winter, from.PlusDays(3), moved, from.PlusDays(5), winter);
        return new CoastPlace("Any", "chart datum", new GeoPosition(n % 4 == 1 ? 68.0 : 50.1, 12.3), local, tide, path, Draw(0, 90), n % 2 == 0 ? TideShape.Any : TideShape.Plain, 0);
    }

    /// <summary>All results of a random search: what was found, its figures and ranks, what was not known, and a list that holds only the best.</summary>
    [TestMethod]
    public void TheSearchFindsWhatAPlainLookFinds()
    {
        int found = 0, closing = 0, without = 0, unknown = 0;
        for (int n = 0; n < Draws; n++)
        {
            UtcInstant from = new CivilTime(2031, n % 4 == 1 ? 12 : 3, n % 4 == 1 ? 6 : 14, Draw(0, 23), 0, 0).AsUtc();
            CoastPlace place = Place(n, from);
            MorningWish wish = new MorningWish(Draw(0, 180), Draw(0, 180), Draw(350, 560) / 100.0, Draw(-20, 300) / 100.0, Draw(0, 3) == 0 ? 5 : Draw(5, 80), n != 2, n != 5);
            int days = Draw(4, 7);
            Mornings search = new Mornings(place, wish, from, days, 2 * days);
            PlainSearch plain = new PlainSearch(place, wish, from, days);
            int before = 0;
            for (int steps = 0; !search.Step(); steps++)
            {
                Assert.IsTrue(steps < 40 * days && search.Percent >= before && search.Percent < 100);
                before = search.Percent;
            }
            Assert.IsTrue(search.Done && search.Step() && search.Percent == 100);
            Assert.AreEqual(plain.WithoutSun, search.WithoutSun);
            Assert.AreEqual(plain.Unknown, search.Unknown);
            Assert.AreEqual(plain.Count, search.Count);
            for (int i = 0; i < search.Count; i++)
            {
                Morning morning = search[i];
                Assert.IsTrue(i == 0 || search[i - 1].Score >= morning.Score);
                plain.Is(morning);
                if (morning.PathCloses) closing++;
            }
            found += search.Count;
            without += search.WithoutSun;
            unknown += search.Unknown;
            // A short list holds the first of the long one.
            int kept = Draw(1, 3);
            Mornings brief = new Mornings(place, wish, from, days, kept);
            while (!brief.Step()) { }
            Assert.AreEqual(kept < search.Count ? kept : search.Count, brief.Count);
            for (int i = 0; i < brief.Count; i++) Assert.AreEqual(search[i].WorkStart.Seconds, brief[i].WorkStart.Seconds);
        }
        Assert.IsTrue(found > 30 && closing > 5 && without > 5 && unknown > 5, found.ToString() + ", " + closing.ToString() + ", " + without.ToString() + ", " + unknown.ToString());
    }

    /// <summary>When neither mornings nor evenings are wanted, the search reads nothing.</summary>
    [TestMethod]
    public void ASearchForNeitherMorningsNorEveningsEndsAtOnce()
    {
        UtcInstant from = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc();
        Mornings search = new Mornings(Place(0, from), new MorningWish(30, 90, 5, 1, 20, false, false), from, 5, 5);
        Assert.IsTrue(search.Step() && search.Done);
        Assert.AreEqual(0, search.Count + search.Unknown + search.WithoutSun);
    }

    // Twenty days whose tide is not known: only the sun is worked out.
    private static int StepsOfTheSun(double latitude, int month)
    {
        PrintedTide none = new PrintedTide();
        UtcInstant from = new CivilTime(2031, month, 1, 12, 0, 0).AsUtc();
        CoastPlace place = new CoastPlace("Any", "chart datum", new GeoPosition(latitude, 12.3), new LocalOffset(60), none, new PathPoint[0], 0);
        Mornings search = new Mornings(place, new MorningWish(30, 90, 5, 1, 20, true, true), from, 20, 5);
        int steps = 1;
        while (!search.Step()) steps++;
        Assert.AreEqual(40, search.Unknown + search.WithoutSun);
        return steps;
    }

    /// <summary>Only the first day is looked at as a whole, once for the sunrise and once for the sunset; where the sun skims the horizon, every day is.</summary>
    [TestMethod]
    public void TheSunOfTheNextDayComesFromTheDayBefore()
    {
        Assert.AreEqual(42, StepsOfTheSun(0, 3));
        Assert.AreEqual(42, StepsOfTheSun(-45, 12));
        Assert.AreEqual(42, StepsOfTheSun(60, 3));
        Assert.AreEqual(80, StepsOfTheSun(78, 6));
    }

    /// <summary>At 62 degrees north, where a day is up to four minutes longer than the one before: sunrise and sunset of 50 days, each against its own.</summary>
    [TestMethod]
    public void TheSunKeepsToTheSecondFromDayToDay()
    {
        HarmonicTide tide = new HarmonicTide(new HarmonicConstants(3.0, 1).Set(0, 2.0, 120), NodeSchedule.Yearly);
        GeoPosition position = new GeoPosition(62, -20);
        LocalOffset local = new LocalOffset(-60);
        CoastPlace place = new CoastPlace("Any", "chart datum", position, local, tide, new PathPoint[0], 0);
        UtcInstant from = new CivilTime(2031, 3, 1, 12, 0, 0).AsUtc();
        Mornings search = new Mornings(place, new MorningWish(180, 180, 9, -9, 5, true, true), from, 50, 100);
        while (!search.Step()) { }
        Assert.IsTrue(search.Count > 80);
        for (int i = 0; i < search.Count; i++)
        {
            Morning morning = search[i];
            SunDay day = new SunDay(position, local, morning.Sun);
            Check.Near((morning.IsEvening ? day.Set : day.Rise).Time.Seconds, morning.Sun.Seconds, 1, "the sun");
        }
    }

    // High water at sunrise of the day, or so many minutes before it, falling for six hours.
    private static Mornings AtSunrise(int minutesBefore, double high, double flood, int walk, int beforeMinutes, int afterMinutes, double top, int work, out UtcInstant sun)
    {
        GeoPosition position = new GeoPosition(50, 0);
        UtcInstant noon = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc();
        sun = new SunDay(position, new LocalOffset(0), noon).Rise.Time;
        PrintedTide tide = new PrintedTide();
        UtcInstant at = sun.PlusMinutes(-minutesBefore - 900);
        for (int i = 0; i < 7; i++)
        {
            Assert.IsNull(tide.Add(at, i % 2 == 1 ? high : high - 2, i % 2 == 1));
            at = at.PlusMinutes(300);
        }
        CoastPlace place = new CoastPlace("Any", "chart datum", position, new LocalOffset(0), tide, new PathPoint[] { new PathPoint("Point", flood, walk, 0) }, 0);
        Mornings search = new Mornings(place, new MorningWish(beforeMinutes, afterMinutes, top, -9, work, true, false), noon, 1, 3);
        while (!search.Step()) { }
        return search;
    }

    /// <summary>A tide that falls from before the window to behind it: the work lasts as long as the window, and no longer one is found.</summary>
    [TestMethod]
    public void WorkMayFillTheWholeWindow()
    {
        Mornings whole = AtSunrise(60, 3, 9, 0, 0, 60, 9, 60, out UtcInstant sun);
        Assert.AreEqual(1, whole.Count);
        Assert.AreEqual(sun.Seconds, whole[0].WorkStart.Seconds);
        Assert.AreEqual(60, whole[0].WorkMinutes);
        // An hour to spare, and half an hour off the sun.
        Check.Near(60 - 7.5 + 15, whole[0].Score, 0.001, "rank");
        Assert.AreEqual(0, AtSunrise(60, 3, 9, 0, 0, 60, 9, 61, out sun).Count);
        Assert.AreEqual(0, AtSunrise(60, 3, 9, 1, 0, 0, 9, 5, out sun).Count);
    }

    /// <summary>Water that stands at a limit cuts it: 3.05 m less 5 cm for a table is 3 m, which the tide just reaches.</summary>
    [TestMethod]
    public void WaterAtTheLimitCounts()
    {
        // The path is clear from the second reading on, and a walk of five minutes needs it clear for two.
        Mornings found = AtSunrise(0, 3, 3.05, 5, 0, 120, 9, 5, out UtcInstant sun);
        Assert.AreEqual(1, found.Count);
        Assert.AreEqual(600L, found[0].WorkStart.SecondsSince(sun));
        // The next high water, ten hours later, closes it again: the reading before, less the walk and 65 minutes.
        Assert.IsTrue(found[0].PathCloses);
        Assert.AreEqual(36_000L - 300 - 70 * 60, found[0].LeaveBy.SecondsSince(sun));
        Mornings above = AtSunrise(0, 3, 3.0501, 5, 0, 120, 9, 5, out sun);
        Assert.IsFalse(above[0].PathCloses);
    }

    // From 5 m four hours before a moment to 1 m two hours after it and back; a point so many minutes away.
    private static CoastPlace Ebb(UtcInstant sun, int walk, double flood)
    {
        PrintedTide tide = new PrintedTide();
        for (int i = 0; i < 5; i++) Assert.IsNull(tide.Add(sun.PlusMinutes(360 * i - 600), i % 2 == 0 ? 1 : 5, i % 2 == 1));
        return new CoastPlace("Any", "chart datum", new GeoPosition(50, 0), new LocalOffset(0), tide, new PathPoint[] { new PathPoint("Point", flood, walk, 0) }, 0);
    }

    /// <summary>Less than an hour to spare on the path counts by a quarter of its minutes, more by a quarter of an hour.</summary>
    [TestMethod]
    public void TimeToSpareCountsUpToAnHour()
    {
        UtcInstant noon = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc();
        UtcInstant sun = new SunDay(new GeoPosition(50, 0), new LocalOffset(0), noon).Rise.Time;
        for (int walk = 30; walk <= 90; walk += 15)
        {
            Mornings search = new Mornings(Ebb(sun, walk, 3.05), new MorningWish(0, 120, 9, -9, 20, true, false), noon, 1, 3);
            while (!search.Step()) { }
            Morning morning = search[0];
            Assert.IsTrue(morning.PathCloses);
            // Cut five hours after the sun, when the water is back at 3 m; one reading before that, less the walk and 65 minutes.
            Check.Near(295 - walk - 65, morning.LeaveBy.SecondsSince(sun) / 60, 5, "leave by");
            double spare = morning.LeaveBy.SecondsSince(morning.WorkEnd) / 60.0;
            Assert.AreEqual(walk >= 60, spare < 60);
            double off = (morning.WorkStart.SecondsSince(sun) + morning.WorkEnd.SecondsSince(sun)) / 120.0;
            Check.Near(morning.WorkMinutes - Elementary.Abs(off) / 4 + Elementary.Min(spare, 60) / 4, morning.Score, 0.001, "rank");
        }
        // So far away that one must leave while the tide still falls: the work ends then.
        Mornings far = new Mornings(Ebb(sun, 265, 4.9), new MorningWish(0, 120, 9, -9, 20, true, false), noon, 1, 3);
        while (!far.Step()) { }
        Assert.IsTrue(far.Count == 1 && far[0].WorkEnd.Seconds == far[0].LeaveBy.Seconds && far[0].WorkEnd.SecondsSince(sun) < 115 * 60);
    }

    /// <summary>Both edges of the band belong to it.</summary>
    [TestMethod]
    public void TheEdgesOfTheBandBelongToIt()
    {
        Mornings wide = AtSunrise(60, 3, 9, 0, 0, 60, 9, 20, out UtcInstant sun);
        double top = wide[0].FromMetres;
        Assert.AreEqual(sun.Seconds, AtSunrise(60, 3, 9, 0, 0, 60, top, 20, out sun)[0].WorkStart.Seconds);
        Assert.AreEqual(300L, AtSunrise(60, 3, 9, 0, 0, 60, top - 1e-6, 20, out sun)[0].WorkStart.SecondsSince(sun));
    }

    /// <summary>A tide that neither rises nor falls does not count as falling.</summary>
    [TestMethod]
    public void AStandIsNoEbb()
    {
        PrintedTide tide = new PrintedTide();
        UtcInstant noon = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc();
        for (int i = 0; i < 9; i++) Assert.IsNull(tide.Add(noon.PlusHours(6 * i - 24), 3, i % 2 == 0));
        CoastPlace place = new CoastPlace("Any", "chart datum", new GeoPosition(50, 0), new LocalOffset(0), tide, new PathPoint[0], 0);
        Mornings search = new Mornings(place, new MorningWish(30, 90, 5, 1, 20, true, true), noon, 1, 5);
        int steps = 1;
        while (!search.Step()) steps++;
        Assert.AreEqual(0, search.Count + search.Unknown);
        // Of each: its sun, the first reading and the 24 others of the window at once; nothing behind it is read.
        Assert.AreEqual(2 * 4, steps);
    }

    [TestMethod]
    public void TheReasonNamesTideSunAndWayBack()
    {
        Mornings open = AtSunrise(60, 3, 9, 0, 0, 60, 9, 60, out UtcInstant sun);
        string begins = TimeText.HourMinute(sun, new LocalOffset(0));
        Assert.AreEqual("tide falls 2.8 to 2.3 m " + begins + "-" + TimeText.HourMinute(sun.PlusMinutes(60), new LocalOffset(0)) + ", sunrise " + begins + ", path not cut in that time", open[0].Reason(new LocalOffset(0)));
        UtcInstant noon = new CivilTime(2031, 3, 14, 12, 0, 0).AsUtc();
        Mornings evening = new Mornings(Ebb(new SunDay(new GeoPosition(50, 0), new LocalOffset(0), noon).Set.Time, 30, 3.05), new MorningWish(0, 60, 9, -9, 20, false, true), noon, 1, 3);
        while (!evening.Step()) { }
        Assert.IsTrue(evening[0].IsEvening && evening[0].Reason(new LocalOffset(0)).IndexOf(", sunset ") > 0);
        Mornings closing = AtSunrise(0, 3, 3.05, 5, 0, 120, 9, 5, out sun);
        string reason = closing[0].Reason(new LocalOffset(0));
        Assert.IsTrue(reason.EndsWith(", leave by " + TimeText.HourMinuteBefore(closing[0].LeaveBy, new LocalOffset(0))));
    }
}

/// <summary>The plain search works out the sun of each day by itself and reads every height; it saves no work.</summary>
internal sealed class PlainSearch
{
    private const int Step = 300;
    private const int Most = 20;

    private readonly CoastPlace _place;
    private readonly MorningWish _wish;
    private readonly bool[] _evening = new bool[Most];
    private readonly bool[] _closes = new bool[Most];
    private readonly long[] _sun = new long[Most];
    private readonly long[] _first = new long[Most];
    private readonly long[] _last = new long[Most];
    private readonly long[] _leave = new long[Most];

    internal PlainSearch(CoastPlace place, MorningWish wish, UtcInstant from, int days)
    {
        _place = place;
        _wish = wish;
        UtcInstant noon = place.Offset.MidnightBefore(from).PlusHours(12);
        for (int day = 0; day < days; day++)
        {
            SunDay sun = new SunDay(place.Position, place.Offset, noon.PlusDays(day));
            for (int side = 0; side < 2; side++)
            {
                if (side == 1 ? !wish.Evenings : !wish.Mornings) continue;
                SunEvent when = side == 1 ? sun.Set : sun.Rise;
                if (when.Happens) Look(side == 1, when.Time.Seconds);
                else WithoutSun++;
            }
        }
    }

    internal int Count { get; private set; }

    internal int Unknown { get; private set; }

    internal int WithoutSun { get; private set; }

    /// <summary>Fails unless the plain search has found the same.</summary>
    internal void Is(Morning morning)
    {
        for (int i = 0; i < Count; i++)
        {
            // A second of the sun, which comes from the day before in the thrifty search.
            if (_evening[i] != morning.IsEvening || Elementary.Abs(_sun[i] - morning.Sun.Seconds) > 1) continue;
            Check.Near(_first[i], morning.WorkStart.Seconds, 1, "work begins");
            Check.Near(_last[i], morning.WorkEnd.Seconds, 1, "work ends");
            Check.Near(_leave[i], morning.LeaveBy.Seconds, 1, "leave by");
            Assert.AreEqual(_closes[i], morning.PathCloses);
            Assert.AreEqual(_place.WalkInMinutes * 60L, morning.WorkStart.SecondsSince(morning.SetOffAt));
            Assert.AreEqual((int)((_last[i] - _first[i]) / 60), morning.WorkMinutes);
            Check.Near(Height(_first[i]), morning.FromMetres, 0.001, "height at first");
            Check.Near(Height(_last[i]), morning.ToMetres, 0.001, "height at last");
            Check.Near(Sun.At(morning.Sun, _place.Position).AzimuthDegrees, morning.SunAzimuthDegrees, 1e-9, "azimuth");
            // The rank as it is said: a quarter of the way from the sun's moment off, a quarter of an hour to spare at the most on.
            double off = Elementary.Abs((_first[i] + _last[i]) / 2.0 - _sun[i]) / 60.0;
            double spare = Elementary.Min((_leave[i] - _last[i]) / 60.0, 60.0);
            Check.Near(morning.WorkMinutes - off / 4 + spare / 4, morning.Score, 0.01, "rank");
            return;
        }
        Assert.AreEqual("", "only the thrifty search found the morning of " + morning.Sun.Seconds.ToString());
    }

    private double Height(long seconds) => _place.Tide.HeightMetres(new UtcInstant(seconds));

    private bool Wanted(long at, long sun)
    {
        if (at < sun - _wish.BeforeMinutes * 60 || at > sun + _wish.AfterMinutes * 60) return false;
        double height = Height(at);
        return height <= _wish.HighMetres && height >= _wish.LowMetres && _place.Tide.RateMetresPerHour(new UtcInstant(at)) < 0;
    }

    private bool Clear(long at)
    {
        double height = Height(at);
        for (int i = 0; i < _place.PathCount; i++)
            if (height >= _place.CutMetres(i)) return false;
        return true;
    }

    private void Look(bool evening, long sun)
    {
        long walk = (_place.LongestWalkMinutes * 60 + Step - 1) / Step * Step;
        long begin = sun - _wish.BeforeMinutes * 60 - _place.LongestWalkMinutes * 60;
        long known = sun + _wish.AfterMinutes * 60 + (_place.LongestWalkMinutes + _place.AllowanceMinutes + 60) * 60;
        if (begin < _place.Tide.ValidFrom.Seconds || known > _place.Tide.ValidUntil.Seconds)
        {
            Unknown++;
            return;
        }
        // Six hours more where they are known.
        long end = known + 6 * 3600;
        if (end > _place.Tide.ValidUntil.Seconds) end = _place.Tide.ValidUntil.Seconds;
        for (long first = begin; first <= sun + _wish.AfterMinutes * 60; first += Step)
        {
            if (!Wanted(first, sun)) continue;
            bool clear = first - walk >= begin;
            for (long k = first - walk; clear && k <= first; k += Step) clear = Clear(k);
            if (!clear) continue;
            long leave = begin + (end - begin) / Step * Step;
            bool closes = false;
            for (int i = 0; i < _place.PathCount; i++)
            {
                long cut = first;
                while (cut <= end && Height(cut) < _place.CutMetres(i)) cut += Step;
                if (cut > end) continue;
                closes = true;
                long last5 = cut - Step - (_place.BackMinutes(i) * 60 + Step - 1) / Step * Step;
                if (last5 < leave) leave = last5;
            }
            long last = first;
            while (last + Step <= leave && Wanted(last + Step, sun)) last += Step;
            if (last - first < _wish.WorkMinutes * 60)
            {
                first = last;
                continue;
            }
            _evening[Count] = evening;
            _closes[Count] = closes;
            _sun[Count] = sun;
            _first[Count] = first;
            _last[Count] = last;
            _leave[Count] = leave;
            Count++;
            return;
        }
    }
}

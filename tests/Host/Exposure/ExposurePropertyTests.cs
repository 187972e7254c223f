using FsCheck;
using FsCheck.Fluent;
using Intervalometer.Core.Exposure;

namespace Intervalometer.Tests.Host.Exposure;

/// <summary>What must hold for any kit, reading, film and limit.</summary>
[TestClass]
public class ExposurePropertyTests
{
    private sealed record Case(MeteredBase Metered, FilterKit Kit, FilmCurve Film, double Limit)
    {
        public override string ToString() =>
            $"shutter {Metered.Shutter.Index} hand {Metered.HandThirds} film {Film.Label} limit {Limit:R} filters "
            + string.Join("; ", Filters(Kit).Select(f => $"{f.Kind} {f.Scale} {f.Figure} trim {f.TrimTenths} share {f.SharePercent} effect {f.EffectTenths} on {f.On}"));
    }

    private static IEnumerable<Filter> Filters(FilterKit kit) => Enumerable.Range(0, kit.Count).Select(i => kit[i]);

    private static readonly Gen<Filter> AnyFilter =
        from kind in Gen.Choose(0, FilterKinds.Count - 1)
        from scale in Gen.Choose(0, 2)
        from strong in Gen.Choose(0, 9)
        from figure in Gen.Choose(1, 600)
        from trim in Gen.Choose(-Filter.MaxTrimTenths, Filter.MaxTrimTenths)
        from effect in Gen.Choose(0, Filter.MaxEffectTenths)
        from share in Gen.Elements(0, 50, 100)
        from fitted in Gen.Elements(true, true, false)
        select Made((FilterKind)kind, (FilterScale)scale, strong == 0 ? figure : 1 + figure / 5, trim, effect, share, fitted);

    private static readonly Gen<MeteredBase> AnyReading =
        from aperture in Gen.Choose(ApertureSetting.MinIndex, ApertureSetting.MaxIndex)
        from iso in Gen.Choose(IsoSetting.MinIndex, IsoSetting.MaxIndex)
        from shutter in Gen.Choose(ShutterSetting.MinIndex, ShutterSetting.MaxIndex)
        from hand in Gen.Choose(-MeteredBase.MaxHandThirds, MeteredBase.MaxHandThirds)
        select new MeteredBase(new ApertureSetting(aperture), new IsoSetting(iso), new ShutterSetting(shutter), hand);

    private static readonly Gen<Case> AnyCase =
        from metered in AnyReading
        from count in Gen.Choose(0, FilterKit.Capacity)
        from filters in Gen.ArrayOf(AnyFilter, count)
        from film in Gen.Choose(0, FilmCurve.Count - 1)
        from limit in Gen.Elements(0.0, -5, 0.999, 1, 30, 1800, 7200, 7200.001, double.MaxValue)
        select new Case(metered, KitOf(filters), new FilmCurve(film), limit);

    private static Filter Made(FilterKind kind, FilterScale scale, int figure, int trim, int effect, int share, bool on)
    {
        Filter filter = new("F", kind) { TrimTenths = trim, EffectTenths = effect, SharePercent = share, On = on };
        filter.SetStrength(scale, figure);
        return filter;
    }

    private static FilterKit KitOf(IEnumerable<Filter> filters)
    {
        FilterKit kit = new();
        foreach (Filter made in filters)
        {
            Filter filter = new("F" + kit.Count, made.Kind) { TrimTenths = made.TrimTenths, EffectTenths = made.EffectTenths, SharePercent = made.SharePercent, On = made.On };
            filter.SetStrength(made.Scale, made.Figure);
            kit.Add(filter);
        }
        return kit;
    }

    private static ExposureAnswer Solve(Case c) => Solve(c.Metered, c.Kit, c.Film, c.Limit);

    private static ExposureAnswer Solve(MeteredBase metered, FilterKit kit, FilmCurve film, double limit)
    {
        ExposureAnswer answer = new();
        ExposureSolver.Solve(metered, kit, film, limit, answer);
        return answer;
    }

    private static void ForAll<T>(Gen<T> gen, Action<T> holds) =>
        Prop.ForAll(gen.ToArbitrary(), holds).Check(Config.QuickThrowOnFailure.WithMaxTest(2000));

    [TestMethod]
    public void FiltersAddTheirStops() => ForAll(AnyCase, c =>
    {
        double expected = Filters(c.Kit).Where(f => f.On).Sum(f => f.EffectiveStops.Value);
        Assert.AreEqual(expected, c.Kit.EffectiveStops.Value, 1e-9);
        ExposureAnswer answer = Solve(c);
        double time = Math.Pow(2, (c.Metered.Shutter.Index + c.Metered.HandThirds) / 3.0 + expected);
        Assert.AreEqual(1, answer.BeforeFilmSeconds / time, 1e-11);
        Assert.AreEqual(expected, answer.FilterStops.Value, 1e-9);
    });

    [TestMethod]
    public void AFilterMoreNeverShortens() => ForAll(
        from c in AnyCase from extra in AnyFilter select (Case: c, Extra: extra),
        x =>
        {
            if (x.Case.Kit.Count == FilterKit.Capacity) x.Case.Kit.RemoveAt(0);
            double before = Solve(x.Case).Seconds;
            FilterKit more = KitOf(Filters(x.Case.Kit).Append(x.Extra));
            double after = Solve(x.Case.Metered, more, x.Case.Film, x.Case.Limit).Seconds;
            Assert.IsTrue(after >= before, $"{before:R} to {after:R}");
        });

    [TestMethod]
    public void ALongerReadingIsALongerTime() => ForAll(AnyCase, c =>
    {
        if (c.Metered.Shutter.Index == ShutterSetting.MaxIndex) return;
        MeteredBase longer = new(c.Metered.Aperture, c.Metered.Iso, c.Metered.Shutter.Step(1), c.Metered.HandThirds);
        ExposureAnswer a = Solve(c), b = Solve(longer, c.Kit, c.Film, c.Limit);
        Assert.IsTrue(b.Seconds > a.Seconds);
        Assert.IsTrue(b.Dial.Index >= a.Dial.Index);
    });

    [TestMethod]
    public void FilmNeverShortensAndStaysInOrder() => ForAll(
        from film in Gen.Choose(0, FilmCurve.Count - 1) from thousandths in Gen.Choose(-14000, 14000) select (film, thousandths),
        x =>
        {
            FilmCurve film = new(x.film);
            double t = Math.Pow(2, x.thousandths / 1000.0);
            Assert.IsTrue(film.Corrected(t) >= t * (1 - 1e-12), $"{film.Label} at {t} s");
            Assert.IsTrue(film.Corrected(t * 1.001) > film.Corrected(t), $"{film.Label} at {t} s");
        });

    [TestMethod]
    public void DialIsWithinASixthOfAStop() => ForAll(AnyCase, c =>
    {
        ExposureAnswer answer = Solve(c);
        if (answer.Kind != ExposureKind.Dial) return;
        double missed = Math.Log2(answer.Dial.Seconds / answer.Seconds);
        Assert.AreEqual(missed, answer.DialError.Value, 1e-9);
        Assert.IsTrue(Math.Abs(missed) <= 1.0 / 6 + 1e-9, $"{missed:R}");
        Assert.IsTrue(answer.Seconds <= 32 * (1 + 1e-9));
        Assert.AreEqual(answer.Dial.Seconds, answer.OpenSeconds);
    });

    [TestMethod]
    public void BulbIsTheWantedTimeInsideTheLimit() => ForAll(AnyCase, c =>
    {
        ExposureAnswer answer = Solve(c);
        if (answer.Kind != ExposureKind.Bulb) return;
        Assert.IsTrue(answer.Seconds > 32 && answer.Seconds <= c.Limit * (1 + 1e-9));
        Assert.AreEqual(answer.Seconds, answer.OpenSeconds);
    });

    [TestMethod]
    public void NoRefusalIsSilentAndNoneIsFalse() => ForAll(AnyCase, c =>
    {
        ExposureAnswer answer = Solve(c);
        bool limitFits = c.Limit is >= 1 and <= 7200;
        bool refuse = !limitFits || answer.Seconds > c.Limit * (1 + 1e-9) || Math.Log2(answer.Seconds) < -13 - 1.0 / 6 - 1e-9;
        Assert.AreEqual(refuse, answer.Kind == ExposureKind.Refused);
        Assert.AreEqual(refuse, answer.Refusal != ExposureRefusal.None);
        Assert.AreEqual(refuse, ExposureText.Refusal(answer).Length > 0);
        Assert.AreEqual(refuse, answer.OpenSeconds == 0);
        string line = ExposureText.Line(answer);
        Assert.IsTrue(line.Length is > 0 and <= 100 && line.All(ch => ch is >= ' ' and <= '~'), line);
    });

    [TestMethod]
    public void AReusedAnswerForgetsTheLastOne() => ForAll(AnyCase.Two(), two =>
    {
        (Case first, Case second) = two;
        ExposureAnswer used = Solve(first);
        ExposureSolver.Solve(second.Metered, second.Kit, second.Film, second.Limit, used);
        ExposureAnswer fresh = Solve(second);
        foreach (System.Reflection.PropertyInfo property in typeof(ExposureAnswer).GetProperties())
            Assert.AreEqual(property.GetValue(fresh), property.GetValue(used), property.Name);
    });

    [TestMethod]
    public void LabelsReadBackToTheirSetting()
    {
        for (int i = ShutterSetting.MinIndex; i <= ShutterSetting.MaxIndex; i++)
        {
            foreach (string form in new[] { "{0}", "{0}s", " {0} s " })
            {
                Assert.IsTrue(ShutterSetting.TryParse(string.Format(form, new ShutterSetting(i).Label), out ShutterSetting s, out string problem), problem);
                Assert.AreEqual(i, s.Index);
                Assert.AreEqual("", problem);
            }
        }
        for (int i = ApertureSetting.MinIndex; i <= ApertureSetting.MaxIndex; i++)
        {
            foreach (string form in new[] { "{0}", "f/{0}", "F {0}", "f / {0}" })
            {
                Assert.IsTrue(ApertureSetting.TryParse(string.Format(form, new ApertureSetting(i).Label), out ApertureSetting a, out string problem), problem);
                Assert.AreEqual(i, a.Index);
            }
        }
        for (int i = IsoSetting.MinIndex; i <= IsoSetting.MaxIndex; i++)
        {
            foreach (string form in new[] { "{0}", "ISO {0}", "iso{0}" })
            {
                Assert.IsTrue(IsoSetting.TryParse(string.Format(form, new IsoSetting(i).Label), out IsoSetting s, out string problem), problem);
                Assert.AreEqual(i, s.Index);
            }
        }
    }

    [TestMethod]
    public void AnyTextIsReadOrRefusedInOneLine() => Prop.ForAll<string>(text =>
    {
        bool read = ShutterSetting.TryParse(text, out _, out string problem);
        Assert.AreEqual(read, problem.Length == 0);
        Assert.IsTrue(problem.Length <= 90 && problem.All(ch => ch is >= ' ' and <= '~'), problem);
        Assert.AreEqual(ApertureSetting.TryParse(text, out _, out problem), problem.Length == 0);
        Assert.AreEqual(IsoSetting.TryParse(text, out _, out problem), problem.Length == 0);
    }).Check(Config.QuickThrowOnFailure.WithMaxTest(2000));

    // A random sequence of adding, renaming, moving and removing, with names from a small pool so that they collide.
    [TestMethod]
    public void AKitNeverHoldsTwoOfOneName() => ForAll(
        (from action in Gen.Choose(0, 3)
         from name in Gen.Elements("a", "A", "b", "B ", "c", "C", "d", "nd 0.9", "ND 0.9", "", "e", "f", "g", "h", "i", "j", "k", "l", "m")
         from place in Gen.Choose(-1, 12)
         from other in Gen.Choose(-1, 12)
         select (action, name, place, other)).ListOf(60),
        steps =>
        {
            FilterKit kit = new();
            foreach ((int action, string name, int place, int other) in steps)
            {
                string[] before = Filters(kit).Select(f => f.Name).ToArray();
                try
                {
                    if (action == 0) kit.Add(new Filter(name, FilterKind.Nd));
                    else if (action == 1) kit.Rename(place, name);
                    else if (action == 2) kit.Move(place, other);
                    else if (name == "a") kit.RemoveAt(place);
                    else kit.Add(new Filter(name, FilterKind.Other));
                }
                catch (ArgumentException e)
                {
                    Assert.IsTrue(e.Message.StartsWith("Filter", StringComparison.Ordinal) && !e.Message.Contains('\n'), e.Message);
                    CollectionAssert.AreEqual(before, Filters(kit).Select(f => f.Name).ToArray(), "a refused step changes nothing");
                }
                string[] names = Filters(kit).Select(f => f.Name).ToArray();
                Assert.AreEqual(names.Length, names.Distinct(StringComparer.OrdinalIgnoreCase).Count(), string.Join(",", names));
                Assert.IsTrue(kit.Count <= FilterKit.Capacity);
                if (action == 2) CollectionAssert.AreEquivalent(before, names);
            }
        });
}

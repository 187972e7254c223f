using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>A curve over a tide that does what the test says, and what a printed table is at its ends.</summary>
[TestClass]
public class TideCurveFigureTests
{
    private const int Step = 600;

    private static UtcInstant Start() => new CivilTime(2031, 3, 14, 0, 0, 0).AsUtc();

    // Heights and rates as they are given, one every ten minutes; a turn in the middle between two points.
    private sealed class Given : TideSource
    {
        private readonly double[] _heights;
        private readonly double[] _rates;

        internal Given(double[] heights, double[] rates)
        {
            _heights = heights;
            _rates = rates;
        }

        internal int Walkers { get; private set; }

        internal bool KnowsTurns { get; set; } = true;

        internal int TurnAfterSeconds { get; set; } = Step / 2;

        public override UtcInstant ValidFrom => Start();

        public override UtcInstant ValidUntil => Start().PlusDays(9);

        public override TideCertainty CertaintyAt(UtcInstant time) => TideCertainty.Interpolated;

        public override double HeightMetres(UtcInstant time) => _heights[(int)(time.SecondsSince(Start()) / Step)];

        public override double RateMetresPerHour(UtcInstant time) => _rates[(int)(time.SecondsSince(Start()) / Step)];

        public override bool TryNextTurn(UtcInstant after, out TideTurn turn)
        {
            turn = new TideTurn(after.PlusSeconds(TurnAfterSeconds), RateMetresPerHour(after) > 0 ? 50 : -50, RateMetresPerHour(after) > 0);
            return KnowsTurns;
        }

        public override TideWalker CreateWalker()
        {
            Walkers++;
            return new Walk(this);
        }
    }

    private sealed class Walk : TideWalker
    {
        private readonly Given _source;
        private UtcInstant _time;
        private int _step;

        internal Walk(Given source) => _source = source;

        public override UtcInstant Time => _time;

        public override double HeightMetres => _source.HeightMetres(_time);

        public override double RateMetresPerHour => _source.RateMetresPerHour(_time);

        public override void Start(UtcInstant time, int stepSeconds)
        {
            _time = time;
            _step = stepSeconds;
        }

        public override void Advance() => _time = _time.PlusSeconds(_step);
    }

    private static TideCurve Curve(Given source, int points)
    {
        TideCurve curve = new TideCurve(60);
        curve.Begin(source, Start(), Step, points);
        int calls = 1;
        while (!curve.Step()) calls++;
        // One call to begin, then eight points in each.
        Assert.AreEqual(1 + (points + 6) / 8, calls);
        Assert.IsTrue(curve.Step() && curve.Done);
        Assert.AreEqual(points, curve.Count);
        return curve;
    }

    /// <summary>Heights are kept to the nearest millimetre on both sides of the datum, and to 32 m.</summary>
    [TestMethod]
    public void HeightsAreKeptToTheMillimetre()
    {
        double[] heights = new double[] { 1.2344, 1.2346, -1.2344, -1.2346, 0.0004, -0.0006, 31.9994, 32, 40, -32, -40, 0 };
        double[] kept = new double[] { 1.234, 1.235, -1.234, -1.235, 0, -0.001, 31.999, 32, 32, -32, -32, 0 };
        TideCurve curve = Curve(new Given(heights, new double[12]), 12);
        for (int i = 0; i < 12; i++)
        {
            Check.Near(kept[i], curve.HeightMetres(i), 1e-9, "height");
            Assert.AreEqual((long)i * Step, curve.TimeAt(i).SecondsSince(Start()));
        }
        Check.Near(40, curve.HighestMetres, 0, "highest");
        Check.Near(-40, curve.LowestMetres, 0, "lowest");
        Assert.AreEqual(0, curve.TurnCount);
    }

    /// <summary>A turn lies between a rise and a fall, with a stand between them or without; a stand at the beginning is none.</summary>
    [TestMethod]
    public void ATurnLiesBetweenARiseAndAFall()
    {
        double[] rates = new double[] { 0, 1, 1, 0, 0, -1, -1, 1, 0, 1, -1, 0 };
        Given source = new Given(new double[12], rates);
        TideCurve curve = Curve(source, 12);
        Assert.AreEqual(3, curve.TurnCount);
        int[] before = new int[] { 2, 6, 9 };
        for (int i = 0; i < 3; i++)
        {
            Assert.AreEqual(before[i] * Step + Step / 2L, curve.Turn(i).Time.SecondsSince(Start()));
            Assert.AreEqual(i != 1, curve.Turn(i).IsHigh);
            Check.Near(i == 1 ? -50 : 50, curve.Turn(i).HeightMetres, 0, "its height");
        }
        // The turns are the ends of the curve, too.
        Check.Near(50, curve.HighestMetres, 0, "highest");
        Check.Near(-50, curve.LowestMetres, 0, "lowest");
        // A turn that the source does not know, or has elsewhere, is left out; one on the point at hand is in.
        source.KnowsTurns = false;
        Assert.AreEqual(0, Curve(source, 12).TurnCount);
        source.KnowsTurns = true;
        source.TurnAfterSeconds = Step;
        Assert.AreEqual(3, Curve(source, 12).TurnCount);
        source.TurnAfterSeconds = Step + 1;
        Assert.AreEqual(1, Curve(source, 12).TurnCount);
    }

    /// <summary>Sixteen turns are kept; a curve that is begun again forgets them, and one over another source takes another walker.</summary>
    [TestMethod]
    public void SixteenTurnsAreKept()
    {
        double[] rates = new double[60];
        for (int i = 0; i < 60; i++) rates[i] = i % 2 == 0 ? 1 : -1;
        Given source = new Given(new double[60], rates);
        TideCurve curve = new TideCurve(60);
        Assert.IsTrue(curve.Step());
        curve.Begin(source, Start(), Step, 60);
        while (!curve.Step()) { }
        Assert.AreEqual(16, curve.TurnCount);
        Assert.AreEqual(1, source.Walkers);
        // In the middle of one it is begun again over another tide.
        curve.Begin(source, Start(), Step, 60);
        curve.Step();
        Given other = new Given(new double[] { 7, 7, 7 }, new double[] { 1, 1, 1 });
        curve.Begin(other, Start(), Step, 3);
        Assert.AreEqual(0, curve.Count + curve.TurnCount);
        while (!curve.Step()) { }
        Check.Near(7, curve.HeightMetres(0), 0, "the other tide");
        Check.Near(7, curve.LowestMetres, 0, "the other tide");
        Assert.AreEqual(1, other.Walkers);
        // The same tide again before it was done keeps its walker.
        curve.Begin(source, Start(), Step, 60);
        curve.Step();
        curve.Begin(source, Start(), Step, 20);
        Assert.AreEqual(3, source.Walkers);
        while (!curve.Step()) { }
        Assert.AreEqual(20, curve.Count);
    }

    /// <summary>A harmonic tide with a step of an hour: its turns are those of the search, to the second.</summary>
    [TestMethod]
    public void AnHourlyCurveHasTheTurnsOfTheSearch()
    {
        HarmonicTide tide = new HarmonicTide(new HarmonicConstants(3, 2).Set(0, 2, 120).Set(3, 0.4, 20), NodeSchedule.Yearly);
        TideCurve curve = new TideCurve(60);
        curve.Begin(tide, Start(), 3600, 49);
        while (!curve.Step()) { }
        UtcInstant after = Start();
        Assert.IsTrue(curve.TurnCount >= 7);
        for (int i = 0; i < curve.TurnCount; i++)
        {
            Assert.IsTrue(tide.TryNextTurn(after, out TideTurn turn));
            Check.Near(turn.Time.Seconds, curve.Turn(i).Time.Seconds, 1, "turn");
            Assert.AreEqual(turn.IsHigh, curve.Turn(i).IsHigh);
            after = turn.Time;
        }
    }

    /// <summary>Outside the table its heights stand; the last second of it is known, and the next turn is told two days ahead.</summary>
    [TestMethod]
    public void APrintedTableAtItsEnds()
    {
        PrintedTide tide = new PrintedTide();
        Check.Near(0, tide.HeightMetres(Start()), 0, "an empty table");
        Assert.IsTrue(tide.ValidFrom.Seconds == 0 && tide.ValidUntil.Seconds == 0 && tide.CertaintyAt(Start()) == TideCertainty.None);
        Assert.AreEqual("The date is outside 2000 to 2099.", tide.Add(new UtcInstant(-1), 1, false)!);
        Assert.IsNull(tide.Add(Start(), 1, false));
        Assert.IsTrue(tide.CertaintyAt(Start()) == TideCertainty.None);
        Assert.AreEqual("Two low waters in a row: one high is missing.", tide.Add(Start().PlusHours(6), 1, false)!);
        for (int i = 1; i < PrintedTide.Capacity; i++) Assert.IsNull(tide.Add(Start().PlusHours(6 * i), i % 2 == 0 ? 1 : 5 - i * 0.01, i % 2 == 1));
        Assert.AreEqual("No room for more than 29 turns.", tide.Add(Start().PlusHours(6 * 29), 5, true)!);
        Check.Near(1, tide.HeightMetres(Start().PlusHours(-9)), 0, "before");
        tide.CutAt(29);
        tide.CutAt(-1);
        Assert.AreEqual(29, tide.Count);
        tide.CutAt(28);
        Assert.AreEqual(28, tide.Count);
        Check.Near(5 - 0.27, tide.HeightMetres(tide.ValidUntil.PlusHours(9)), 1e-12, "behind");
        Check.Near(0, tide.RateMetresPerHour(tide.ValidUntil.PlusHours(9)), 0, "behind");
        Assert.IsTrue(tide.CertaintyAt(tide.ValidUntil) == TideCertainty.Interpolated);
        Assert.IsTrue(tide.TryNextTurn(Start().PlusHours(-48), out TideTurn turn) && turn.Time.Seconds == Start().Seconds && !turn.IsHigh);
        Assert.IsFalse(tide.TryNextTurn(Start().PlusHours(-48).PlusSeconds(-1), out turn));
        Assert.IsTrue(tide.TryNextTurn(Start(), out turn) && turn.Time.SecondsSince(Start()) == 6 * 3600 && turn.IsHigh);
        tide.CutAt(0);
        Assert.AreEqual(0, tide.Count);
        Assert.IsNull(tide.Add(Start(), 4, true));
        Assert.IsTrue(tide[0].IsHigh);
        tide.Clear();
        Assert.AreEqual(0, tide.Count);
    }
}

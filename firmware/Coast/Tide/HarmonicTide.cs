using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>The tide as a sum of harmonic constituents, 2000 to 2099.</summary>
/// <remarks>
/// The method is Schureman (1958), Special Publication 98; tables and formulas are cited in <see cref="Constituents"/> and
/// <see cref="LunarOrbit"/>. It agrees with official US high and low waters of 2025 and 2026 within 1 mm and 0.6 min,
/// which is the rounding of the printed tables.
/// Only one thread may use it at a time, because reading a height prepares the day of that height.
/// </remarks>
public sealed class HarmonicTide : TideSource
{
    // A turn that is found from the one side and from the other differs by a second or two.
    private const int SameTurnSeconds = 5;
    private const int BesideSeconds = 300;
    private const int SearchStepSeconds = 600;
    private const int SearchSteps = 48 * 6;

    private readonly HarmonicConstants _constants;
    private readonly HarmonicSum _sum;
    private HarmonicWalker? _searcher;

    /// <summary>Creates the tide of a place from its constants.</summary>
    public HarmonicTide(HarmonicConstants constants, NodeSchedule schedule)
    {
        _constants = constants;
        _sum = new HarmonicSum(constants, schedule);
    }

    /// <summary>How often its node factors are worked out.</summary>
    public NodeSchedule Schedule => _sum.Schedule;

    /// <summary>The constants it sums.</summary>
    public HarmonicConstants Constants => _constants;

    /// <inheritdoc/>
    public override UtcInstant ValidFrom => new UtcInstant(0);

    /// <inheritdoc/>
    public override UtcInstant ValidUntil => new UtcInstant(UtcInstant.EndSeconds - 1);

    /// <inheritdoc/>
    public override TideCertainty CertaintyAt(UtcInstant time) => time.IsValid && _sum.Used > 0 ? TideCertainty.Harmonic : TideCertainty.None;

    /// <inheritdoc/>
    public override double HeightMetres(UtcInstant time)
    {
        _sum.Evaluate(Held(time), out double height, out double rate, out double bend);
        return height;
    }

    /// <inheritdoc/>
    public override double RateMetresPerHour(UtcInstant time)
    {
        if (!time.IsValid) return 0;
        _sum.Evaluate(time, out double height, out double rate, out double bend);
        return rate;
    }

    /// <summary>
    /// The first high or low water more than 5 s after a time, so that asking from a turn gives the next one. The rate is sampled every
    /// 10 minutes, so two turns that are closer together are not seen. On the device it takes some tenths of a second (estimate);
    /// <see cref="TideCurve"/> does the same in small steps.
    /// </summary>
    public override bool TryNextTurn(UtcInstant after, out TideTurn turn)
    {
        turn = default;
        if (!after.IsValid) return false;
        if (_searcher == null) _searcher = new HarmonicWalker(_sum);
        HarmonicWalker walker = _searcher;
        walker.Start(after, SearchStepSeconds);
        UtcInstant beforeAt = after;
        double before = walker.RateMetresPerHour;
        for (int n = 0; n < SearchSteps; n++)
        {
            walker.Advance();
            if (!walker.Time.IsValid) return false;
            double now = walker.RateMetresPerHour;
            if (now == 0) continue;
            if ((before > 0) != (now > 0) && before != 0)
            {
                turn = Refine(beforeAt, before, (int)walker.Time.SecondsSince(beforeAt), now);
                if (turn.Time > after.PlusSeconds(SameTurnSeconds)) return true;
            }
            before = now;
            beforeAt = walker.Time;
        }
        return false;
    }

    /// <summary>Finds the high water, or the low water, nearest to a time. Returns false when none is near enough. It keeps the memory that it needs after the first call.</summary>
    /// <param name="near">The time.</param>
    /// <param name="withinSeconds">How far away the turn may be, seconds.</param>
    /// <param name="isHigh">True for a high water.</param>
    /// <param name="turn">The turn.</param>
    public bool TryTurnNear(UtcInstant near, int withinSeconds, bool isHigh, out TideTurn turn)
    {
        turn = default;
        if (_searcher == null) _searcher = new HarmonicWalker(_sum);
        HarmonicWalker walker = _searcher;
        walker.Start(Held(near.PlusSeconds(-withinSeconds)), SearchStepSeconds);
        double before = walker.RateMetresPerHour;
        UtcInstant found = near;
        double foundRate = 0, nextRate = 0;
        long apart = long.MaxValue;
        for (int n = withinSeconds * 2 / SearchStepSeconds; n > 0; n--)
        {
            UtcInstant at = walker.Time;
            walker.Advance();
            double now = walker.RateMetresPerHour;
            long off = at.SecondsSince(near) + SearchStepSeconds / 2;
            if (off < 0) off = -off;
            if ((isHigh ? before > 0 && now <= 0 : before < 0 && now >= 0) && off < apart)
            {
                found = at;
                foundRate = before;
                nextRate = now;
                apart = off;
            }
            before = now;
        }
        if (foundRate == 0) return false;
        turn = Refine(found, foundRate, SearchStepSeconds, nextRate);
        return true;
    }

    /// <summary>Frees the memory that <see cref="TryTurnNear"/> and <see cref="TryNextTurn"/> keep.</summary>
    public void LetSearcherGo() => _searcher = null;

    /// <summary>The turn between two times whose rates have opposite signs, to the nearest second.</summary>
    /// <param name="start">The earlier time.</param>
    /// <param name="startRate">Rise there, metres an hour.</param>
    /// <param name="spanSeconds">Seconds to the later time.</param>
    /// <param name="endRate">Rise there, metres an hour.</param>
    public TideTurn Refine(UtcInstant start, double startRate, int spanSeconds, double endRate)
    {
        // Where the tide is flat, a rate read between two knots of a walk may cross zero some minutes before or after the rate of the sum.
        double low = -BesideSeconds, high = spanSeconds + BesideSeconds;
        double difference = startRate - endRate;
        double x = difference == 0 ? spanSeconds / 2.0 : spanSeconds * startRate / difference;
        double height = 0;
        for (int n = 0; n < 6; n++)
        {
            double whole = Elementary.Round(x);
            _sum.Evaluate(Held(start.PlusSeconds((long)whole)), out height, out double rate, out double bend);
            if ((rate > 0) == (startRate > 0)) low = whole;
            else high = whole;
            // Newton's step to the zero of the rate, kept between the ends.
            double next = Elementary.Clamp(whole + (bend == 0 ? 0 : -rate / bend * 3600.0), low, high);
            double step = next - whole;
            x = next;
            if (step < 30 && step > -30)
            {
                // So near the turn the curve is a parabola, so the height still to come is half the rate times the time left.
                height += rate * step / 7200.0;
                break;
            }
        }
        return new TideTurn(start.PlusSeconds(Elementary.Round(x)), height, startRate > 0);
    }

    /// <inheritdoc/>
    public override double WalkErrorMetres => HarmonicSum.StrideErrorMetres;

    /// <inheritdoc/>
    public override void SpareMemory()
    {
        _sum.SpareMemory();
        _searcher = null;
    }

    /// <inheritdoc/>
    public override TideWalker CreateWalker() => new HarmonicWalker(_sum);

    private static UtcInstant Held(UtcInstant time) =>
        time.Seconds < 0 ? new UtcInstant(0) : time.Seconds >= UtcInstant.EndSeconds ? new UtcInstant(UtcInstant.EndSeconds - 1) : time;
}

using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using MathNet.Numerics.Random;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>What a photographer does in an outing.</summary>
/// <param name="Way">The way that is set; null to take what the card recommends.</param>
/// <param name="Habits">How the person presses.</param>
/// <param name="Timed">Backwashes timed by holding Mark before the run.</param>
/// <param name="MarkedShare">In a run on the rhythm, one wave in this many is marked.</param>
/// <param name="Drilled">Whether the drill measured this hand on the day before.</param>
/// <param name="HoldsWhenAsked">Whether Mark is held at each turn for as long as the display asks for it; otherwise one backwash in four of the run is timed.</param>
public sealed record OutingPlan(FiringWay? Way, Habits Habits, int Timed = Outing.Learning, int MarkedShare = 3, bool Drilled = false, bool HoldsWhenAsked = true);

/// <summary>One outing through the run desk and its buttons: first some waves are marked so that the box learns, then Fire starts a run.</summary>
public sealed class Outing
{
    /// <summary>Waves watched before the run.</summary>
    public const int Learning = 20;

    /// <summary>Waves of a first run on arrivals, by which the box learns to compare all four ways.</summary>
    public const int Arrivals = 10;

    /// <summary>Turns marked after it, so that the rhythm is not old.</summary>
    public const int Refreshing = 6;

    // In a run on arrivals, Mark is held to the turn for the first waves, then for one in this many. In other runs one backwash in this many is timed when the
    // display no longer asks for all of them.
    private const int HeldFirst = 8;
    private const int HeldShare = 4;

    private const long ApartUs = 80_000;

    private readonly DeskRig _rig;
    private readonly OutingPlan _plan;
    private readonly long _tapUs;

    /// <summary>Plays an outing to its end.</summary>
    /// <param name="waves">The waves as the photographer has seen them.</param>
    /// <param name="from">The first of them in this outing.</param>
    /// <param name="to">The one after the last.</param>
    /// <param name="plan">What the photographer does.</param>
    /// <param name="exposureSeconds">Length of a frame, seconds.</param>
    public Outing(WatchedWave[] waves, int from, int to, OutingPlan plan, double exposureSeconds)
    {
        _rig = new DeskRig(exposureSeconds);
        _plan = plan;
        _tapUs = (long)(plan.Habits.TapSeconds * 1e6);
        if (plan.Drilled) Drill(exposureSeconds, (int)(waves[from].Swash.TurnUs / 1000));
        int next = from;
        for (; next < Math.Min(to, from + Learning); next++) Turn(waves[next], next < from + plan.Timed);
        if (plan.Way is null)
        {
            Fire(FiringWay.OnArrival);
            for (int first = next; next < Math.Min(to, first + Arrivals); next++) Arrival(waves[next], true);
            Settle();
            _rig.Stop();
            for (int first = next; next < Math.Min(to, first + Refreshing); next++) Turn(waves[next], plan.HoldsWhenAsked && _rig.AsksForLengths);
            _rig.Settings.Waves.Way = new WaveOrder().Way;
        }
        FramesBefore = _rig.Frames.Count;
        Fire(plan.Way);
        Way = _rig.Settings.Waves.Way;
        Recommended = _rig.Recommends;
        for (int first = next; next < to; next++)
        {
            if (Way == FiringWay.OnArrival) Arrival(waves[next], next < first + HeldFirst || next % HeldShare == 0);
            else if (Way != FiringWay.OnRhythm || next % plan.MarkedShare == 0) Turn(waves[next], plan.Timed > 0 && (next % HeldShare == 0 || (plan.HoldsWhenAsked && _rig.AsksForLengths)));
        }
        Settle();
        _rig.Stop();
    }

    /// <summary>The way of firing of the run.</summary>
    public FiringWay Way { get; }

    /// <summary>Whether the card recommended a way when Fire was pressed, rather than saying that the exposure is too long.</summary>
    public bool Recommended { get; }

    /// <summary>Frames of the run.</summary>
    public IEnumerable<RigFrame> Frames => _rig.Frames.Skip(FramesBefore);

    /// <summary>The run desk, to be read.</summary>
    public RunDesk Desk => _rig.Desk;

    private int FramesBefore { get; }

    /// <summary>Frames at a fixed interval, begun at any moment.</summary>
    public static IEnumerable<RigFrame> Timer(WatchedWave[] waves, int from, int to, double periodSeconds, double exposureSeconds, int seed)
    {
        var rig = new DeskRig(exposureSeconds);
        long begin = waves[from + Learning].Swash.TurnUs, end = waves[to - 1].Swash.TurnUs, interval = (long)(periodSeconds * 1e6);
        rig.RunTo(begin + (long)(interval * new MersenneTwister(seed, false).NextDouble()));
        rig.PressFire((int)((end - rig.NowUs) / interval), interval);
        rig.RunTo(end);
        rig.Stop();
        return rig.Frames;
    }

    // The store keeps what the drill found from one day to the next.
    private void Drill(double exposureSeconds, int seed)
    {
        var random = new MersenneTwister(seed, false);
        var yesterday = new DeskRig(exposureSeconds);
        yesterday.DoDrill(() => MathNet.Numerics.Distributions.Normal.Sample(random, _plan.Habits.TurnLagSeconds, _plan.Habits.TurnSpreadSeconds));
        _rig.Settings.Waves.HandLagMs = yesterday.Settings.Waves.HandLagMs;
        _rig.Settings.Waves.HandSpreadMs = yesterday.Settings.Waves.HandSpreadMs;
    }

    private void Fire(FiringWay? way)
    {
        _rig.RunTo(_rig.NowUs + 2 * ApartUs);
        _rig.PressFire(way);
    }

    // The last frame runs to its end.
    private void Settle() => _rig.RunTo(_rig.NowUs + 8_000_000);

    private void Turn(WatchedWave wave, bool timed)
    {
        if (wave.Missed) return;
        Press(wave.TurnMarkUs, timed ? Math.Max(_tapUs, wave.HeldUs) : _tapUs);
        if (wave.SecondPressUs != 0) Press(wave.SecondPressUs, _tapUs);
    }

    private void Arrival(WatchedWave wave, bool held)
    {
        if (wave.Missed) return;
        Press(wave.ArrivalMarkUs, held ? Math.Max(_tapUs, wave.TurnMarkUs - wave.ArrivalMarkUs) : _tapUs);
        if (wave.SecondPressUs != 0 && !held) Press(wave.ArrivalMarkUs + wave.SecondPressUs - wave.TurnMarkUs, _tapUs);
    }

    // A hand that still holds the button down, or is just releasing it, cannot press.
    private void Press(long atUs, long heldUs)
    {
        if (atUs < _rig.NowUs + ApartUs) return;
        _rig.RunTo(atUs);
        _rig.PressMark(heldUs);
    }
}

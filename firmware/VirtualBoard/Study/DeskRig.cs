using Intervalometer.Core.Exposure;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>One frame as the contacts made it.</summary>
/// <param name="OpenUs">When the shutter opened, µs.</param>
/// <param name="CloseUs">When it closed again, µs.</param>
/// <param name="ChancePercent">The chance that the run showed for it, percent; -1 for none.</param>
/// <param name="TurnIsSurer">Whether the run said before this frame that marking the turn would be surer.</param>
/// <param name="TooLong">Whether the run said before the mark of this frame that the exposure is too long.</param>
public readonly record struct RigFrame(long OpenUs, long CloseUs, int ChancePercent, bool TurnIsSurer, bool TooLong);

/// <summary>
/// The firmware's link with its run desk, and the card WAVES, without display and bus: buttons go in, edges of the contacts come
/// out. It is called every 10 ms and at every edge, as the box calls it.
/// </summary>
public sealed class DeskRig : IReleaseLines
{
    private const long TickUs = 10_000;
    private const long DrillTapUs = 150_000;

    // Advice takes some thirty passes of the loop.
    private const long AdviceUs = 600_000;

    private readonly RunLink _link;
    private readonly WavesCard _card;
    private readonly List<RigFrame> _frames = [];
    private long _closedUs;
    private int _chance;
    private bool _surer;
    private bool _tooLong;
    private bool _advised;

    /// <param name="exposureSeconds">Length of every exposure, seconds; rounded to a third of a stop, as the box sets it.</param>
    public DeskRig(double exposureSeconds)
    {
        Settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting((int)Math.Round(3 * Math.Log2(exposureSeconds))), 0));
        _link = new RunLink(this);
        Desk.Player.WriteAheadUs = 0;
        Desk.Player.CloseDelayUs = 0;
        Desk.Player.OpenDelayUs = 0;
        _card = new WavesCard(Settings, _link);
    }

    /// <summary>The run desk.</summary>
    public RunDesk Desk => _link.Desk;

    /// <summary>What the photographer set.</summary>
    public BoxSettings Settings { get; } = new();

    /// <summary>The frames so far.</summary>
    public IReadOnlyList<RigFrame> Frames => _frames;

    /// <summary>The time, µs.</summary>
    public long NowUs { get; private set; }

    /// <summary>Whether the card recommends a way of firing for the present exposure, rather than saying that it is too long.</summary>
    public bool Recommends => _link.Sea.Recommended >= 0;

    /// <summary>Whether the display asks to hold Mark as the water runs back.</summary>
    public bool AsksForLengths => _link.Sea.AsksForLengths;

    /// <summary>Runs to a time. While the desk only waits for a press, the time is skipped.</summary>
    public void RunTo(long untilUs)
    {
        while (NowUs < untilUs)
        {
            long edge = Desk.NextEdgeUs;
            bool waits = edge == long.MaxValue && !_advised && (!_link.Busy || Desk.State == RunState.AwaitMark);
            long next = waits ? Math.Max(NowUs + TickUs, untilUs - TickUs) : NowUs + TickUs;
            if (edge > NowUs && edge < next) next = edge;
            NowUs = Math.Min(next, untilUs);
            _link.Pass(NowUs);
        }
    }

    /// <summary>Mark goes down now and comes up after a while.</summary>
    public void PressMark(long heldUs)
    {
        // What stands on the display as Mark goes down. While a frame is taken, it was said before.
        if (_link.Report.State == RunState.AwaitMark) _tooLong = WavesCard.IsTooLong(_link.Report.ChancePercent);
        _link.Mark(NowUs, NowUs);
        _link.Pass(NowUs);
        RunTo(NowUs + heldUs);
        _link.MarkReleased(heldUs);
    }

    /// <summary>Does the drill of the hand, with presses as early or late as those of this photographer.</summary>
    /// <param name="offSeconds">The next press less the turn, seconds.</param>
    public void DoDrill(Func<double> offSeconds)
    {
        var hand = new HandCard(Settings);
        hand.Drill.Begin(NowUs);
        _link.Drilling = true;
        while (!hand.Drill.Done)
        {
            long turn = hand.Drill.TurnUs;
            RunTo(Math.Max(NowUs + TickUs, turn + (long)(1e6 * offSeconds())));
            PressWork.Down(_link, Button.Mark, NowUs, NowUs);
            hand.Press(NowUs);
            RunTo(NowUs + DrillTapUs);
            PressWork.Up(_link, Button.Mark, DrillTapUs, NowUs);
            while (_link.Presses.TryTake(out _, out _)) { }
            while (hand.Drill.TurnUs == turn && !hand.Drill.Done)
            {
                RunTo(NowUs + TickUs);
                hand.Drill.Pass(NowUs);
            }
        }
        _link.Drilling = false;
    }

    /// <summary>Fire is pressed on the wave card.</summary>
    /// <param name="way">The way that was set; null to take what the card recommends, as holding Select does.</param>
    public void PressFire(FiringWay? way)
    {
        _card.Think(true);
        _advised = true;
        RunTo(NowUs + AdviceUs);
        _advised = false;
        _card.Think(false);
        if (way is null) _card.TakeAdvice(NowUs);
        else Settings.Waves.Way = way.Value;
        if (_card.AwaitsAdvice) throw new InvalidOperationException("The advice is not worked out yet.");
        FireOrder order = Order();
        order.OnWaves = true;
        order.Waves.CopyFrom(Settings.Waves);
        order.Waves.DelayMs = _card.DelayMs;
        order.Waves.Waves = 0;
        order.Plan.Frames = 1;
        order.Plan.Shape = PlanShape.Single;
        Fire();
    }

    /// <summary>Fire is pressed for frames at a fixed interval.</summary>
    public void PressFire(int frames, long intervalUs)
    {
        FireOrder order = Order();
        order.OnWaves = false;
        order.Plan.Shape = PlanShape.Series;
        order.Plan.Frames = frames;
        order.Plan.IntervalUs = intervalUs;
        Fire();
    }

    /// <summary>Fire is pressed again: the run stops. Any button then closes its end.</summary>
    public void Stop()
    {
        _link.Stop(NowUs);
        _link.Acknowledge();
        _link.Pass(NowUs);
    }

    void IReleaseLines.Set(ReleaseLine line, bool closed)
    {
        if (line != ReleaseLine.Shutter) return;
        if (closed)
        {
            _closedUs = NowUs;
            _chance = Desk.LastRunOnWaves ? Desk.Waves.ChancePercent : -1;
            _surer = Desk.LastRunOnWaves && Settings.Waves.Way == FiringWay.OnArrival && WavesCard.TurnIsSurer(_link.Sea, _chance);
        }
        else
        {
            Opened();
        }
    }

    void IReleaseLines.OpenAll() => Opened();

    private void Opened()
    {
        if (_closedUs == 0) return;
        long lag = Settings.Camera.ShutterLagMs * 1000L;
        _frames.Add(new RigFrame(_closedUs + lag, NowUs + lag, _chance, _surer, _tooLong));
        _closedUs = 0;
    }

    private FireOrder Order()
    {
        FireOrder order = _link.TryFill() ?? throw new InvalidOperationException("The desk takes no run now.");
        order.Camera.CopyFrom(Settings.Camera);
        order.Plan.SettleUs = 0;
        order.Plan.BoxTimed = true;
        order.Plan.ExposureUs = (long)Math.Round(Settings.Answer.OpenSeconds * 1e6);
        return order;
    }

    private void Fire()
    {
        _link.Offer();
        if (_link.Fire(NowUs) != PressRing.Started) throw new InvalidOperationException("Fire started nothing.");
        _link.Pass(NowUs);
    }
}

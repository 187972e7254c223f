using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings;

namespace Intervalometer.Screens.Nav;

/// <content>What Fire starts. It is prepared before Fire is pressed, so that the release thread can start it at once.</content>
public sealed partial class FrontPanel
{
    // What Fire starts is prepared again at every press and at this interval, µs, because the light of the dawn changes it too.
    private const long PrepareUs = 50_000;

    // This in place of a refusal means that the advice for the order is still being worked out, which takes a moment.
    private const string AwaitsAdvice = "";

    private long _preparedUs = long.MinValue / 2;
    private bool _fireAwaits;

    // Handles a press of Fire that has started what was offered, before this thread received the press.
    private void OnStarted(long atUs)
    {
        _dirty = true;
        _display.Touched(atUs);
        Check.End();
        _notice.Hide();
        _again.Took();
        WipeRead(atUs);
    }

    /// <summary>Offers what the next press of Fire starts, or nothing when that press has to be looked at first. Call it after every event and in every pass.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    public void Prepare(long nowUs)
    {
        if (_link.Busy || nowUs - _preparedUs < PrepareUs) return;
        _preparedUs = nowUs;
        bool meansStart = !_lock.Locked && _over != _bench && _link.State == RunState.Ready && !_shore.AlarmUp && !(_notice.Shown && !_notice.Passing) && !_keys.Pending(Button.Select);
        bool canStart = !Health.Battery.Refuses && _link.Limiter == LimiterTrouble.None && _settings.Answer.Kind != Core.Exposure.ExposureKind.Refused;
        FireOrder? order = meansStart && canStart ? _link.TryFill() : null;
        if (order != null && Fill(order) == null) _link.Offer();
        else _link.Withhold();
    }

    // Says whether the limiter or a line has failed.
    private string LimiterTitle => _link.Limiter > LimiterTrouble.StaysOff ? "CONTACT FAILED" : "LIMITER FAILED";

    private string LimiterRefusal => _link.Limiter switch
    {
        LimiterTrouble.StaysOn => "The limiter never lets go: a contact could stay closed. Switch off, dry the box, see its build guide.",
        LimiterTrouble.StaysOff => "The limiter does not come up: no contact would close. Switch off, dry the box, see its build guide.",
        LimiterTrouble.HalfPressStuck => "Half-press would close by itself. Camera off, switch off, dry the box, see its build guide.",
        LimiterTrouble.ShutterStuck => "The shutter would close by itself. Camera off, switch off, dry the box, see its build guide.",
        LimiterTrouble.HalfPressDead => "Half-press does not act on its line. Switch off, dry the box, see its build guide.",
        _ => "The shutter does not act on its line. Switch off, dry the box, see its build guide.",
    };

    // Handles a press of Fire that waited for this thread.
    private void OnFire()
    {
        string? refusal = Health.Battery.Refuses ? BatteryRefusal() : null;
        if (refusal != null) _toldBattery = BatteryState.Empty;
        if (_link.Limiter != LimiterTrouble.None) refusal = LimiterRefusal;
        FireOrder? order = _link.TryFill();
        if (refusal == null && order != null) refusal = Fill(order);
        if (refusal == null && order != null) _link.Offer();
        _fireAwaits = refusal == AwaitsAdvice || (refusal == null && order == null);
        if (refusal == null || _fireAwaits) return;
        _notice.Show(refusal);
        _link.Decline();
    }

    private void TryFireAgain()
    {
        if (!_link.Busy) _fireAwaits = false;
        else if (!_waves.AwaitsAdvice) OnFire();
    }

    // Fills the order in. Returns why nothing can be started, with what to do; null when the order is complete.
    private string? Fill(FireOrder order)
    {
        bool waves = Shown == _waves;
        order.OnWaves = waves;
        order.Camera.CopyFrom(_settings.Camera);
        order.Plan.CopyFrom(_settings.Plan);
        if (waves)
        {
            if (_waves.AwaitsAdvice) return AwaitsAdvice;
            order.Waves.CopyFrom(_settings.Waves);
            order.Waves.DelayMs = _waves.DelayMs;
            order.Plan.Frames = order.Waves.FramesPerWave;
            order.Plan.Shape = order.Plan.Frames > 1 ? PlanShape.Burst : PlanShape.Single;
            order.Plan.GapUs = order.Waves.GapMs * 1000L;
        }
        if (!_shore.Dawn.Fill(order.Plan, !waves)) return Core.Exposure.ExposureText.Refusal(_settings.Answer);
        _runScreen.CameraSet = _settings.CameraDial(order.Plan.BoxTimed);
        return order.Plan.FaultWithin(_settings.LimitSeconds);
    }
}

using Intervalometer.Core;
using Intervalometer.Core.Link;
using Intervalometer.Drivers.Ssd1306;
using Intervalometer.Screens;
using Intervalometer.Settings;

namespace Intervalometer.Drivers.Composition;

/// <summary>Sends the picture to the display page by page, keeps away from edges, and sets the display up again after it was lost.</summary>
internal sealed class DisplaySender
{
    private const int PagesPerPass = 4;

    // Nothing else runs while a page is sent. After a page that took this long, no more are sent in that pass, µs.
    private const long LongPageUs = 20_000;

    // The board's limiter opens the contacts when no heartbeat comes for half a second. When a page takes longer than this, µs, no page is sent during a run.
    private const long MostPageUs = 250_000;

    private const long CheckUs = 2_000_000;
    private const long RetryUs = 1_000_000;

    // A bit of the display's status byte, table 9-2 of its data sheet. It is set while the display is dark.
    private const int Dark = 0x40;

    private readonly IMicrosClock _clock;
    private readonly Ssd1306Display _display;
    private readonly ITwoWireDevice _wire;
    private readonly byte[] _status = new byte[1];
    private long _triedUs;
    private long _checkedUs;
    private long _slowestPageUs;
    private long _recentPageUs;
    private int _brightness = DisplayLight.Dark;
    private bool _dark;
    private bool _seen;

    /// <summary>Creates the sender. It sends nothing yet.</summary>
    public DisplaySender(ITwoWireDevice wire, DisplayKind kind, IMicrosClock clock)
    {
        _wire = wire;
        _clock = clock;
        _display = new Ssd1306Display(wire, kind);
    }

    /// <summary>True when the display answered its last command.</summary>
    public bool Ready { get; private set; }

    /// <summary>True when it is time to try a display again that did not answer.</summary>
    public bool RetryDue(long nowUs) => nowUs - _triedUs >= RetryUs;

    /// <summary>Switches the display off.</summary>
    public void Off() => _display.Off();

    /// <summary>Sets the display up. When it had been lost, its return is counted.</summary>
    public void Try(Frame frame, BoxHealth health, long nowUs)
    {
        _triedUs = nowUs;
        Ready = _display.Initialise();
        if (!Ready) return;
        if (_seen) health.DisplayReturns++;
        _seen = true;
        frame.ForgetSent();
        _brightness = DisplayLight.Dark;
    }

    /// <summary>Sends what has changed, as far as there is time before the next edge.</summary>
    /// <param name="frame">The picture.</param>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="run">Says when the next edge is, which may come nearer between two pages. On a very slow bus the picture does not change during a run.</param>
    /// <param name="health">Where a very slow bus is noted.</param>
    /// <param name="brightness">0 to 10, or <see cref="DisplayLight.Dark"/>.</param>
    public void Send(Frame frame, long nowUs, RunReport run, BoxHealth health, int brightness)
    {
        health.BusSlow = _recentPageUs > MostPageUs;
        if (brightness == DisplayLight.Dark)
        {
            if (!_dark && _display.Off()) _dark = true;
            NoteAnswer(nowUs);
            return;
        }
        if (_brightness != brightness && _display.SetContrast((byte)(brightness * 25 + 1))) _brightness = brightness;
        for (int i = 0; i < PagesPerPass && !(run.Running && health.BusSlow); i++)
        {
            // On a slow bus a page takes longer, and an edge must not wait for it.
            long before = _clock.NowUs;
            if (run.NextEdgeUs - before < Box.QuietBusUs + _slowestPageUs) break;
            if (!_display.SendNextChangedPage(frame)) break;
            long took = _clock.NowUs - before;
            if (took > _slowestPageUs) _slowestPageUs = took;
            // Edges are kept clear of the slowest page ever. Whether the bus counts as slow falls page by page when the bus has recovered.
            long remembered = _recentPageUs - _recentPageUs / 8;
            _recentPageUs = took > remembered ? took : remembered;
            if (took > LongPageUs) break;
        }
        if (_dark && _display.On()) _dark = false;
        if (_display.State == Ssd1306State.Ready && nowUs - _checkedUs >= CheckUs)
        {
            // When the plug was loose for a moment, every message may have been acknowledged all the same. But the chip has restarted, and is dark.
            _checkedUs = nowUs;
            if (_wire.Read(_status) && (_status[0] & Dark) != 0)
            {
                Ready = false;
                _triedUs = nowUs - RetryUs;
            }
        }
        NoteAnswer(nowUs);
    }

    private void NoteAnswer(long nowUs)
    {
        if (_display.State != Ssd1306State.NoAnswer) return;
        Ready = false;
        _triedUs = nowUs;
    }
}

using Intervalometer.Core;
using Intervalometer.Core.Exposure;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The settings that belong to no other card: film, the longest exposure allowed, the display, and the lock. It also shows what has failed.</summary>
public sealed class BoxCard : Card
{
    private readonly BoxSettings _settings;
    private readonly BoxHealth _health;

    /// <summary>Creates the card.</summary>
    public BoxCard(BoxSettings settings, BoxHealth health)
    {
        _settings = settings;
        _health = health;
    }

    /// <inheritdoc/>
    public override string Name => "BOX";

    /// <inheritdoc/>
    public override long RedrawUs => _health.Any ? 1_000_000 : 5_000_000;

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        if (fields.Is("Film"))
        {
            if (fields.Changes)
            {
                _settings.StepFilm(fields.Direction);
                return;
            }
            fields.Value = _settings.Film.Label;
            fields.Note = _settings.Film.Index == 0 ? "no correction" : "60 s becomes " + ExposureText.Clock(_settings.Film.Corrected(60));
        }
        if (fields.Is("Longest exposure"))
        {
            if (fields.Changes)
            {
                ChangeLimit(fields);
                return;
            }
            fields.Value = ExposureText.Clock(_settings.LimitSeconds);
            fields.Note = "longer is refused";
        }
        if (fields.Is("Display brightness")) _settings.Brightness = fields.Number(_settings.Brightness, 1, 0, 10, "");
        if (fields.Is("Brightness by night"))
        {
            _settings.NightBrightness = fields.Number(_settings.NightBrightness, 1, 0, 10, "");
            fields.Note = "until civil dawn, from dusk";
        }
        if (fields.Is("In a run, dark after"))
        {
            _settings.DarkSeconds = fields.Number(_settings.DarkSeconds, 10, 0, DisplayLight.MostSeconds, " s");
            if (fields.Changes) return;
            if (_settings.DarkSeconds == 0) fields.Value = "never";
            fields.Note = "any button shows it again";
        }
        if (fields.Is("Lock by itself after"))
        {
            _settings.LockMinutes = fields.Number(_settings.LockMinutes, 1, 0, Nav.KeyLock.MostMinutes, " min");
            if (fields.Changes) return;
            if (_settings.LockMinutes == 0) fields.Value = "never";
            fields.Note = "by hand: Select + Back x3";
        }
        if (_health.MemoryHeld && fields.Is("What memory holds"))
        {
            if (fields.Changes)
            {
                _health.StartAfresh = fields.Direction > 0;
                return;
            }
            fields.Value = _health.StartAfresh ? "overwrite" : "leave it";
            fields.Note = _health.StartAfresh ? "it will be gone" : "nothing new is kept";
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        CardPainter.Row(frame, Line1Y, "film", _settings.Film.Label);
        CardPainter.Row(frame, Line2Y, "longest exposure", ExposureText.Clock(_settings.LimitSeconds));
        CardPainter.Row(frame, Line3Y, "brightness " + _settings.Brightness.ToString(), "by night " + _settings.NightBrightness.ToString());
        CardPainter.Row(frame, Line4Y, "memory free", MemoryFree());
        if (_health.Any)
        {
            frame.Text(LeftX, Line5Y, "! " + _health.Failed(nowUs), Font.Small);
            frame.Text(LeftX, HintY, _health.Works(nowUs), Font.Small);
            return;
        }
        string cell = _health.Battery.Volts;
        if (cell.Length == 0) CardPainter.Row(frame, Line5Y, "firmware", FirmwareVersion.Text);
        else CardPainter.Row(frame, Line5Y, "firmware " + FirmwareVersion.Text, "battery " + cell);
        frame.Text(LeftX, HintY, "Select to change", Font.Small);
    }

    // Reading the free memory collects garbage. This card is shown only while no run is on, so that disturbs no edge.
    private string MemoryFree()
    {
        IHeapGauge? gauge = _health.Spare.Gauge;
        int free = gauge == null ? -1 : gauge.FreeBytes;
        return free < 0 ? "not known here" : (free / 1000).ToString() + " kB";
    }

    private void ChangeLimit(FieldList fields)
    {
        int limit = _settings.LimitSeconds;
        int below = limit + (fields.Direction < 0 ? -1 : 0);
        int step = below < 60 ? 1 : below < 600 ? 30 : 300;
        _settings.LimitSeconds = fields.Moved(limit, step, (int)ExposureSolver.MinLimitSeconds, (int)ExposureSolver.MaxLimitSeconds);
        _settings.Solve();
    }
}

using Intervalometer.Core;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;

namespace Intervalometer.Screens.Cards;

/// <summary>What is left: film, the longest exposure allowed, and the display.</summary>
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
    public override int FieldCount => _health.MemoryHeld ? 4 : 3;

    /// <inheritdoc/>
    public override long RedrawUs => _health.Any ? 1_000_000 : 5_000_000;

    /// <inheritdoc/>
    public override string Label(int field) => field switch
    {
        0 => "Film",
        1 => "Longest exposure",
        2 => "Display brightness",
        _ => "What memory holds",
    };

    /// <inheritdoc/>
    public override string Value(int field) => field switch
    {
        0 => _settings.Film.Label,
        1 => ExposureText.Clock(_settings.LimitSeconds),
        2 => _settings.Brightness.ToString(),
        _ => _health.StartAfresh ? "overwrite" : "leave it",
    };

    /// <inheritdoc/>
    public override string Note(int field) => field switch
    {
        0 => _settings.Film.Index == 0 ? "no correction" : "60 s becomes " + ExposureText.Clock(_settings.Film.Corrected(60)),
        1 => "longer is refused",
        3 => _health.StartAfresh ? "it will be gone" : "nothing new is kept",
        _ => "",
    };

    /// <inheritdoc/>
    public override void Change(int field, int direction, int repeats)
    {
        if (field == 0) _settings.StepFilm(direction);
        else if (field == 3) _health.StartAfresh = direction > 0;
        else if (field == 2) _settings.Brightness = Elementary.Clamp(_settings.Brightness + direction, 0, 10);
        else
        {
            int limit = _settings.LimitSeconds;
            int step = limit + (direction < 0 ? -1 : 0) < 60 ? 1 : limit + (direction < 0 ? -1 : 0) < 600 ? 30 : 300;
            _settings.LimitSeconds = Moved(limit, direction, step, (int)ExposureSolver.MinLimitSeconds, (int)ExposureSolver.MaxLimitSeconds);
            _settings.Solve();
        }
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        CardPainter.Row(frame, 11, "film", Value(0));
        CardPainter.Row(frame, 20, "longest exposure", Value(1));
        CardPainter.Row(frame, 29, "brightness", Value(2));
        CardPainter.Row(frame, 38, "memory free", MemoryFree());
        if (_health.Any)
        {
            frame.Text(0, 47, "! " + _health.Failed(nowUs), Font.Small);
            frame.Text(0, 56, _health.Works(nowUs), Font.Small);
            return;
        }
        string cell = _health.Battery.Volts;
        if (cell.Length == 0) CardPainter.Row(frame, 47, "firmware", FirmwareVersion.Text);
        else CardPainter.Row(frame, 47, "firmware " + FirmwareVersion.Text, "battery " + cell);
        frame.Text(0, 56, "Select to change", Font.Small);
    }

    // This card is shown only while no run is on, so the collection that it takes to know meets no edge.
    private string MemoryFree()
    {
        IHeapGauge? gauge = _health.Spare.Gauge;
        int free = gauge == null ? -1 : gauge.FreeBytes;
        return free < 0 ? "not known here" : (free / 1000).ToString() + " kB";
    }
}

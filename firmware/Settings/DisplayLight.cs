namespace Intervalometer.Settings;

/// <summary>
/// How bright the display is: as set, by night no brighter than is set for the night, and during a run that nobody touches first dim and
/// then dark. Any press lights it again. The board's lamp goes out with it.
/// </summary>
public sealed class DisplayLight
{
    /// <summary>In place of a brightness: the display is dark.</summary>
    public const int Dark = -1;

    /// <summary>The most seconds without a press after which the display may go dark in a run.</summary>
    public const int MostSeconds = 240;

    private readonly BoxSettings _settings;
    private long _touchedUs;

    /// <summary>Creates it, lit as the settings say.</summary>
    public DisplayLight(BoxSettings settings)
    {
        _settings = settings;
        Level = settings.Brightness;
    }

    /// <summary>The brightness now, 0 to 10, or <see cref="Dark"/>.</summary>
    public int Level { get; private set; }

    /// <summary>True while the display is dark.</summary>
    public bool IsDark => Level == Dark;

    /// <summary>A button went down. True when the display was dark, so that nobody can have read it.</summary>
    /// <param name="atUs">When, µs.</param>
    public bool Touched(long atUs)
    {
        bool was = IsDark;
        _touchedUs = atUs;
        if (was) Level = 0;
        return was;
    }

    /// <summary>Looks again. True when a display that was dark is lit again.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="night">True before civil dawn and after civil dusk.</param>
    /// <param name="mayDarken">True during a run that has nothing to tell which a person must see.</param>
    public bool Turn(long nowUs, bool night, bool mayDarken)
    {
        bool was = IsDark;
        int level = night && _settings.NightBrightness < _settings.Brightness ? _settings.NightBrightness : _settings.Brightness;
        long darkUs = _settings.DarkSeconds * 1_000_000L;
        long aloneUs = nowUs - _touchedUs;
        if (mayDarken && darkUs > 0 && aloneUs >= darkUs) level = Dark;
        else if (mayDarken && darkUs > 0 && aloneUs >= darkUs / 2) level = 0;
        Level = level;
        return was && level != Dark;
    }
}

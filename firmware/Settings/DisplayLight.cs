namespace Intervalometer.Settings;

/// <summary>
/// How bright the display is. Usually it is as bright as set, and at night no brighter than the limit for the night. During a run that
/// nobody touches it first dims and then goes dark. Any press lights it again. The board's lamp goes out together with the display.
/// </summary>
public sealed class DisplayLight
{
    /// <summary>This value in place of a brightness means that the display is dark.</summary>
    public const int Dark = -1;

    /// <summary>The longest time without a press that can be set for the display to go dark during a run, seconds.</summary>
    public const int MostSeconds = 240;

    private readonly BoxSettings _settings;
    private long _touchedUs;

    /// <summary>Creates the light of a display that is as bright as the settings say.</summary>
    public DisplayLight(BoxSettings settings)
    {
        _settings = settings;
        Level = settings.Brightness;
    }

    /// <summary>The present brightness, 0 to 10, or <see cref="Dark"/>.</summary>
    public int Level { get; private set; }

    /// <summary>True while the display is dark.</summary>
    public bool IsDark => Level == Dark;

    /// <summary>Notes that a button went down. Returns true when the display was dark, so that nobody can have read it.</summary>
    /// <param name="atUs">When, µs.</param>
    public bool Touched(long atUs)
    {
        bool was = IsDark;
        _touchedUs = atUs;
        if (was) Level = 0;
        return was;
    }

    /// <summary>Works out the brightness again. Returns true when a dark display has been lit.</summary>
    /// <param name="nowUs">The time now, µs.</param>
    /// <param name="night">True before civil dawn and after civil dusk.</param>
    /// <param name="mayDarken">True during a run in which there is nothing that a person must see.</param>
    public bool Pass(long nowUs, bool night, bool mayDarken)
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

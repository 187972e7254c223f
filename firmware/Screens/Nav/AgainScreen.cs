using Intervalometer.Core.Exposure;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.Screens.Nav;

/// <summary>
/// The next frame from the end of the last: the same, or longer or shorter. What it changes is the trim by hand of LIGHT; leaving
/// it without firing puts that back.
/// </summary>
public sealed class AgainScreen
{
    /// <summary>The step from the end of a run, third stops.</summary>
    public const int FirstThirds = 3;

    private readonly BoxSettings _settings;
    private readonly LightCard _light;
    private int _from;

    /// <summary>Creates the screen.</summary>
    public AgainScreen(BoxSettings settings, LightCard light)
    {
        _settings = settings;
        _light = light;
    }

    /// <summary>True while it is up.</summary>
    public bool Shown { get; private set; }

    /// <summary>Puts it up.</summary>
    /// <param name="thirds">Third stops against the last frame; positive is longer.</param>
    public void Open(int thirds)
    {
        _from = _settings.Base.HandThirds;
        Shown = true;
        _settings.StepHand(thirds);
    }

    /// <summary>Changes the exposure by thirds of a stop.</summary>
    public void Step(int thirds) => _settings.StepHand(thirds);

    /// <summary>The frame has begun: what was set stays.</summary>
    public void Took() => Shown = false;

    /// <summary>Left without firing: the trim is as it was.</summary>
    public void Leave()
    {
        Shown = false;
        _settings.StepHand(_from - _settings.Base.HandThirds);
    }

    /// <summary>Draws it.</summary>
    public void Draw(Frame frame)
    {
        int thirds = _settings.Base.HandThirds - _from;
        frame.Text(0, 0, "AGAIN", Font.Small);
        if (thirds != 0) frame.TextRight(128, 0, ExposureText.Thirds(thirds) + " st", Font.Small);
        frame.HLine(0, 9, Frame.Width);
        _light.DrawTime(frame, 12);
        frame.Text(0, 38, _light.CameraLine(), Font.Small);
        frame.Text(0, 47, "Up, Down: 1/3 stop", Font.Small);
        frame.Text(0, 56, "Fire: takes it  Back: no", Font.Small);
    }
}

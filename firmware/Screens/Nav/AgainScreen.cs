using Intervalometer.Core.Exposure;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <summary>
/// Offers the next frame after the end of a run: the same again, or longer or shorter. It changes the correction by hand of the LIGHT card, and
/// restores it when the screen is left without firing.
/// </summary>
public sealed class AgainScreen
{
    /// <summary>By how much Up or Down at the end of a run changes the exposure, third stops.</summary>
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

    /// <summary>True while the screen is shown.</summary>
    public bool Shown { get; private set; }

    /// <summary>Shows the screen.</summary>
    /// <param name="thirds">The difference from the last frame in third stops; positive is longer.</param>
    public void Open(int thirds)
    {
        _from = _settings.Base.HandThirds;
        Shown = true;
        _settings.StepHand(thirds);
    }

    /// <summary>Changes the exposure by thirds of a stop.</summary>
    public void Step(int thirds) => _settings.StepHand(thirds);

    /// <summary>Notes that the frame has begun, so that the new exposure stays set.</summary>
    public void Took() => Shown = false;

    /// <summary>Leaves the screen without firing and restores the correction by hand.</summary>
    public void Leave()
    {
        Shown = false;
        _settings.StepHand(_from - _settings.Base.HandThirds);
    }

    /// <summary>Draws the screen.</summary>
    public void Draw(Frame frame)
    {
        int thirds = _settings.Base.HandThirds - _from;
        CardPainter.Title(frame, "AGAIN");
        if (thirds != 0) frame.TextRight(RightX, HeadingY, ExposureText.Thirds(thirds) + " st", Font.Small);
        _light.DrawTime(frame, HeadlineY);
        frame.Text(LeftX, Line4Y, _light.CameraLine(), Font.Small);
        frame.Text(LeftX, Line5Y, "Up, Down: 1/3 stop", Font.Small);
        frame.Text(LeftX, HintY, "Fire: takes it  Back: no", Font.Small);
    }
}

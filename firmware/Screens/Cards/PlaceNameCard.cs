using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Cards;

/// <summary>The name of the place, letter by letter. The card opens over PLACE.</summary>
public sealed class PlaceNameCard : Card
{
    private readonly ShoreSettings _settings;

    /// <summary>Creates the card.</summary>
    public PlaceNameCard(ShoreSettings settings) => _settings = settings;

    /// <inheritdoc/>
    public override string Name => "PLACE NAME";

    /// <inheritdoc/>
    public override void Fields(FieldList fields)
    {
        if (!fields.IsAmong(ShoreSettings.LongestName)) return;
        if (!fields.Changes)
        {
            NameLetters.Tell(fields, _settings.Name);
            return;
        }
        string changed = NameLetters.Moved(_settings.Name, fields.Part, fields.Direction);
        _settings.SetName(changed.Length == 0 ? "A" : changed);
    }

    /// <inheritdoc/>
    public override void DrawOverview(Frame frame, long nowUs)
    {
        CardPainter.Paragraph(frame, NothingY, ReasonY, _settings.Name);
        frame.Text(LeftX, Line5Y, "Select: letter by letter", Font.Small);
        frame.Text(LeftX, HintY, "Back: to the place", Font.Small);
    }
}

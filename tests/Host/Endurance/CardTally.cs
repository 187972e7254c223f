using System.Reflection;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>Counts on which card and field every press acted. It reads the panel's own state and allocates nothing after construction.</summary>
internal sealed class CardTally
{
    private const int MostFields = 40;

    /// <summary>The most fields that each card can have: six low points, eight turns of the tide, every letter of a name.</summary>
    private static readonly (string Name, int Fields)[] Expected =
    [
        ("LightCard", 5), ("GlassCard", 1), ("FramesCard", 6), ("WavesCard", 7), ("WantedCard", 5), ("DepthCard", 4), ("TakenCard", 0), ("CameraCard", 7), ("BoxCard", 7), ("BenchCard", 1), ("HandCard", 0), ("StacksCard", 1),
        ("TideCard", 5 + 2 * 8), ("PathCard", 2 + 3 * 6), ("SunCard", 1), ("MorningsCard", 7), ("PlaceCard", 11 + 6), ("PlaceNameCard", 16),
        ("FilterCard", 7 + Core.Exposure.Filter.LongestName),
    ];

    private readonly Card[] _cards;
    private readonly Func<Card> _shown;
    private readonly long[][] _changes;
    private readonly long[] _overviews;

    public CardTally(FrontPanel panel)
    {
        _cards = [.. (Card[])Field(panel, "_cards"), .. (Card[])Field(panel, "_shoreCards"), (Card)Field(panel, "_filter"), (Card)Field(panel, "_taken"), (Card)Field(panel, "_bench"), (Card)Field(panel, "_hand"), (Card)Field(panel, "_stacks"), (Card)Field(panel, "_placeName")];
        _shown = typeof(FrontPanel).GetProperty("Shown", BindingFlags.Instance | BindingFlags.NonPublic)!.GetMethod!.CreateDelegate<Func<Card>>(panel);
        _changes = [.. _cards.Select(_ => new long[MostFields])];
        _overviews = new long[_cards.Length];
    }

    /// <summary>The kind of card that is shown, or that lies under a run or a message.</summary>
    public string Shown => _shown().GetType().Name;

    /// <summary>A button went down while a card was shown.</summary>
    public void Note(Button button, int field)
    {
        int card = Array.IndexOf(_cards, _shown());
        if (field < 0) _overviews[card]++;
        else if (button is Button.Up or Button.Down) _changes[card][field]++;
    }

    /// <summary>Every card was shown, and every field of every card was changed, at least this many times.</summary>
    public void AllReached(long times)
    {
        CollectionAssert.AreEquivalent(Expected.Select(e => e.Name).ToArray(), _cards.Select(c => c.GetType().Name).ToArray(), "this is the number of the cards");
        var missing = new List<string>();
        for (int i = 0; i < _cards.Length; i++)
        {
            string name = _cards[i].GetType().Name;
            int fields = Expected.Single(e => e.Name == name).Fields;
            if (_overviews[i] < times) missing.Add($"{name}: {_overviews[i]}");
            for (int f = 0; f < MostFields; f++)
            {
                if (f < fields && _changes[i][f] < times) missing.Add($"{name} field {f}: {_changes[i][f]}");
                if (f >= fields && _changes[i][f] > 0) missing.Add($"{name} field {f}: there is no such field");
            }
        }
        Assert.AreEqual(0, missing.Count, $"not reached {times} times: {string.Join("; ", missing)}");
    }

    public override string ToString() =>
        string.Join(", ", _cards.Select((c, i) => $"{c.GetType().Name[..^4]} {_overviews[i]} + {_changes[i].Sum()} changes (rarest field {_changes[i][..Expected.Single(e => e.Name == c.GetType().Name).Fields].DefaultIfEmpty().Min()})"));

    private static object Field(FrontPanel panel, string name) =>
        typeof(FrontPanel).GetField(name, BindingFlags.Instance | BindingFlags.NonPublic)!.GetValue(panel)!;
}

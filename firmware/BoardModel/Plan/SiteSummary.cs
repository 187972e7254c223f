using System.Globalization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings.Shore;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>What a box holds of a place, in words, with the caution at its end.</summary>
public static class SiteSummary
{
    /// <summary>Writes the summary.</summary>
    /// <param name="to">Where it is written.</param>
    /// <param name="desk">The shore side of the box.</param>
    /// <param name="now">The next high and low water are looked for from here.</param>
    public static void Write(TextWriter to, ShoreDesk desk, UtcInstant now)
    {
        ShoreSettings settings = desk.Settings;
        CoastPlace place = settings.Place;
        to.WriteLine($"Place       {place.Name}, {PlaceCard.Degrees(settings.LatitudeHundredths, "N", "S")} {PlaceCard.Degrees(settings.LongitudeHundredths, "E", "W")}, local time {Planner.OffsetWords(place.Offset)}");
        to.WriteLine($"Made        {(settings.Stamp == 0 ? "on the box" : "on a PC, " + Stamp(settings.Stamp) + " UTC")}");
        to.WriteLine($"Heights     above {place.DatumText}");
        to.WriteLine($"Tide        {Tide(settings)}");
        if (settings.Table.Count > 0) to.WriteLine($"Typed       {settings.Table.Count} turns from a table{(settings.FromTable ? ", in use" : ", not in use")}{(settings.TableFault.Length > 0 ? ": " + settings.TableFault : "")}");
        Turns(to, place, now);
        to.WriteLine($"Taken off   {place.AllowanceMinutes} min off every leave-by time and {place.AllowanceCentimetres} cm off every flood height: {Reason(place)}");
        to.WriteLine(place.PathCount == 0 ? "Path        no low point" : $"Path        {place.PathCount} low point{(place.PathCount == 1 ? "" : "s")}, walk in {place.WalkInMinutes} min");
        for (int i = 0; i < place.PathCount; i++)
        {
            PathPoint point = place.PathPoint(i);
            to.WriteLine($"            {point.Name}: floods {Metres(point.FloodMetres)}, walk {point.WalkMinutes} min, margin {Metres(point.MarginMetres)}");
        }
        MorningWish wish = settings.Wish;
        to.WriteLine($"Mornings    from {wish.BeforeMinutes} min before the sun rises to {wish.AfterMinutes} min after, tide between {Metres(wish.HighMetres)} and {Metres(wish.LowMetres)}, at least {wish.WorkMinutes} min of work, evenings {(wish.Evenings ? "yes" : "no")}");
        to.WriteLine($"Switches    way-back alarm {OnOff(desk.AlarmOn)}, dawn correction {OnOff(settings.DawnOn)}, wipe the glass {(settings.SprayMinutes == 0 ? "never" : $"every {settings.SprayMinutes} min")}");
        to.WriteLine(TideCaution.Full);
    }

    private static string Tide(ShoreSettings settings) => settings.GivenTide switch
    {
        HarmonicTide harmonic => $"{harmonic.Constants.Used} harmonic constituent{(harmonic.Constants.Used == 1 ? "" : "s")}, mean level {Metres(harmonic.Constants.MeanLevelMetres)}, node factors {harmonic.Schedule.ToString().ToLowerInvariant()}",
        PrintedTide printed => $"{printed.Count} printed turns",
        _ => "none of its own",
    };

    private static string Reason(CoastPlace place) => place.Tide switch
    {
        PrintedTide { IsShaped: true } when place.Shape == TideShape.AsSum => "the printed turns follow the place's own constituents",
        PrintedTide when place.Shape == TideShape.Plain => "the printed turns are of a plain tide",
        PrintedTide => "the printed turns are of a tide of any shape",
        _ when place.LeftOutCentimetres > 0 => $"the tide is a sum of constituents, and {place.LeftOutCentimetres} cm are for what was left out",
        _ => "the tide is a sum of constituents",
    };

    private static void Turns(TextWriter to, CoastPlace place, UtcInstant now)
    {
        if (!place.Tide.TryNextTurn(now, out TideTurn first))
        {
            to.WriteLine("            no high or low water known in the next 48 hours");
            return;
        }
        to.WriteLine(Turn(place, first));
        if (place.Tide.TryNextTurn(first.Time, out TideTurn second)) to.WriteLine(Turn(place, second));
    }

    private static string Turn(CoastPlace place, TideTurn turn)
    {
        CivilTime local = place.Offset.ToLocal(turn.Time.PlusSeconds(30));
        return $"            next {(turn.IsHigh ? "high" : "low")} water {TimeText.IsoDate(local)} {TimeText.HourMinute(local)} local, {Metres(turn.HeightMetres)}";
    }

    private static string Stamp(long seconds)
    {
        CivilTime at = CivilTime.FromUtc(new UtcInstant(seconds));
        return TimeText.IsoDate(at) + " " + TimeText.HourMinute(at);
    }

    private static string Metres(double metres) => metres.ToString("0.00", CultureInfo.InvariantCulture) + " m";

    private static string OnOff(bool on) => on ? "on" : "off";
}

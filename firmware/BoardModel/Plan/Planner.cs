using System.Globalization;
using Intervalometer.Coast.Place;
using Intervalometer.Coast.Time;

namespace Intervalometer.VirtualBoard.Plan;

/// <summary>Runs the firmware's own search to its end, and turns instants into .NET times for the exports.</summary>
public static class Planner
{
    /// <summary>Every fitting morning and evening, best first, how many could not be judged, and how often the sun did not rise or set.</summary>
    public static (IReadOnlyList<Morning> Ranked, int Unknown, int WithoutSun) Search(Site site, UtcInstant from, int days)
    {
        var search = new Mornings(site.Place, site.Wish, from, days, 732);
        while (!search.Step())
        {
        }
        return (Enumerable.Range(0, search.Count).Select(i => search[i]).ToArray(), search.Unknown, search.WithoutSun);
    }

    /// <summary>The instant as a UTC date and time.</summary>
    public static DateTime ToDateTime(UtcInstant instant) => new DateTime(2000, 1, 1, 0, 0, 0, DateTimeKind.Utc).AddSeconds(instant.Seconds);

    /// <summary>A UTC date and time as the day and the time at a place; in UTC without one.</summary>
    public static string LocalWords(DateTime utc, Site? site) =>
        utc.AddMinutes(site?.Place.Offset.MinutesAt(FromDateTime(utc)) ?? 0).ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);

    /// <summary>Local time in words: UTC+00:00, UTC+01:00 from 2026-03-29 01:00 UTC, and so on.</summary>
    public static string OffsetWords(LocalTime local)
    {
        string words = "UTC" + TimeText.Offset(local.Before);
        if (local.Rule != SummerRule.None) return words + ", an hour more in summer by " + SummerTime.Source(local.Rule);
        for (int i = 0; i < 2 && local.Changes && local.ChangeAt(i).IsValid; i++)
            words += $", UTC{TimeText.Offset(local.OffsetFrom(i))} from {ToDateTime(local.ChangeAt(i)).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture)} UTC";
        return words;
    }

    /// <summary>The instant of a UTC date and time, to the second below.</summary>
    public static UtcInstant FromDateTime(DateTime utc) => new((long)Math.Floor((utc - new DateTime(2000, 1, 1, 0, 0, 0, DateTimeKind.Utc)).TotalSeconds));
}

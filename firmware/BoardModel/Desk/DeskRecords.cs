using System.Text.Json;
using System.Text.Json.Serialization;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>What the page says when it asks about mornings.</summary>
/// <param name="Site">Text of the site file; empty for the invented place.</param>
/// <param name="From">First local day, like 2031-03-14.</param>
/// <param name="Days">How many days.</param>
/// <param name="Weekdays">Days of the week that suit, Monday is 1; none for all.</param>
/// <param name="Months">Months that suit, 1 to 12; none for all.</param>
/// <param name="Sun">Which morning is meant, when the question is about one: the second of its sunrise or sunset, as in the list.</param>
public sealed record MorningsAsked(string Site, string From, int Days, int[]? Weekdays = null, int[]? Months = null, long? Sun = null);

/// <summary>One morning or evening of the list, in words.</summary>
/// <param name="Sun">What it is called in later questions.</param>
/// <param name="Rank">1 for the best of all that fit.</param>
/// <param name="Month">Month and year, such as March 2031.</param>
/// <param name="Day">Day, such as Wed 19 March.</param>
/// <param name="Kind">morning or evening.</param>
/// <param name="WorkMinutes">How long the tide and the path leave for work.</param>
/// <param name="Reason">Why it is listed, in one sentence.</param>
/// <param name="Facts">What else to know about it, as names and values in words.</param>
/// <param name="Picture">The day as a drawing (SVG).</param>
public sealed record MorningShown(long Sun, int Rank, string Month, string Day, string Kind, int WorkMinutes, string Reason, IReadOnlyList<Fact> Facts, string Picture);

/// <summary>A name and its value in words.</summary>
public sealed record Fact(string Name, string Words);

/// <summary>The list of mornings.</summary>
/// <param name="Place">Name of the place, and the datum of its heights.</param>
/// <param name="Told">How many fit, and what could not be judged.</param>
/// <param name="Allowance">What is taken off every leave-by time.</param>
/// <param name="Caution">What must stand beside it.</param>
/// <param name="Mornings">The mornings, in order of time.</param>
public sealed record MorningsShown(string Place, string Told, string Allowance, string Caution, IReadOnlyList<MorningShown> Mornings);

/// <summary>What the page says when it asks about a place.</summary>
/// <param name="Site">Text of the site file.</param>
/// <param name="Table">A pasted table of high and low waters or of constituents, or the table of an official week.</param>
/// <param name="File">A dump of a box's memory, or an image of the firmware.</param>
public sealed record PlaceAsked(string Site, string? Table = null, byte[]? File = null);

/// <summary>The result of checking a place.</summary>
/// <param name="Site">Text of the site file, changed where that was asked for.</param>
/// <param name="Mistakes">What is wrong, in the order of its lines; nothing when the box can hold the place.</param>
/// <param name="Lines">What the box would hold, in lines.</param>
/// <param name="Caution">What must stand beside it.</param>
public sealed record PlaceShown(string Site, IReadOnlyList<SiteMistake> Mistakes, IReadOnlyList<string> Lines, string Caution);

/// <summary>A table that was compared.</summary>
/// <param name="Agrees">True when the place's tide agrees with it.</param>
/// <param name="Lines">What was found.</param>
public sealed record WeekShown(bool Agrees, IReadOnlyList<string> Lines);

/// <summary>A picture file with the moment it was taken.</summary>
/// <param name="Name">File name.</param>
/// <param name="Taken">When, by the camera's clock, like 2031-03-19T05:50:12; with an offset when the camera wrote one.</param>
public sealed record PictureTaken(string Name, string Taken);

/// <summary>What the page says when it asks about a logbook.</summary>
/// <param name="File">A dump of the memory, 4096 bytes, or a report of a played scenario (JSON).</param>
/// <param name="Verdicts">What the photographer says of a frame: its number, and hit or miss.</param>
/// <param name="Pictures">Pictures to be matched.</param>
/// <param name="Ahead">How many seconds the camera's clock is ahead of the place's time; null to find it out.</param>
public sealed record LogbookAsked(byte[] File, IReadOnlyDictionary<string, string>? Verdicts = null, IReadOnlyList<PictureTaken>? Pictures = null, double? Ahead = null);

/// <summary>A logbook that was read.</summary>
/// <param name="Source">What the file is.</param>
/// <param name="AnswerFor">What the answers are for, as the heading of their column.</param>
/// <param name="Frames">Its frames.</param>
/// <param name="Told">How many, and the share of hits.</param>
/// <param name="Matched">How the pictures match; empty without pictures.</param>
/// <param name="Picture">Exposures, answers and places in the wave as a drawing (SVG).</param>
public sealed record LogbookShown(string Source, string AnswerFor, IReadOnlyList<LoggedFrame> Frames, string Told, string Matched, string Picture);

/// <summary>A frame of a logbook, in words and in figures.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Start">When it began.</param>
/// <param name="ExposureSeconds">How long the shutter was open.</param>
/// <param name="Exposure">The same in words.</param>
/// <param name="Answer">What the box had answered, in words; empty when that is not known.</param>
/// <param name="OffStops">Exposure against the answer, stops; null when that is not known.</param>
/// <param name="WavePercent">Where in the wave it began, per cent of the learned period since the turn; or, in a report, the share of it that lay on the backwash.</param>
/// <param name="Notes">What else is known: stopped, late, in doubt.</param>
/// <param name="Verdict">hit, miss or nothing.</param>
/// <param name="File">The picture file that matches; empty for none.</param>
public sealed record LoggedFrame(int Number, string Start, double ExposureSeconds, string Exposure, string Answer, double? OffStops, double? WavePercent, string Notes, string Verdict, string File);

/// <summary>How questions and answers of the desk are written as JSON.</summary>
[JsonSerializable(typeof(MorningsAsked))]
[JsonSerializable(typeof(MorningsShown))]
[JsonSerializable(typeof(PlaceAsked))]
[JsonSerializable(typeof(PlaceShown))]
[JsonSerializable(typeof(WeekShown))]
[JsonSerializable(typeof(LogbookAsked))]
[JsonSerializable(typeof(LogbookShown))]
[JsonSerializable(typeof(PictureTaken))]
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
public sealed partial class DeskJson : JsonSerializerContext;

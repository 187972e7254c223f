using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Settings.Store;

/// <summary>
/// The stored form of the place: name, datum, position, local time, path, wish for mornings, and the switches of the shore
/// side. The tide has a record of its own (<see cref="TideRecord"/>). A checksum in this record says which tide belongs to the place.
/// </summary>
/// <remarks>
/// It takes 78 bytes, and 22 for each low point. Version 1 had neither the tide's shape nor the figure for constituents left out, and can be
/// read. A place whose clocks change takes 12 more, or one when a rule says when. Heights are whole centimetres and the position is in
/// hundredths of a degree, as in <see cref="ShoreSettings"/>: 0.005 degree moves sunrise by about a second. A record is read as a whole or
/// not at all, so that no low point is lost. A new field raises the version.
/// </remarks>
public sealed class SiteRecord
{
    /// <summary>The version of the stored form.</summary>
    public const int Version = 2;

    private const int AlarmBit = 1;
    private const int DawnBit = 2;
    private const int TableBit = 4;
    // Set in every record since version 2: the tide's shape and the figure for constituents left out stand after the low points.
    private const int ShapeBit = 8;
    // The clocks of the place change. When they do, and to which offset, stands at the end.
    private const int ClockBit = 16;
    // The clocks change by a rule, whose number stands at the end instead.
    private const int RuleBit = 32;
    private const int MorningsBit = 1;
    private const int EveningsBit = 2;
    private const int MostSpray = 60;
    private const long MostStamp = 0xFFFFFFFFL;

    private readonly string[] _names = new string[ShoreSettings.MostPoints];
    private readonly int[] _flood = new int[ShoreSettings.MostPoints];
    private readonly int[] _walk = new int[ShoreSettings.MostPoints];
    private readonly int[] _margin = new int[ShoreSettings.MostPoints];
    private int _points;
    private int _switches;
    private int _spray;
    private string _name = "";
    private string _datum = "";
    private int _latitude;
    private int _longitude;
    private int _offset;
    private LocalTime _local = new LocalTime(new LocalOffset(0));
    private int _walkIn;
    private int _shape;
    private int _leftOut;
    private MorningWish _wish;

    private SiteRecord()
    {
    }

    /// <summary>When the place was made on a PC, seconds since 2000-01-01 00:00 UTC; 0 for a place that was not made there.</summary>
    public long Stamp { get; private set; }

    /// <summary>The checksum of the tide that belongs to the place (<see cref="TideRecord.Sum"/>); 0 when the place has no tide of its own.</summary>
    public long TideSum { get; private set; }

    /// <summary>True when the way-back alarm was on.</summary>
    public bool AlarmOn => (_switches & AlarmBit) != 0;

    /// <summary>Writes the place and the switches. Allocates nothing, and costs about 5 thousand IL instructions with six low points (by counting).</summary>
    /// <param name="desk">The shore side that holds them.</param>
    /// <param name="tideSum">The checksum of the tide that came with the place; 0 for none.</param>
    /// <param name="bytes">Where they are written.</param>
    public static void Put(ShoreDesk desk, long tideSum, Bytes bytes)
    {
        ShoreSettings settings = desk.Settings;
        bytes.Put(settings.Stamp, 4);
        bytes.Put(tideSum, 4);
        bytes.Put((desk.AlarmOn ? AlarmBit : 0) | (settings.DawnOn ? DawnBit : 0) | (settings.TableChosen ? TableBit : 0) | ShapeBit | Clock(settings.Offset), 1);
        bytes.Put(Elementary.Clamp(settings.SprayMinutes, 0, MostSpray), 1);
        bytes.PutText(settings.Name, ShoreSettings.LongestName);
        bytes.PutText(settings.DatumText, ShoreSettings.LongestDatum);
        bytes.Put(settings.LatitudeHundredths, 2);
        bytes.Put(settings.LongitudeHundredths, 2);
        bytes.Put(settings.Offset.Before.Minutes, 2);
        bytes.Put(settings.WalkInMinutes, 2);
        MorningWish wish = settings.Wish;
        bytes.Put(wish.BeforeMinutes, 1);
        bytes.Put(wish.AfterMinutes, 1);
        bytes.Put(Centimetres(wish.HighMetres), 2);
        bytes.Put(Centimetres(wish.LowMetres), 2);
        bytes.Put(wish.WorkMinutes, 2);
        bytes.Put((wish.Mornings ? MorningsBit : 0) | (wish.Evenings ? EveningsBit : 0), 1);
        bytes.Put(settings.PointCount, 1);
        for (int i = 0; i < settings.PointCount; i++)
        {
            bytes.PutText(settings.PointName(i), ShoreSettings.LongestName);
            bytes.Put(settings.FloodCentimetres(i), 2);
            bytes.Put(settings.WalkMinutes(i), 2);
            bytes.Put(settings.MarginCentimetres(i), 2);
        }
        bytes.Put((int)settings.Shape, 1);
        bytes.Put(settings.LeftOutCentimetres, 1);
        int clock = Clock(settings.Offset);
        if (clock == RuleBit) bytes.Put((int)settings.Offset.Rule, 1);
        for (int i = 0; i < 2 && clock == ClockBit; i++)
        {
            bytes.Put(settings.Offset.ChangeAt(i).Seconds, 4);
            bytes.Put(settings.Offset.OffsetFrom(i).Minutes, 2);
        }
    }

    /// <summary>Reads a record. Returns null when it is too short or too long, or when a value is out of range.</summary>
    public static SiteRecord? Take(Bytes bytes)
    {
        SiteRecord site = new SiteRecord();
        site.Stamp = bytes.Take(4, 0, MostStamp, 0);
        site.TideSum = bytes.Take(4, 0, 0xFFFFFFFFL, 0);
        site._switches = bytes.TakeInt(1, 0, AlarmBit | DawnBit | TableBit | ShapeBit | ClockBit | RuleBit, 0);
        site._spray = bytes.TakeInt(1, 0, MostSpray, 0);
        site._name = bytes.TakeText(ShoreSettings.LongestName);
        site._datum = bytes.TakeText(ShoreSettings.LongestDatum);
        site._latitude = bytes.TakeInt(2, -9000, 9000, 0);
        site._longitude = bytes.TakeInt(2, -18000, 18000, 0);
        site._offset = bytes.TakeInt(2, LocalOffset.LeastMinutes, LocalOffset.MostMinutes, 0);
        site._walkIn = bytes.TakeInt(2, 0, 600, 0);
        int before = bytes.TakeInt(1, 0, 180, 0);
        int after = bytes.TakeInt(1, 0, 180, 0);
        int high = bytes.TakeInt(2, -ShoreSettings.MostCentimetres, ShoreSettings.MostCentimetres, 0);
        int low = bytes.TakeInt(2, -ShoreSettings.MostCentimetres, high, high);
        int work = bytes.TakeInt(2, 5, 360, 5);
        int kinds = bytes.TakeInt(1, 0, MorningsBit | EveningsBit, 0);
        site._wish = new MorningWish(before, after, high / 100.0, low / 100.0, work, (kinds & MorningsBit) != 0, (kinds & EveningsBit) != 0);
        site._points = bytes.TakeInt(1, 0, ShoreSettings.MostPoints, 0);
        for (int i = 0; i < site._points; i++)
        {
            site._names[i] = bytes.TakeText(ShoreSettings.LongestName);
            site._flood[i] = bytes.TakeInt(2, -ShoreSettings.MostCentimetres, ShoreSettings.MostCentimetres, 0);
            site._walk[i] = bytes.TakeInt(2, 0, 600, 0);
            site._margin[i] = bytes.TakeInt(2, 0, ShoreSettings.MostMarginCentimetres, 0);
        }
        if ((site._switches & ShapeBit) != 0)
        {
            site._shape = bytes.TakeInt(1, 0, (int)TideShape.AsNeighbour, 0);
            site._leftOut = bytes.TakeInt(1, 0, TideAllowance.MostLeftOutCentimetres, 0);
        }
        LocalOffset always = new LocalOffset(site._offset);
        site._local = new LocalTime(always);
        if ((site._switches & ClockBit) != 0)
        {
            UtcInstant firstAt = new UtcInstant(bytes.Take(4, 0, UtcInstant.EndSeconds - 1, 0));
            LocalOffset first = new LocalOffset(bytes.TakeInt(2, LocalOffset.LeastMinutes, LocalOffset.MostMinutes, 0));
            UtcInstant secondAt = new UtcInstant(bytes.Take(4, firstAt.Seconds, UtcInstant.EndSeconds, firstAt.Seconds));
            site._local = new LocalTime(always, firstAt, first, secondAt, new LocalOffset(bytes.TakeInt(2, LocalOffset.LeastMinutes, LocalOffset.MostMinutes, 0)));
        }
        else if ((site._switches & RuleBit) != 0) site._local = new LocalTime(always, (SummerRule)bytes.TakeInt(1, 1, SummerTime.Count - 1, 1));
        return bytes.Whole ? site : null;
    }

    /// <summary>Takes the place over. Its tide comes from <see cref="TideRecord.Use"/>.</summary>
    public void UsePlace(ShoreSettings settings)
    {
        settings.SetName(_name);
        settings.Describe(_datum, _walkIn);
        settings.SetPosition(_latitude, _longitude);
        settings.SetOffset(_local);
        settings.SetWish(_wish);
        for (int i = 0; i < _points; i++) settings.RestorePoint(i, _names[i], _flood[i], _walk[i], _margin[i]);
        settings.SetPointCount(_points);
        settings.SetFromTable((_switches & TableBit) != 0);
        settings.SetShape((TideShape)_shape, _leftOut);
        settings.Stamp = Stamp;
    }

    /// <summary>Takes the switches over. An alarm that was on is switched on again; see <see cref="ShoreDesk.RestoreAlarm"/>.</summary>
    public void UseSwitches(ShoreDesk desk)
    {
        desk.Settings.DawnOn = (_switches & DawnBit) != 0;
        desk.Settings.SprayMinutes = _spray;
        if (AlarmOn) desk.RestoreAlarm();
    }

    private static int Clock(LocalTime local) => local.Rule != SummerRule.None ? RuleBit : local.Changes ? ClockBit : 0;

    private static int Centimetres(double metres) =>
        Elementary.Clamp((int)Elementary.Round(metres * 100), -ShoreSettings.MostCentimetres, ShoreSettings.MostCentimetres);
}

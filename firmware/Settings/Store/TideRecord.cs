using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Settings.Store;

/// <summary>
/// The stored form of the tide: the tide that came with the place (harmonic constants, or the turns of a printed table), and the table
/// that a person typed in.
/// </summary>
/// <remarks>
/// Amplitudes and the mean level are whole micrometres and phase lags ten-thousandths of a degree, so constants that are published come back
/// bit for bit. For any other constants the rounding changes the height by at most 0.5 um, and 0.87 um for each metre of amplitude, for each
/// constituent. With all 37 at the limit of 10 m that is 0.35 mm before node factors, and less than 1 mm with them. A place with constituents
/// outside the NOAA set stores the recipe of each: 8 bytes, with an amplitude in tenths of a millimetre and a phase lag in hundredths of a
/// degree. With 60 constituents whose amplitudes add up to 10 m this changes the height by at most 3.9 mm. The record takes at most 539 bytes.
/// It is read as a whole or not at all. A new field raises the version. Version 1 had no recipes, and can be read.
/// </remarks>
public sealed class TideRecord
{
    /// <summary>The version of the stored form.</summary>
    public const int Version = 2;

    // Set together with the number of typed turns since version 2. It says that the times are stored as printed, and that bits after it say what was typed.
    private const int AsPrinted = 0x80;
    private const int None = 0;
    private const int Harmonic = 1;
    private const int Printed = 2;
    private const int Open = 3;
    private const int MostTenths = 0xFFFF;
    private const int HundredthsTurn = 36_000;
    private const int MostMicrometres = 20_000_000;
    private const int MostAmplitude = 10_000_000;
    private const int PhaseTurn = 3_600_000;
    private const long LastSecond = UtcInstant.EndSeconds - 1;

    private readonly long[] _seconds = new long[TypedTable.Capacity];
    private readonly int[] _centimetres = new int[TypedTable.Capacity];
    private TideSource? _given;
    private int _typed;
    private int _marks;
    private bool _asPrinted;
    private bool _firstIsHigh;

    private TideRecord()
    {
    }

    /// <summary>The checksum of the tide that came with the place, by which the record of the place knows its tide; 0 when none came.</summary>
    public long Sum { get; private set; }

    /// <summary>Writes both. Allocates nothing, and costs about 7 thousand IL instructions with 37 constituents (by counting).</summary>
    public static void Put(ShoreSettings settings, Bytes bytes)
    {
        PutGiven(settings.GivenTide, bytes);
        TypedTable table = settings.Table;
        bytes.Put(table.Count | AsPrinted, 1);
        bytes.PutFlag(table.FirstIsHigh);
        bytes.Put(table.Typed, 2);
        for (int i = 0; i < table.Count; i++)
        {
            bytes.Put(Held(table.Printed(i)), 4);
            bytes.Put(table.Centimetres(i), 2);
        }
    }

    /// <summary>Works out the checksum that <see cref="Sum"/> will have for a tide.</summary>
    /// <param name="tide">The tide that came with the place.</param>
    /// <param name="scratch">An array at least as large as the record can be; it is overwritten.</param>
    /// <param name="bytes">The writer that is used.</param>
    public static long SumOf(TideSource? tide, byte[] scratch, Bytes bytes)
    {
        bytes.Restart(scratch, scratch.Length);
        PutGiven(tide, bytes);
        return scratch[0] == None ? 0 : SumOf(scratch, bytes.At);
    }

    /// <summary>Reads a record. Returns null when it is too short or too long, or when a value is out of range.</summary>
    /// <param name="data">The array that <paramref name="bytes"/> reads, from its start.</param>
    /// <param name="bytes">A reader at the start of the record.</param>
    public static TideRecord? Take(byte[] data, Bytes bytes)
    {
        TideRecord record = new TideRecord();
        int kind = bytes.TakeInt(1, None, Open, None);
        if (kind == Harmonic) record._given = TakeHarmonic(bytes);
        else if (kind == Printed) record._given = TakePrinted(bytes);
        else if (kind == Open) record._given = TakeOpen(bytes);
        if (bytes.Bad || bytes.Ended || (kind != None && record._given == null)) return null;
        if (kind != None) record.Sum = SumOf(data, bytes.At);
        int typed = bytes.TakeInt(1, 0, TypedTable.Capacity | AsPrinted, 0);
        record._asPrinted = (typed & AsPrinted) != 0;
        record._typed = typed & ~AsPrinted;
        if (record._typed > TypedTable.Capacity) return null;
        record._firstIsHigh = bytes.TakeFlag(true);
        if (record._asPrinted) record._marks = bytes.TakeInt(2, 0, 0xFFFF, 0);
        int bits = (1 << record._typed) - 1;
        if ((record._marks & ~(bits | bits << TypedTable.Capacity)) != 0) return null;
        for (int i = 0; i < record._typed; i++)
        {
            record._seconds[i] = bytes.Take(4, 0, LastSecond, 0);
            record._centimetres[i] = bytes.TakeInt(2, TypedTable.LeastCentimetres, TypedTable.MostCentimetres, 0);
        }
        return bytes.Whole ? record : null;
    }

    /// <summary>Takes the tide over.</summary>
    /// <param name="settings">Where it goes.</param>
    /// <param name="given">True for the tide that came with the place too; false for the typed table alone.</param>
    public void Use(ShoreSettings settings, bool given)
    {
        settings.Table.Restart(_typed, _firstIsHigh);
        for (int i = 0; i < _typed; i++)
        {
            UtcInstant time = new UtcInstant(_seconds[i]);
            // Version 1 stored the instant. The printed time is what the clocks of the place show then.
            settings.Table.Set(i, _asPrinted ? time : time.PlusMinutes(settings.Offset.MinutesAt(time)), _centimetres[i]);
        }
        if (_asPrinted) settings.Table.Confirm(_marks);
        if (given) settings.Give(_given);
        else settings.Touch();
    }

    private static void PutGiven(TideSource? tide, Bytes bytes)
    {
        if (tide is HarmonicTide harmonic)
        {
            if (harmonic.Constants.AllOfNoaa) PutHarmonic(harmonic, bytes);
            else PutOpen(harmonic, bytes);
        }
        else if (tide is PrintedTide printed) PutPrinted(printed, bytes);
        else bytes.Put(None, 1);
    }

    private static void PutHarmonic(HarmonicTide tide, Bytes bytes)
    {
        HarmonicConstants constants = tide.Constants;
        long used = 0;
        for (int i = 0; i < Constituents.Count; i++)
        {
            if (Amplitude(constants, i) > 0) used |= 1L << i;
        }
        bytes.Put(Harmonic, 1);
        bytes.Put((int)tide.Schedule, 1);
        bytes.Put(Micrometres(constants.MeanLevelMetres), 4);
        bytes.Put(used, 5);
        for (int i = 0; i < Constituents.Count; i++)
        {
            if ((used & (1L << i)) == 0) continue;
            bytes.Put(Amplitude(constants, i), 3);
            bytes.Put(Phase(constants.PhaseLagDegrees(i), PhaseTurn), 3);
        }
    }

    private static void PutOpen(HarmonicTide tide, Bytes bytes)
    {
        HarmonicConstants constants = tide.Constants;
        int count = 0;
        for (int i = 0; i < constants.Count; i++)
            if (Tenths(constants, i) > 0) count++;
        bytes.Put(Open, 1);
        bytes.Put((int)tide.Schedule, 1);
        bytes.Put(Micrometres(constants.MeanLevelMetres), 4);
        bytes.Put(count, 1);
        for (int i = 0; i < constants.Count; i++)
        {
            int tenths = Tenths(constants, i);
            if (tenths <= 0) continue;
            bytes.Put(constants.RecipeAt(i), 4);
            bytes.Put(tenths, 2);
            bytes.Put(Phase(constants.PhaseLagDegreesAt(i), HundredthsTurn), 2);
        }
    }

    private static HarmonicTide? TakeOpen(Bytes bytes)
    {
        int schedule = bytes.TakeInt(1, 0, (int)NodeSchedule.Daily, 0);
        int level = bytes.TakeInt(4, -MostMicrometres, MostMicrometres, 0);
        int count = bytes.TakeInt(1, 1, HarmonicConstants.Most, 1);
        HarmonicConstants constants = new HarmonicConstants(level / 1e6, count);
        for (int i = 0; i < count; i++)
        {
            int recipe = bytes.TakeInt(4, int.MinValue, int.MaxValue, 0);
            int tenths = bytes.TakeInt(2, 1, MostTenths, 0);
            int phase = bytes.TakeInt(2, 0, HundredthsTurn - 1, 0);
            if (bytes.Bad || bytes.Ended || ConstituentRecipe.TermsOf(recipe) >= ConstituentRecipe.TermCount) return null;
            constants.TrySet(recipe, tenths / 1e4, phase / 100.0);
        }
        // Two equal recipes would have become one constituent here.
        return constants.Count < count ? null : new HarmonicTide(constants, (NodeSchedule)schedule);
    }

    private static HarmonicTide? TakeHarmonic(Bytes bytes)
    {
        int schedule = bytes.TakeInt(1, 0, (int)NodeSchedule.Daily, 0);
        int level = bytes.TakeInt(4, -MostMicrometres, MostMicrometres, 0);
        long used = bytes.Take(5, 1, (1L << Constituents.Count) - 1, 0);
        HarmonicConstants constants = new HarmonicConstants(level / 1e6);
        for (int i = 0; i < Constituents.Count; i++)
        {
            if ((used & (1L << i)) == 0) continue;
            int amplitude = bytes.TakeInt(3, 1, MostAmplitude, 0);
            int phase = bytes.TakeInt(3, 0, PhaseTurn - 1, 0);
            constants.Set(i, amplitude / 1e6, phase / 1e4);
        }
        return bytes.Bad || bytes.Ended ? null : new HarmonicTide(constants, (NodeSchedule)schedule);
    }

    private static void PutPrinted(PrintedTide tide, Bytes bytes)
    {
        bytes.Put(Printed, 1);
        bytes.Put(tide.Count, 1);
        bytes.PutFlag(tide.Count == 0 || tide[0].IsHigh);
        for (int i = 0; i < tide.Count; i++)
        {
            bytes.Put(Held(tide[i].Time), 4);
            bytes.Put(Micrometres(tide[i].HeightMetres), 4);
        }
    }

    private static PrintedTide? TakePrinted(Bytes bytes)
    {
        PrintedTide tide = new PrintedTide();
        int count = bytes.TakeInt(1, 0, PrintedTide.Capacity, 0);
        bool high = bytes.TakeFlag(true);
        for (int i = 0; i < count; i++)
        {
            UtcInstant time = new UtcInstant(bytes.Take(4, 0, LastSecond, 0));
            int height = bytes.TakeInt(4, -MostMicrometres, MostMicrometres, 0);
            if (bytes.Bad || bytes.Ended || tide.Add(time, height / 1e6, high) != null) return null;
            high = !high;
        }
        return tide;
    }

    private static long SumOf(byte[] data, int count)
    {
        uint crc = Crc.Of32(data, 0, count);
        return crc;
    }

    private static long Held(UtcInstant time) => time.Seconds < 0 ? 0 : time.Seconds > LastSecond ? LastSecond : time.Seconds;

    private static int Amplitude(HarmonicConstants constants, int index)
    {
        int amplitude = Micrometres(constants.AmplitudeMetres(index));
        return amplitude > MostAmplitude ? MostAmplitude : amplitude;
    }

    private static int Tenths(HarmonicConstants constants, int at) =>
        (int)Elementary.Round(Elementary.Clamp(constants.AmplitudeMetresAt(at) * 1e4, 0, MostTenths));

    // The phase lag as a whole number of parts of a turn.
    private static long Phase(double degrees, int turn)
    {
        long phase = Elementary.Round(Elementary.Wrap(degrees, 360.0) * (turn / 360.0));
        return phase >= turn ? 0 : phase;
    }

    private static int Micrometres(double metres) => (int)Elementary.Round(Elementary.Clamp(metres, -20.0, 20.0) * 1e6);
}

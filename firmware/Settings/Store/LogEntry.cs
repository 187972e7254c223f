using Intervalometer.Core.Light;
using Intervalometer.Core.Link;

namespace Intervalometer.Settings.Store;

/// <summary>One frame in the logbook.</summary>
public sealed class LogEntry
{
    /// <summary>Sessions are numbered 0 to 1023 and then from 0 again.</summary>
    public const int Sessions = 1024;

    /// <summary>The longest time since power-on that can be stored, tenths of a second: 58 hours.</summary>
    public const long MostTenths = 0x1FFFFF;

    /// <summary>True when <see cref="StartUtcSeconds"/> says when the frame began; false when <see cref="Session"/> and <see cref="StartTenths"/> do.</summary>
    public bool HasUtc { get; set; }

    /// <summary>When the shutter opened, whole seconds since 2000-01-01 00:00 UTC, below 2^31.</summary>
    public long StartUtcSeconds { get; set; }

    /// <summary>The number of the power-on, 0 to 1023. It grows by one with each power-on in which frames were stored.</summary>
    public int Session { get; set; }

    /// <summary>When the shutter opened, tenths of a second since the box was switched on, 0 to <see cref="MostTenths"/>.</summary>
    public long StartTenths { get; set; }

    /// <summary>How long the shutter was open, from the writes of its contact or from the camera's own dial, µs, up to 34 thousand seconds. It is stored to one part in a million.</summary>
    public long ExposureUs { get; set; }

    /// <summary>True when the exposure was stopped early; <see cref="ExposureUs"/> is then the time until the stop.</summary>
    public bool CutShort { get; set; }

    /// <summary>The light that all filters together took, hundredths of a stop, 0 to <see cref="MostStops"/>.</summary>
    public int StopsHundredths { get; set; }

    /// <summary>The most that can be stored of it: 81.91 stops, which is far more than any exposure allows.</summary>
    public const int MostStops = 0x1FFF;

    /// <summary>The metered light as an exposure value at ISO 100, in hundredths, -32768 to 32767. For a frame that followed the light, it is the light that its exposure was taken from.</summary>
    public int LightHundredths { get; set; }

    /// <summary>At which point of the wave the shutter opened: thousandths of the learned period since the last turn, 0 to 999; -1 when no rhythm was known.</summary>
    public int WaveThousandths { get; set; } = -1;

    /// <summary>
    /// How late the frame began, in steps of <see cref="FrameRing.LateStepUs"/>, 0 to <see cref="FrameRing.MostLateSteps"/>; or
    /// <see cref="FrameRing.Doubt"/> when its length is in doubt.
    /// </summary>
    public int LateSteps { get; set; }

    /// <summary>From what the exposure was taken, if the frame is one of a series that followed the light.</summary>
    public SeriesLight From { get; set; }

    /// <summary>What ended the frame, if the light could end it. Otherwise it is None, and the next two properties mean nothing.</summary>
    public LightEnd End { get; set; }

    /// <summary>The planned exposure of such a frame, µs, stored with the same precision as the exposure.</summary>
    public long PlannedUs { get; set; }

    /// <summary>Light that it collected, thousandths of what was metered, 0 to 65534.</summary>
    public int CollectedThousandths { get; set; }

    internal const int StoredBytes = 13;

    // These stand where a second frame would. A blank page has 255 there.
    private const int LightTag = 1;

    private const long MostMantissa = 0xFFFFF;
    private const int MostShift = 15;
    private const int NoWave = 0x3FF;
    // Firmware that did not yet store lateness wrote this for a frame without a wave.
    private const int NoWaveAlone = 0xFFFF;
    private const int LateShift = 10;
    private const int FromShift = 13;
    private const int FromMask = 3;
    private const long SessionClock = 0x80000000L;

    /// <summary>Writes the entry in 13 bytes.</summary>
    public void Put(Bytes bytes)
    {
        long tenths = StartTenths < MostTenths ? StartTenths : MostTenths;
        bytes.Put(HasUtc ? StartUtcSeconds : SessionClock | ((long)(Session % Sessions) << 21) | tenths, 4);
        PutTime(ExposureUs, bytes);
        int stops = StopsHundredths < MostStops ? StopsHundredths : MostStops;
        bytes.Put(stops | ((int)From << FromShift) | (CutShort ? 0x8000 : 0), 2);
        bytes.Put(LightHundredths, 2);
        bytes.Put((WaveThousandths < 0 || WaveThousandths > 999 ? NoWave : WaveThousandths) | (LateSteps << LateShift), 2);
    }

    /// <summary>Writes what the light did in 7 bytes, where a second frame of the page would stand.</summary>
    public void PutLight(Bytes bytes)
    {
        bytes.Put(LightTag, 1);
        PutTime(PlannedUs, bytes);
        bytes.Put(CollectedThousandths, 2);
        bytes.Put((int)End, 1);
    }

    /// <summary>Reads what <see cref="PutLight"/> has written after the only frame of a page. Where nothing was written, nothing is known.</summary>
    public void TakeLight(Bytes bytes)
    {
        if (bytes.TakeInt(1, 0, 0xFF, 0) != LightTag) return;
        PlannedUs = TakeTime(bytes);
        CollectedThousandths = bytes.TakeInt(2, 0, 0xFFFF, 0);
        End = (LightEnd)bytes.TakeInt(1, 0, (int)LightEnd.Stopped, 0);
    }

    private static void PutTime(long us, Bytes bytes)
    {
        int shift = 0;
        long mantissa = us;
        while (mantissa > MostMantissa && shift < MostShift)
        {
            shift++;
            mantissa = (us + (1L << (shift - 1))) >> shift;
        }
        if (mantissa > MostMantissa) mantissa = MostMantissa;
        bytes.Put(mantissa | ((long)shift << 20), 3);
    }

    private static long TakeTime(Bytes bytes)
    {
        long length = bytes.Take(3, 0, 0xFFFFFF, 0);
        int shift = (int)(length >> 20);
        return (length & MostMantissa) << shift;
    }

    /// <summary>Reads an entry written by <see cref="Put"/>.</summary>
    public void Take(Bytes bytes)
    {
        End = LightEnd.None;
        long start = bytes.Take(4, 0, 0xFFFFFFFFL, 0);
        HasUtc = start < SessionClock;
        StartUtcSeconds = HasUtc ? start : 0;
        long session = (start >> 21) & (Sessions - 1);
        Session = HasUtc ? 0 : (int)session;
        StartTenths = HasUtc ? 0 : start & MostTenths;
        ExposureUs = TakeTime(bytes);
        int stops = bytes.TakeInt(2, 0, 0xFFFF, 0);
        CutShort = (stops & 0x8000) != 0;
        From = (SeriesLight)((stops >> FromShift) & FromMask);
        StopsHundredths = stops & MostStops;
        LightHundredths = bytes.TakeInt(2, -32768, 32767, 0);
        int wave = bytes.TakeInt(2, 0, 0xFFFF, NoWaveAlone);
        LateSteps = wave == NoWaveAlone ? 0 : wave >> LateShift;
        WaveThousandths = (wave & NoWave) > 999 ? -1 : wave & NoWave;
    }
}

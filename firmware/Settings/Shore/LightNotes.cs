using Intervalometer.Core.Light;
using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Settings.Shore;

/// <summary>What the light sensor did to the last frames, for the list of frames and for the logbook. Allocates nothing after construction.</summary>
public sealed class LightNotes
{
    private const int Capacity = FrameRing.Capacity;
    private const int SeriesShift = 4;

    // The lower four bits say what ended the frame, the others from what its exposure was taken.
    private readonly byte[] _what = new byte[Capacity];
    private readonly short[] _value = new short[Capacity];
    private readonly int[] _plannedMs = new int[Capacity];
    private int _next;

    /// <summary>Notes a frame that the light could end.</summary>
    /// <param name="frame">Its number in the link's ring.</param>
    /// <param name="end">What ended it.</param>
    /// <param name="plannedUs">The planned exposure, µs.</param>
    /// <param name="share">The light that it collected over the light that was metered.</param>
    public void Ended(int frame, LightEnd end, long plannedUs, double share)
    {
        int at = Place(frame);
        _what[at] = (byte)end;
        _plannedMs[at] = (int)(plannedUs / 1000);
        _value[at] = (short)Elementary.Clamp(Elementary.Round(share * 1000), 0, short.MaxValue);
    }

    /// <summary>Notes a frame of a series that follows the light.</summary>
    /// <param name="frame">Its number in the link's ring.</param>
    /// <param name="from">From what its exposure was taken.</param>
    /// <param name="stops">The light against the light at metering, stops.</param>
    public void Followed(int frame, SeriesLight from, double stops)
    {
        int at = Place(frame);
        _what[at] = (byte)((int)from << SeriesShift);
        _value[at] = (short)Elementary.Clamp(Elementary.Round(stops * 100), short.MinValue, short.MaxValue);
    }

    /// <summary>What ended a frame, if the light could end it.</summary>
    public LightEnd End(int frame) => Has(frame) ? (LightEnd)(_what[frame % Capacity] & ((1 << SeriesShift) - 1)) : LightEnd.None;

    /// <summary>From what the exposure of a frame was taken, if it followed the light.</summary>
    public SeriesLight From(int frame) => Has(frame) ? (SeriesLight)(_what[frame % Capacity] >> SeriesShift) : SeriesLight.None;

    /// <summary>The planned exposure of a frame that the light could end, µs; it is kept in whole milliseconds.</summary>
    public long PlannedUs(int frame) => _plannedMs[frame % Capacity] * 1000L;

    /// <summary>The light that such a frame collected, in thousandths of what was metered.</summary>
    public int Thousandths(int frame) => _value[frame % Capacity];

    /// <summary>For a frame that followed the light: the light against the light at metering, in hundredths of a stop.</summary>
    public int StopsHundredths(int frame) => _value[frame % Capacity];

    private bool Has(int frame) => frame < _next && frame >= _next - Capacity && frame >= 0;

    // Frames that were not noted take the place of older ones and are empty.
    private int Place(int frame)
    {
        if (_next < frame - Capacity) _next = frame - Capacity;
        while (_next <= frame) _what[_next++ % Capacity] = 0;
        return frame % Capacity;
    }
}

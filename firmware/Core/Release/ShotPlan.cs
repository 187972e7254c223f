using Intervalometer.Core.Exposure;

namespace Intervalometer.Core.Release;

/// <summary>How the frames of a plan follow one another.</summary>
public enum PlanShape
{
    /// <summary>One frame.</summary>
    Single = 0,

    /// <summary>Several frames, each a set gap after the one before has ended.</summary>
    Burst = 1,

    /// <summary>The shutter contact held closed, for a camera set to continuous drive.</summary>
    HeldDrive = 2,

    /// <summary>Frames at a set interval from start to start.</summary>
    Series = 3,

    /// <summary>The same scene at several exposures around the answer, box-timed.</summary>
    Bracket = 4,

    /// <summary>One frame that a person ends: one press of Fire opens, the next one closes.</summary>
    ByHand = 5,
}

/// <summary>What to take: the shape of the plan and its times. A plain bag of values, checked by <see cref="Fault"/>.</summary>
public sealed class ShotPlan
{
    /// <summary>Most frames in a burst.</summary>
    public const int MostBurst = 99;

    /// <summary>Most frames in a series.</summary>
    public const int MostSeries = 9999;

    /// <summary>Shortest exposure that the box can time by the shutter contact, µs: 100 ms, well above the edge jitter and most cameras' contact filter (common practice, no source).</summary>
    public const long ShortestBoxTimedUs = 100_000;

    /// <summary>The shape.</summary>
    public PlanShape Shape { get; set; }

    /// <summary>Wait between the press and the first frame, µs, so that the tripod settles.</summary>
    public long SettleUs { get; set; }

    /// <summary>Length of one exposure, µs; the middle one of a bracket.</summary>
    public long ExposureUs { get; set; } = 1_000_000;

    /// <summary>True when the box times the exposure (camera on bulb), false when the camera's own dial does.</summary>
    public bool BoxTimed { get; set; }

    /// <summary>Frames in a burst, series or bracket; a bracket takes 3, 5 or 7.</summary>
    public int Frames { get; set; } = 1;

    /// <summary>From one frame's end to the next one's start in a burst or bracket, µs.</summary>
    public long GapUs { get; set; } = 500_000;

    /// <summary>From start to start in a series, µs.</summary>
    public long IntervalUs { get; set; } = 5_000_000;

    /// <summary>How long the contact is held for continuous drive, µs.</summary>
    public long HoldUs { get; set; } = 2_000_000;

    /// <summary>Step between neighbours of a bracket in thirds of a stop, 1 to 9.</summary>
    public int BracketThirds { get; set; } = 3;

    /// <summary>What a frame ended by hand is measured against, µs: the answer. Other shapes make nothing of it.</summary>
    public long AnswerUs { get; set; }

    /// <summary>True for a shape whose exposures the box times always, with the camera on bulb.</summary>
    public static bool AlwaysBoxTimed(PlanShape shape) => shape == PlanShape.Bracket || shape == PlanShape.ByHand;

    /// <summary>Frames that this plan takes on its own: 1 for a single frame, a held drive or a frame ended by hand.</summary>
    public int FrameCount => Shape == PlanShape.Single || Shape == PlanShape.HeldDrive || Shape == PlanShape.ByHand ? 1 : Frames;

    /// <summary>
    /// Leaves the end of the exposure to a person: the answer is what they measure against, and the edge that opens the contact waits at
    /// the longest exposure allowed, so that a press that never comes leaves no shutter open.
    /// </summary>
    /// <param name="limitSeconds">Longest exposure allowed, seconds.</param>
    public void LeaveToHand(int limitSeconds)
    {
        AnswerUs = ExposureUs;
        ExposureUs = limitSeconds * 1_000_000L;
    }

    /// <summary>The exposure of one frame, µs. In a bracket the order is answer, under, over, further under, further over.</summary>
    /// <param name="index">0 for the first frame.</param>
    public long ExposureOf(int index)
    {
        if (Shape != PlanShape.Bracket) return ExposureUs;
        int rank = (index + 1) / 2;
        int thirds = (index & 1) == 1 ? -rank * BracketThirds : rank * BracketThirds;
        double scaled = ExposureUs * Numerics.Elementary.Exp2(thirds / 3.0);
        return Numerics.Elementary.Round(scaled);
    }

    /// <summary>Takes over every value of another plan. Allocates nothing.</summary>
    public void CopyFrom(ShotPlan other)
    {
        Shape = other.Shape;
        SettleUs = other.SettleUs;
        ExposureUs = other.ExposureUs;
        BoxTimed = other.BoxTimed;
        Frames = other.Frames;
        GapUs = other.GapUs;
        IntervalUs = other.IntervalUs;
        HoldUs = other.HoldUs;
        BracketThirds = other.BracketThirds;
        AnswerUs = other.AnswerUs;
    }

    /// <summary>The same as <see cref="Fault"/>, and a bracket whose longest frame is over the longest exposure allowed.</summary>
    /// <param name="limitSeconds">Longest exposure allowed, seconds.</param>
    public string? FaultWithin(int limitSeconds)
    {
        string? fault = Fault();
        if (fault != null || Shape != PlanShape.Bracket) return fault;
        long longestUs = ExposureOf(Frames - 1);
        if (longestUs <= limitSeconds * 1_000_000L) return null;
        return "The bracket reaches " + ExposureText.Clock(longestUs / 1e6) + ", limit " + ExposureText.Clock(limitSeconds)
            + ". Set fewer frames or a smaller step, or raise the limit in BOX.";
    }

    /// <summary>Why the plan cannot be taken, in words with what to do; null when it can.</summary>
    public string? Fault()
    {
        if (SettleUs < 0 || GapUs < 0 || HoldUs < 0) return "A time is below zero.";
        if (ExposureUs <= 0) return "The exposure has no length.";
        int frames = FrameCount;
        if (frames < 1) return "Set 1 frame or more.";
        if (Shape == PlanShape.Burst && frames > MostBurst) return "Set 99 frames or fewer.";
        if (Shape == PlanShape.Series && frames > MostSeries) return "Set 9999 frames or fewer.";
        if (Shape == PlanShape.Series && IntervalUs <= 0) return "The interval has no length.";
        if (Shape == PlanShape.HeldDrive && HoldUs <= 0) return "The hold has no length.";
        if (Shape == PlanShape.HeldDrive && BoxTimed) return "Held drive needs the camera's own dial.";
        if (Shape == PlanShape.Bracket)
        {
            if (!BoxTimed) return "A bracket is timed by the box: set FRAMES to box (bulb) and the camera to B.";
            if (frames != 3 && frames != 5 && frames != 7) return "Set 3, 5 or 7 frames.";
            if (BracketThirds < 1 || BracketThirds > 9) return "Set 1/3 to 3 stops.";
        }
        if (BoxTimed)
        {
            for (int i = 0; i < frames; i++)
            {
                if (ExposureOf(i) < ShortestBoxTimedUs) return Shape != PlanShape.Bracket ? "On bulb, set 0.1 s or longer."
                    : "The bracket's shortest frame is under 0.1 s. Lengthen the exposure, or set fewer frames or a smaller step.";
                if (Shape != PlanShape.Bracket) break;
            }
        }
        return null;
    }
}

using Intervalometer.Core.Exposure;

namespace Intervalometer.Core.Release;

/// <summary>How the frames of a plan follow one another.</summary>
public enum PlanShape
{
    /// <summary>One frame.</summary>
    Single = 0,

    /// <summary>Several frames with a set gap from the end of one to the start of the next.</summary>
    Burst = 1,

    /// <summary>The shutter contact is held closed for a camera set to continuous drive.</summary>
    HeldDrive = 2,

    /// <summary>Frames at a set interval from start to start.</summary>
    Series = 3,

    /// <summary>The same scene at several exposures around the answer, timed by the box.</summary>
    Bracket = 4,

    /// <summary>One frame that a person ends: one press of Fire opens, the next one closes.</summary>
    ByHand = 5,
}

/// <summary>What to take: the shape of the plan and its times. It only holds values; <see cref="Fault"/> checks them.</summary>
public sealed class ShotPlan
{
    /// <summary>Most frames in a burst.</summary>
    public const int MostBurst = 99;

    /// <summary>Most frames in a series.</summary>
    public const int MostSeries = 9999;

    /// <summary>Shortest exposure that the box can time by the shutter contact, µs: 100 ms. That is well above the jitter of the edges and the contact filter of most cameras (common practice, no source).</summary>
    public const long ShortestBoxTimedUs = 100_000;

    /// <summary>The shape.</summary>
    public PlanShape Shape { get; set; }

    /// <summary>The wait between the press and the first frame in which the tripod settles, µs.</summary>
    public long SettleUs { get; set; }

    /// <summary>The length of one exposure, µs; in a bracket, of the middle one.</summary>
    public long ExposureUs { get; set; } = 1_000_000;

    /// <summary>True when the box times the exposure (camera on bulb), false when the camera's own dial does.</summary>
    public bool BoxTimed { get; set; }

    /// <summary>How many frames a burst, series or bracket has; a bracket takes 3, 5 or 7.</summary>
    public int Frames { get; set; } = 1;

    /// <summary>From the end of one frame to the start of the next in a burst or bracket, µs.</summary>
    public long GapUs { get; set; } = 500_000;

    /// <summary>From the start of one frame to the start of the next in a series, µs.</summary>
    public long IntervalUs { get; set; } = 5_000_000;

    /// <summary>How long the contact is held for continuous drive, µs.</summary>
    public long HoldUs { get; set; } = 2_000_000;

    /// <summary>The step between neighbouring exposures of a bracket in thirds of a stop, 1 to 9.</summary>
    public int BracketThirds { get; set; } = 3;

    /// <summary>The worked-out exposure that a frame ended by hand or by the light is compared with, µs. Other frames do not use it.</summary>
    public long AnswerUs { get; set; }

    /// <summary>True when the one frame of this plan ends sooner than its edge once it has collected the light that was metered.</summary>
    public bool ByLight { get; set; }

    /// <summary>
    /// The longest exposure that a frame may get, µs, when the frames follow the light: the panel then gives each frame after the first an
    /// exposure of its own. 0 when every frame has the exposure of the plan.
    /// </summary>
    public long FollowsUpToUs { get; set; }

    /// <summary>True for a shape whose frames can follow the light. The frames of a bracket keep their steps, and a frame by itself is ended by the light.</summary>
    public static bool MayFollow(PlanShape shape) => shape == PlanShape.Series || shape == PlanShape.Burst;

    /// <summary>True for a shape whose exposures are always timed by the box, with the camera on bulb.</summary>
    public static bool AlwaysBoxTimed(PlanShape shape) => shape == PlanShape.Bracket || shape == PlanShape.ByHand;

    /// <summary>How many frames this plan takes: 1 for a single frame, a held drive or a frame ended by hand.</summary>
    public int FrameCount => Shape == PlanShape.Single || Shape == PlanShape.HeldDrive || Shape == PlanShape.ByHand ? 1 : Frames;

    /// <summary>
    /// Leaves the end of the exposure to a person. The worked-out exposure is kept for comparison. The edge that opens the contact is planned
    /// at the longest exposure allowed, so that the shutter closes even when the second press never comes.
    /// </summary>
    /// <param name="limitSeconds">The longest exposure allowed, seconds.</param>
    public void LeaveToHand(int limitSeconds)
    {
        AnswerUs = ExposureUs;
        ExposureUs = limitSeconds * 1_000_000L;
    }

    /// <summary>
    /// Leaves the end of the exposure to the light: the answer is what was planned, and the edge that opens the contact waits at the longest
    /// exposure allowed, so that a sensor that falls silent leaves no shutter open.
    /// </summary>
    /// <param name="longestUs">Longest exposure allowed, µs; not under the answer.</param>
    public void LeaveToLight(long longestUs)
    {
        AnswerUs = ExposureUs;
        ExposureUs = longestUs;
        ByLight = true;
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

    /// <summary>Copies every value of another plan. Allocates nothing.</summary>
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
        ByLight = other.ByLight;
        FollowsUpToUs = other.FollowsUpToUs;
    }

    /// <summary>Checks what <see cref="Fault"/> checks, and also that no frame of a bracket is longer than allowed. Null when the plan can be taken.</summary>
    /// <param name="limitSeconds">The longest exposure allowed, seconds.</param>
    public string? FaultWithin(int limitSeconds)
    {
        string? fault = Fault();
        if (fault != null || Shape != PlanShape.Bracket) return fault;
        long longestUs = ExposureOf(Frames - 1);
        if (longestUs <= limitSeconds * 1_000_000L) return null;
        return "The bracket reaches " + ExposureText.Clock(longestUs / 1e6) + ", limit " + ExposureText.Clock(limitSeconds)
            + ". Set fewer frames or a smaller step, or raise the limit in BOX.";
    }

    /// <summary>Why the plan cannot be taken and what to do; null when it can be taken.</summary>
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

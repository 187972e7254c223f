using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Link;

/// <summary>
/// What the next press of Fire starts. The panel thread fills the order in before it offers it, and does not touch it afterwards. The
/// release thread only reads it.
/// </summary>
public sealed class FireOrder
{
    /// <summary>The plan. In a run on the waves it says what to take on each wave.</summary>
    public ShotPlan Plan { get; } = new ShotPlan();

    /// <summary>The times of the camera.</summary>
    public CameraProfile Camera { get; } = new CameraProfile();

    /// <summary>When to fire in a run on the waves.</summary>
    public WaveOrder Waves { get; } = new WaveOrder();

    /// <summary>True for a run on the waves.</summary>
    public bool OnWaves { get; set; }
}

using Intervalometer.Core.Release;
using Intervalometer.Core.Swash;

namespace Intervalometer.Core.Link;

/// <summary>
/// What a press of Fire starts. The panel thread fills it in before it is offered and leaves it alone after; the release thread
/// only reads it.
/// </summary>
public sealed class FireOrder
{
    /// <summary>The plan; on the waves, what to take on each of them.</summary>
    public ShotPlan Plan { get; } = new ShotPlan();

    /// <summary>The camera.</summary>
    public CameraProfile Camera { get; } = new CameraProfile();

    /// <summary>When to fire on the waves.</summary>
    public WaveOrder Waves { get; } = new WaveOrder();

    /// <summary>True for a run on the waves.</summary>
    public bool OnWaves { get; set; }
}

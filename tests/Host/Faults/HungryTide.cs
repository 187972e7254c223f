using Intervalometer.Coast.Place;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>The tide of the demo site. When the test says so, whoever uses it finds no memory or meets another error, so that a screen or a part of the shore side fails.</summary>
internal sealed class HungryTide(TideSource tide) : TideSource
{
    /// <summary>How many walkers can still be made. Each part of the shore side needs one to begin.</summary>
    public int WalkersLeft { get; set; } = int.MaxValue;

    /// <summary>How often a screen can still read the tide before memory runs out.</summary>
    public int LooksLeft { get; set; } = int.MaxValue;

    /// <summary>What the user of the tide meets then.</summary>
    public Exception Error { get; set; } = new InsufficientMemoryException();

    /// <summary>Times that memory ran out.</summary>
    public int RanOut { get; private set; }

    /// <summary>The demo site with such a tide.</summary>
    public static Site Site(out HungryTide tide)
    {
        Site demo = DemoSite.Load();
        CoastPlace place = demo.Place;
        tide = new HungryTide(place.Tide);
        PathPoint[] path = [.. Enumerable.Range(0, place.PathCount).Select(place.PathPoint)];
        return demo with { Place = new CoastPlace(place.Name, place.DatumText, place.Position, place.Offset, tide, path, place.WalkInMinutes) };
    }

    public override UtcInstant ValidFrom => tide.ValidFrom;

    public override UtcInstant ValidUntil => tide.ValidUntil;

    public override TideCertainty CertaintyAt(UtcInstant time)
    {
        if (LooksLeft > 0) LooksLeft--;
        else RunOut();
        return tide.CertaintyAt(time);
    }

    public override double HeightMetres(UtcInstant time) => tide.HeightMetres(time);

    public override double RateMetresPerHour(UtcInstant time) => tide.RateMetresPerHour(time);

    public override bool TryNextTurn(UtcInstant after, out TideTurn turn) => tide.TryNextTurn(after, out turn);

    public override TideWalker CreateWalker()
    {
        if (WalkersLeft > 0) WalkersLeft--;
        else RunOut();
        return tide.CreateWalker();
    }

    private void RunOut()
    {
        RanOut++;
        throw Error;
    }
}

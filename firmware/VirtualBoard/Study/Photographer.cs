using Intervalometer.VirtualBoard.Sea;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>How a person presses.</summary>
/// <remarks>
/// Simple visual reaction is about 0.21 to 0.28 s with 0.05 s between trials in the laboratory (Woods et al. 2015; from
/// memory). A turn is not a flash: one sees the edge slow down, so one can aim the press. Aimed presses
/// (coincidence timing, Belisle 1963; from memory) are early as often as late with a spread near 0.05 s. Against that, the
/// edge stands almost still about its turn, and the hands are cold and gloved: within 0.2 s of the turn of a 4 s up-rush
/// it moves 0.25 % of the reach. The defaults are this project's assumption from these facts.
/// </remarks>
/// <param name="TurnLagSeconds">Mean press minus turn, seconds.</param>
/// <param name="TurnSpreadSeconds">Spread of that, seconds.</param>
/// <param name="ArrivalLagSeconds">Mean press minus arrival of the bore, seconds: it is seen coming.</param>
/// <param name="ArrivalSpreadSeconds">Spread of that, seconds.</param>
/// <param name="Missed">Share of turns not pressed, 0..1.</param>
/// <param name="Doubled">Share of presses that bounce into a second one 0.15 to 0.9 s later, 0..1.</param>
/// <param name="WorthReach">Waves that seem to reach less than this share of the median are not photographed.</param>
/// <param name="JudgeSpread">Relative spread of judging a wave's reach, at its arrival or at its turn.</param>
/// <param name="TapSeconds">How long a press lasts that does not time a backwash, seconds: 0.15 with bare hands, 0.6 with gloves.</param>
public sealed record Habits(
    double TurnLagSeconds = 0.10, double TurnSpreadSeconds = 0.15, double ArrivalLagSeconds = 0.05, double ArrivalSpreadSeconds = 0.12,
    double Missed = 0, double Doubled = 0, double WorthReach = 0.25, double JudgeSpread = 0.15, double TapSeconds = 0.15);

/// <summary>One wave as the photographer saw it.</summary>
/// <param name="Swash">What the wave did.</param>
/// <param name="ArrivalMarkUs">Press at its arrival, µs.</param>
/// <param name="TurnMarkUs">Press at its turn, µs.</param>
/// <param name="Missed">Whether the presses for this wave were left out.</param>
/// <param name="SecondPressUs">A bounce after the turn, µs; 0 for none.</param>
/// <param name="HeldUs">How long Mark would be held to time the backwash, µs. The release is as late and as uneven as the press.</param>
public readonly record struct WatchedWave(Swash Swash, long ArrivalMarkUs, long TurnMarkUs, bool Missed, long SecondPressUs, long HeldUs);

/// <summary>A person who watches a sea and presses Mark.</summary>
public static class Photographer
{
    /// <summary>Watches every wave worth a picture in one lap of a sea.</summary>
    public static WatchedWave[] Watch(IRepeatingSea sea, Habits habits, int seed)
    {
        Swash[] all = [.. Enumerable.Range(0, sea.Count).Select(i => sea[i])];
        double median = all.Select(s => s.RunUpMetres).Order().ElementAt(all.Length / 2);
        var random = new MersenneTwister(seed, false);
        var waves = new List<WatchedWave>(all.Length);
        foreach (Swash s in all)
        {
            double arrival = Normal.Sample(random, habits.ArrivalLagSeconds, habits.ArrivalSpreadSeconds);
            double turn = Normal.Sample(random, habits.TurnLagSeconds, habits.TurnSpreadSeconds);
            bool missed = random.NextDouble() < habits.Missed;
            bool doubled = random.NextDouble() < habits.Doubled;
            double bounce = 0.15 + 0.75 * random.NextDouble();
            double letGo = Normal.Sample(random, habits.TurnLagSeconds, habits.TurnSpreadSeconds);
            double judged = s.RunUpMetres * Math.Exp(Normal.Sample(random, 0, habits.JudgeSpread));
            if (judged < habits.WorthReach * median) continue;
            long press = s.TurnUs + (long)(turn * 1e6);
            waves.Add(new WatchedWave(s, s.ArrivalUs + (long)(arrival * 1e6), press, missed, doubled ? press + (long)(bounce * 1e6) : 0,
                Math.Max(0, s.EndUs + (long)(letGo * 1e6) - press)));
        }
        return [.. waves];
    }
}

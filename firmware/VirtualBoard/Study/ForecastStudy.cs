using Intervalometer.VirtualBoard.Sea;

namespace Intervalometer.VirtualBoard.Study;

/// <summary>Compares forecasters of the next turn, and the best linear rule, on the held-out laps of one sea.</summary>
public static class ForecastStudy
{
    /// <summary>Plays one sea.</summary>
    public static ForecastResult Of(StudiedSea sea, Habits careful, Habits careless, Habits arrivals, double exposureSeconds)
    {
        var clean = Forecasts(sea.Training, sea.HeldOut, careful);
        var rough = Forecasts(sea.Training, sea.HeldOut, careless);
        return new ForecastResult([.. clean.Designs.Zip(rough.Designs, (a, b) => (a.Name, a.Rms, b.Rms))], clean.Bound, rough.Bound,
            BoundOfArrivals(sea, arrivals, exposureSeconds));
    }

    private static ArrivalBound BoundOfArrivals(StudiedSea sea, Habits habits, double exposureSeconds)
    {
        long exposure = (long)(exposureSeconds * 1e6);
        ArrivalPredictor predictor = new([.. sea.Training.Select(s =>
        {
            var judge = new Judge(s);
            return (Photographer.Watch(s, habits, s.Seed), (Func<long, bool>)(open => judge.OnBackwash(open, open + exposure)));
        })]);
        int hits = 0, frames = 0;
        double squares = 0;
        foreach (IRepeatingSea held in sea.HeldOut)
        {
            var judge = new Judge(held);
            WatchedWave[] waves = Photographer.Watch(held, habits, held.Seed);
            for (int i = ArrivalPredictor.Needed; i < waves.Length - 6; i++, frames++)
            {
                double error = predictor.DelaySeconds(waves, i) - (waves[i].Swash.TurnUs - waves[i].ArrivalMarkUs) / 1e6;
                squares += error * error;
                long open = predictor.ReleaseUs(waves, i);
                if (judge.OnBackwash(open, open + exposure)) hits++;
            }
        }
        return new ArrivalBound(Math.Sqrt(squares / frames), 100.0 * hits / frames);
    }

    private static (IReadOnlyList<(string Name, double Rms)> Designs, double Bound) Forecasts(IReadOnlyList<IRepeatingSea> training, IReadOnlyList<IRepeatingSea> heldOut, Habits habits)
    {
        var bound = new LinearBound(training.Select(s => Presses(Photographer.Watch(s, habits, s.Seed))));
        var test = heldOut.Select(s => Presses(Photographer.Watch(s, habits, s.Seed))).ToArray();
        double squares = 0;
        int count = 0;
        foreach (var (marks, turns) in test)
        {
            for (int i = LinearBound.Needed; i < marks.Length; i++, count++)
            {
                double error = bound.NextSeconds(marks, i) - (turns[i] - marks[i]) / 1e6;
                squares += error * error;
            }
        }
        Func<IForecaster>[] makers = [() => new RenewalForecaster(), () => new PhaseTracker(0.9, 0.03), () => new AutoregressiveForecaster(2, 0.995, 20)];
        var designs = new List<(string, double)>();
        foreach (var make in makers)
        {
            double own = 0;
            string name = "";
            foreach (var (marks, turns) in test)
            {
                IForecaster forecaster = make();
                name = forecaster.Name;
                for (int i = 0; i < marks.Length; i++)
                {
                    forecaster.Mark(marks[i]);
                    if (i < LinearBound.Needed) continue;
                    double error = forecaster.NextSeconds - (turns[i] - marks[i]) / 1e6;
                    own += error * error;
                }
            }
            designs.Add((name, Math.Sqrt(own / count)));
        }
        return (designs, Math.Sqrt(squares / count));
    }

    // The marks that a box would keep (without bounces within 1.2 s), and the true next turn after each.
    private static (long[] Marks, long[] NextTurns) Presses(WatchedWave[] waves)
    {
        var marks = new List<long>();
        var turns = new List<long>();
        for (int i = 0; i + 1 < waves.Length; i++)
        {
            if (waves[i].Missed || marks.Count > 0 && waves[i].TurnMarkUs - marks[^1] < 1_200_000) continue;
            marks.Add(waves[i].TurnMarkUs);
            turns.Add(waves[i + 1].Swash.TurnUs);
        }
        return ([.. marks], [.. turns]);
    }
}

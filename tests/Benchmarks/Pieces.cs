using BenchmarkDotNet.Attributes;
using Intervalometer.Settings;

namespace Intervalometer.Benchmarks;

/// <summary>What BenchmarkDotNet times: the maths and the drawings of the firmware. Every benchmark returns what it found, so that no compiler drops it.</summary>
public class Pieces
{
    private readonly Work _work = new();
    private readonly Screen _light = new("LIGHT");
    private readonly Screen _tide = new("TIDE", Button.Back);

    /// <summary>The heights of a day and its high and low waters.</summary>
    [Benchmark]
    public double TideDay() => _work.TideDay();

    /// <summary>The heights of a day by a cosine at each step.</summary>
    [Benchmark]
    public double CosineDay() => _work.CosineDay();

    /// <summary>The mornings of many days.</summary>
    [Benchmark]
    public double Search() => _work.Search();

    /// <summary>Sunrise and sunset of a year.</summary>
    [Benchmark]
    public double SunYear() => _work.SunYear();

    /// <summary>An exposure.</summary>
    [Benchmark]
    public double Solve() => _work.Solve();

    /// <summary>A mark.</summary>
    [Benchmark]
    public double Mark() => _work.Mark();

    /// <summary>When the next wave turns, and how surely.</summary>
    [Benchmark]
    public double Forecast() => _work.Forecast();

    /// <summary>The best moment of the next wave.</summary>
    [Benchmark]
    public double Release() => _work.Release();

    /// <summary>A picture of the card that is looked at most.</summary>
    [Benchmark]
    public double DrawLight() => _light.Draw();

    /// <summary>A picture of the most costly card.</summary>
    [Benchmark]
    public double DrawTide() => _tide.Draw();
}

using BenchmarkDotNet.Columns;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Diagnosers;
using BenchmarkDotNet.EventProcessors;
using BenchmarkDotNet.Exporters;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Loggers;
using BenchmarkDotNet.Reports;
using BenchmarkDotNet.Running;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using Perfolizer.Horology;

namespace Intervalometer.Benchmarks;

/// <summary>What BenchmarkDotNet measured for one piece of work.</summary>
internal sealed record Found(double MedianNs, long AllocatedBytes);

/// <summary>Runs BenchmarkDotNet over <see cref="Pieces"/>, in this process, because the build it would make for another would meet the central package versions of this tree.</summary>
internal static class Measured
{
    /// <summary>The job in words.</summary>
    public const string JobWords = "in-process, 4 warm-up and 11 measured iterations of 250 ms, median";

    /// <summary>The folder of its log and tables.</summary>
    public static string Folder { get; } = Path.Combine(Path.GetTempPath(), "intervalometer-benchmarks", "BenchmarkDotNet");

    /// <summary>Runs all pieces; by name of the method.</summary>
    public static Dictionary<string, Found> Run()
    {
        Job job = Job.Default.WithToolchain(InProcessEmitToolchain.Instance)
            .WithWarmupCount(4).WithIterationCount(11).WithIterationTime(TimeInterval.FromMilliseconds(250));
        ManualConfig config = ManualConfig.CreateEmpty()
            .AddJob(job)
            .AddDiagnoser(MemoryDiagnoser.Default)
            .AddColumnProvider(DefaultColumnProviders.Instance)
            .AddExporter(MarkdownExporter.GitHub)
            .AddLogger(NullLogger.Instance)
            .AddEventProcessor(new Progress())
            .WithArtifactsPath(Folder);
        Summary summary = BenchmarkRunner.Run<Pieces>(config);
        if (summary.HasCriticalValidationErrors || summary.Reports.Any(report => report.ResultStatistics is null))
        {
            string why = summary.ValidationErrors.FirstOrDefault()?.Message.ReplaceLineEndings(" ") ?? "a piece has no result";
            throw new MissingException($"BenchmarkDotNet: {why}; its log is in {Folder}");
        }
        return summary.Reports.ToDictionary(
            report => report.BenchmarkCase.Descriptor.WorkloadMethod.Name,
            report => new Found(report.ResultStatistics!.Median, report.GcStats.GetBytesAllocatedPerOperation(report.BenchmarkCase) ?? 0));
    }

    private sealed class Progress : EventProcessor
    {
        public override void OnStartRunBenchmark(BenchmarkCase benchmarkCase) =>
            Console.Error.WriteLine($"BenchmarkDotNet: {benchmarkCase.Descriptor.WorkloadMethod.Name}");
    }
}

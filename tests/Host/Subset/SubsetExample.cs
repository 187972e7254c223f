namespace Intervalometer.Tests.Host.Subset;

/// <summary>A source for one rule: lines that end in '// !' must be flagged, all others must not; '// ok' marks a near miss.</summary>
internal sealed record SubsetExample(string Rule, string Name, string Source, string Path = "firmware/Core/Example.cs", bool Compiles = true);

/// <summary>The examples of every rule.</summary>
internal static partial class SubsetExamples
{
    public static readonly SubsetExample[] All = [.. Language, .. Values, .. Structure, .. Divisions];
}

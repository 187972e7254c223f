using Intervalometer.Tests.Host.Subset.Rules;

namespace Intervalometer.Tests.Host.Subset;

/// <summary>Every rule of the subset.</summary>
internal static class SubsetRules
{
    public static readonly SubsetRule[] All =
    [
        new OwnGenerics(), new FuncAndAction(), new MultiDimensionalArrays(), new DefaultInterfaceMethods(), new CheckedArithmetic(),
        new StaticInitialiserOrder(), new EnumToText(), new InlineUnsignedCast(), new NumberFormats(), new NotANumber(), new TryParseResult(),
        new UnguardedDivision(), new TimerDrivenEdges(), new Layering(),
    ];
}

using Intervalometer.Tests.Host.Architecture;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>A screen says by name where a line stands, so that a reader sees 'the fourth line' and not a number of pixels.</summary>
[TestClass]
public class NamedRowsTests
{
    // For each method that draws, which of its arguments is the row.
    private static readonly Dictionary<string, int> RowOf = new()
    {
        ["Text"] = 1,
        ["TextRight"] = 1,
        ["TextCentre"] = 2,
        ["Icon"] = 1,
        ["Number"] = 1,
        ["NumberRight"] = 1,
        ["HLine"] = 1,
        ["Progress"] = 1,
        ["Row"] = 1,
        ["Paragraph"] = 1,
    };

    [TestMethod]
    public void NoScreenDrawsATextAtARowThatHasNoName()
    {
        string[] files = [.. Repository.Files("firmware/Screens/Cards", "*.cs"), .. Repository.Files("firmware/Screens/Nav", "*.cs"), Repository.At("firmware/Screens/SafeScreen.cs")];
        int seen = 0;
        List<string> numbers = [];
        foreach (string file in files)
        {
            foreach (InvocationExpressionSyntax call in CSharpSyntaxTree.ParseText(File.ReadAllText(file)).GetRoot().DescendantNodes().OfType<InvocationExpressionSyntax>())
            {
                if (call.Expression is not MemberAccessExpressionSyntax method || !RowOf.TryGetValue(method.Name.Identifier.Text, out int row)) continue;
                if (method.Expression.ToString() is not ("frame" or "CardPainter") || call.ArgumentList.Arguments.Count <= row) continue;
                seen++;
                // One row above or below an edge needs no name of its own.
                if (call.ArgumentList.Arguments[row].Expression is LiteralExpressionSyntax { Token.Value: int and > 1 }) numbers.Add($"{Repository.Relative(file)}: {call}");
            }
        }
        Assert.IsTrue(seen > 150, $"only {seen} calls were found that draw");
        Assert.AreEqual("", string.Join("\n", numbers), "give these rows a name: one of Layout, or a constant of the screen");
    }
}

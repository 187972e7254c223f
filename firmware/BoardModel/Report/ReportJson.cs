using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Intervalometer.VirtualBoard.Report;

/// <summary>How reports and frames are written as JSON. The compiler makes the writers, so that they also exist in the static folder, from which unused code is removed.</summary>
[JsonSerializable(typeof(SessionReport))]
[JsonSerializable(typeof(FrameReport))]
internal sealed partial class ReportJson : JsonSerializerContext
{
    /// <summary>For a file that people read.</summary>
    public static ReportJson ForFiles { get; } = new(new JsonSerializerOptions
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    });

    /// <summary>For the page.</summary>
    public static ReportJson ForPage { get; } = new(new JsonSerializerOptions { PropertyNamingPolicy = JsonNamingPolicy.CamelCase });
}

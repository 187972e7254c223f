namespace Intervalometer.VirtualBoard.Scenario;

/// <summary>A scenario that cannot be used. The message is one line: file, line, what is wrong; what to do.</summary>
public sealed class SceneFileException(string message) : Exception(OneLine.Of(message));

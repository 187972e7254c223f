using System.Diagnostics;
using System.Text;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The files that a scenario names are plain files of a sensible length in its own folder; anything else is one line of error, and is not opened.</summary>
[TestClass]
public sealed class InputFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("input").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [TestMethod]
    [DataRow("memory", "/dev/zero", "lies outside the scenario's folder")]
    [DataRow("place", "/etc/hostname", "lies outside the scenario's folder")]
    [DataRow("memory", "../memory.bin", "lies outside the scenario's folder")]
    [DataRow("place", "deeper/../../x.txt", "lies outside the scenario's folder")]
    [DataRow("memory", "a\\u0000b", "the name holds a character that no file name can")]
    [DataRow("place", "a\\u0000b", "the name holds a character that no file name can")]
    [DataRow("memory", "endless", "it is empty, or not a plain file")]
    [DataRow("place", "endless", "it is empty, or not a plain file")]
    [DataRow("memory", "pipe", "it is empty, or not a plain file")]
    [DataRow("place", "pipe", "it is empty, or not a plain file")]
    [DataRow("memory", "large", "it has 1000001 bytes, and such a file may have 1000000 at most")]
    [DataRow("place", "large", "it has 1000001 bytes, and such a file may have 1000000 at most")]
    [DataRow("memory", "folder", "that is a folder")]
    [DataRow("place", "folder", "that is a folder")]
    [DataRow("memory", "none", "there is no such file")]
    public void WhatIsNoPlainFileBesideTheScenarioIsRefused(string property, string name, string expected)
    {
        File.CreateSymbolicLink(Path.Combine(_folder, "endless"), "/dev/zero");
        Process.Start("mkfifo", Path.Combine(_folder, "pipe"))!.WaitForExit();
        File.WriteAllBytes(Path.Combine(_folder, "large"), new byte[1_000_001]);
        Directory.CreateDirectory(Path.Combine(_folder, "folder"));
        string text = "{ \"endAt\": 1,\n \"" + property + "\": \"" + name + "\" }";
        SceneFileException fault = Assert.ThrowsExactly<SceneFileException>(() => SceneReader.Parse("run.json", Encoding.UTF8.GetBytes(text), _folder));
        StringAssert.StartsWith(fault.Message, "run.json: line 2: ");
        StringAssert.Contains(fault.Message, expected);
        Assert.IsFalse(fault.Message.Contains('\n'), fault.Message);
    }

    [TestMethod]
    public void AnObjectOfVeryManyPropertiesIsNoScenario()
    {
        string text = "{" + string.Join(',', Enumerable.Range(0, 95_000).Select(i => $"\"p{i}\": 1")) + "}";
        SceneFileException fault = Assert.ThrowsExactly<SceneFileException>(() => SceneReader.Parse("run.json", Encoding.UTF8.GetBytes(text)));
        Assert.AreEqual("run.json: line 1: more than 1000 properties in one object; this is not a scenario", fault.Message);
    }
}

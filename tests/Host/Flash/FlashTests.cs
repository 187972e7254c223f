using System.Text;
using System.Xml.Linq;
using Intervalometer.Flash;
using Intervalometer.Tests.Host.Architecture;

namespace Intervalometer.Tests.Host.Flash;

/// <summary>The check before a build is loaded into a board. A complete build becomes one image; anything else is refused in one line that says what is wrong and why.</summary>
[TestClass]
public class FlashTests
{
    private static (int Code, string Output, string Error) Run(DeviceFolder made, params string[] more)
    {
        using StringWriter output = new(), error = new();
        int code = FlashCommand.Run([made.Folder, "--image", made.At("deploy.bin"), "--budgets", made.At("budgets.csv"), .. more], output, error);
        return (code, output.ToString().ReplaceLineEndings("\n"), error.ToString().ReplaceLineEndings("\n"));
    }

    private static void Refused(DeviceFolder made, string line)
    {
        (int code, _, string error) = Run(made);
        Assert.AreEqual(FlashCommand.RefusedBuild, code);
        CollectionAssert.AreEqual(new[] { line, "Not to be flashed; no image written.", "" }, error.Split('\n'));
        Assert.IsFalse(File.Exists(made.At("deploy.bin")), "an image was written");
    }

    [TestMethod]
    public void AWholeBuildBecomesOneImageWithWhatIsNeededFirst()
    {
        using var made = new DeviceFolder();
        (int code, string output, string error) = Run(made, "--port", "COM9");
        Assert.AreEqual("", error);
        Assert.AreEqual(0, code);
        byte[] library = File.ReadAllBytes(made.At("mscorlib.pe"));
        byte[] image = File.ReadAllBytes(made.At("deploy.bin"));
        // 125 bytes are padded to 128; the class library has a multiple of 4 of its own.
        Assert.AreEqual(library.Length + 3 * 128, image.Length);
        CollectionAssert.AreEqual(library, image[..library.Length]);
        string[] rest = [.. Enumerable.Range(0, 3).Select(i => Encoding.ASCII.GetString(image, library.Length + 128 * i + 124, 4))];
        CollectionAssert.AreEqual(new[] { "e\0\0\0", "o\0\0\0", "2\0\0\0" }, rest, "Core and Gpio, then the program");
        StringAssert.Contains(output, $"\nnanoff --nanodevice --deploy --serialport COM9 --image \"{made.At("deploy.bin")}\"\n");
    }

    [TestMethod]
    public void AFolderInPlaceOfTheImageIsRefusedInOneLine()
    {
        using var made = new DeviceFolder();
        Directory.CreateDirectory(made.At("deploy.bin"));
        (int code, _, string error) = Run(made, "--port", "COM9");
        Assert.AreEqual((FlashCommand.BadInput, $"{made.At("deploy.bin")}: cannot be written (that is a folder); choose another name\n"), (code, error));
    }

    /// <summary>Today's build here is made against declarations that throw. It must never reach a board.</summary>
    [TestMethod]
    public void TodaysBuildAgainstContractsIsRefused()
    {
        string configuration = new DirectoryInfo(AppContext.BaseDirectory).Parent!.Name;
        PieceCheck check = PieceCheck.Of(Repository.At($"firmware/Esp32/bin/{configuration}/netnano1.0"));
        Assert.AreEqual("System.Device.Gpio, System.Device.I2c, nanoFramework.Runtime.Native, System.Device.Adc, nanoFramework.Hardware.Esp32: declaration-only, made to compile and not to run; build with -p:UseRealNanoPackages=true and a feed that has the packages",
            string.Join("\n", check.Refusals));
    }

    [TestMethod]
    public void AContractAmongRealPiecesIsRefused()
    {
        using var made = new DeviceFolder();
        made.Add("System.Device.Gpio", "1.1.62.0", "public class Pin { } internal static class DeclarationOnlyContract { }");
        Refused(made, "System.Device.Gpio: declaration-only, made to compile and not to run; build with -p:UseRealNanoPackages=true and a feed that has the packages");
    }

    [TestMethod]
    public void AMissingPieceIsNamed()
    {
        using var made = new DeviceFolder();
        File.Delete(made.At("Intervalometer.Core.dll"));
        Refused(made, "Intervalometer.Esp32: needs Intervalometer.Core 0.0.0.0, which is not in the folder");
    }

    /// <summary>A compiler that is run by hand leaves out the step that gives every method a stack frame of its own.</summary>
    [TestMethod]
    [DataRow("public class Core { public int Count() => 1; }", "Core.Count")]
    [DataRow("public class Core { public int Count { [System.Diagnostics.DebuggerNonUserCode] get => 1; set { } } }", "Core.set_Count")]
    public void AMethodThatWouldShareItsCallersFrameIsRefused(string source, string named)
    {
        using var made = new DeviceFolder();
        made.Add("Intervalometer.Core", "0.0.0.0", source);
        Refused(made, $"Intervalometer.Core: the runtime would run {named} in its caller's stack frame and lose track of memory; build with dotnet build, which changes the assembly (firmware/OwnFrames)");
    }

    [TestMethod]
    public void AnotherVersionThanItWasBuiltAgainstIsRefused()
    {
        using var made = new DeviceFolder();
        made.Add("Intervalometer.Core", "0.1.0.0", "public class Core { }");
        Refused(made, "Intervalometer.Esp32: built against Intervalometer.Core 0.0.0.0, but 0.1.0.0 is in the folder; take versions that go together");
    }

    [TestMethod]
    public void AVersionThatDoesNotGoWithTheClassLibraryIsRefused()
    {
        using var made = new DeviceFolder();
        made.Add("System.Device.Gpio", "1.2.0.0", "public class Pin { }");
        made.Add("Intervalometer.Esp32", "0.0.0.0", "public class Program { public static void Main() { new Pin(); } }", "System.Device.Gpio");
        Refused(made, "System.Device.Gpio 1.2.0.0: 1.1.62 goes with the class library (https://github.com/nanoframework/System.Device.Gpio tag v1.1.62)");
    }

    /// <summary>The runtime compares the first two numbers of a version: two packages that were built against two builds of a third load together.</summary>
    [TestMethod]
    public void AnotherBuildOfAVersionIsTakenAndTold()
    {
        using var made = new DeviceFolder();
        made.Add("System.Device.Gpio", "1.1.63.0", "public class Pin { }");
        made.Add("Intervalometer.Esp32", "0.0.0.0", "public class Program { public static void Main() { new Pin(); } }", "System.Device.Gpio");
        made.Add("System.Device.Gpio", "1.1.64.7", "public class Pin { }");
        (int code, string output, string error) = Run(made);
        Assert.AreEqual((0, ""), (code, error));
        StringAssert.Contains(output, "\nSystem.Device.Gpio 1.1.64.7: 1.1.62 was looked at; the runtime asks for the same first two numbers, and at its start for the same native functions\n");
    }

    [TestMethod]
    [DataRow("esp32", 16, 0)]
    [DataRow("esp32-psram", 18, 0)]
    [DataRow("esp32-psram", 16, 1)]
    [DataRow("esp32-psram", 17, 1)]
    public void APinThatTheBoardsOwnPartsTakeIsRefused(string board, int pin, int code)
    {
        using var made = new DeviceFolder();
        made.Add("Intervalometer.Esp32", "0.0.0.0", $"public static class PinMap {{ public const int Shutter = {pin}; public const int ClockAddress = 16; public const int BusId = 17; }} public class Program {{ public static void Main() {{ }} }}");
        (int given, _, string error) = Run(made, "--board", board);
        Assert.AreEqual(code, given, error);
        if (code > 0) StringAssert.Contains(error, $"Shutter: GPIO {pin} is taken on an ESP32 with PSRAM; wire it to another pin and change firmware/Esp32/PinMap.cs");
    }

    /// <summary>The firmware does not use the pins of a PSRAM, so it runs on either kind of board.</summary>
    [TestMethod]
    public void TheFirmwaresOwnPinsAreFreeOnEveryKindOfBoard()
    {
        string configuration = new DirectoryInfo(AppContext.BaseDirectory).Parent!.Name;
        NamedPin[] pins = [.. Piece.Read(Repository.At($"firmware/Esp32/bin/{configuration}/netnano1.0/Intervalometer.Esp32.exe"))!.Pins];
        Assert.HasCount(17, pins, string.Join(", ", pins.Select(p => p.Name)));
        Assert.IsTrue(pins.Contains(new NamedPin("Shutter", 19)));
        foreach (BoardKind board in Tables.Boards) Assert.IsEmpty(pins.Where(p => board.Taken.Contains(p.Number)), board.Name);
        Assert.HasCount(2, Tables.Boards);
    }

    [TestMethod]
    public void AnUnknownKindOfBoardGivesOneLineOfError()
    {
        using var made = new DeviceFolder();
        (int code, _, string error) = Run(made, "--board", "toaster");
        Assert.AreEqual((FlashCommand.BadInput, "--board toaster: no such kind of board; there are esp32, esp32-psram.\n"), (code, error));
    }

    [TestMethod]
    public void TodaysLayoutOfTheRuntimeIsKnown() =>
        Assert.IsTrue(Tables.Partitions.Any(p => p.Offset == 0x1E0000 && p.Bytes == 0x1C0000 && p.Source.EndsWith("a3e8139a1ba778e33ca81b023099765eada6c456", StringComparison.Ordinal)));

    [TestMethod]
    public void AnAssemblyThatNobodyListedIsRefused()
    {
        using var made = new DeviceFolder();
        made.Add("Someone.Else", "2.0.0.0", "public class Thing { }");
        made.Add("Intervalometer.Esp32", "0.0.0.0", "public class Program { public static void Main() { new Thing(); } }", "Someone.Else");
        Refused(made, "Someone.Else 2.0.0.0: not in firmware/Flash/pairs.csv; add the version that goes with the class library, and its source");
    }

    [TestMethod]
    public void AMissingDeviceFileIsNamed()
    {
        using var made = new DeviceFolder();
        File.Delete(made.At("Intervalometer.Core.pe"));
        Refused(made, "Intervalometer.Core: no Intervalometer.Core.pe; run the metadata processor on Intervalometer.Core.dll, or take the file from the package");
    }

    [TestMethod]
    public void AFileThatIsNoDeviceFileIsRefused()
    {
        using var made = new DeviceFolder();
        made.Pe("Intervalometer.Core", "0.0.0.0", 125, "MZxxxx");
        Refused(made, "Intervalometer.Core: Intervalometer.Core.pe is no file of the device (it does not begin with NFMRK); make it again");
        made.Pe("Intervalometer.Core", "0.0.0.0", 0x80);
        File.WriteAllBytes(made.At("Intervalometer.Core.pe"), "NFMRK1"u8.ToArray());
        Refused(made, "Intervalometer.Core: Intervalometer.Core.pe is no file of the device (it does not begin with NFMRK); make it again");
    }

    [TestMethod]
    public void AnOldDeviceFileIsRefused()
    {
        using var made = new DeviceFolder();
        made.Pe("System.Device.Gpio", "1.1.57.0", 125);
        Refused(made, "System.Device.Gpio: System.Device.Gpio.pe is version 1.1.57.0, the assembly 1.1.62.0; make it again");
    }

    [TestMethod]
    public void AnImageTooLargeForALayoutIsRefused()
    {
        using var made = new DeviceFolder();
        made.Pe("Intervalometer.Core", "0.0.0.0", 0x5D000 - 32536 - 2 * 128 + 1);
        Refused(made, "image: 380932 bytes, more than the 380928 that '4 MB flash with MCUboot' takes");
        made.Pe("Intervalometer.Core", "0.0.0.0", 0x5D000 - 32536 - 2 * 128);
        Assert.AreEqual(0, Run(made).Code);
    }

    [TestMethod]
    [DataRow("esp32", 90000, 0, "of 90000 to 110000 on an ESP32 without PSRAM (estimate)")]
    [DataRow("esp32", 110000, 0, "of 90000 to 110000 on an ESP32 without PSRAM (estimate): may not fit every runtime")]
    [DataRow("esp32", 110001, 1, "of 90000 to 110000 on an ESP32 without PSRAM (estimate): does not fit")]
    [DataRow("esp32-psram", 110001, 0, "of 2000000 to 4000000 on an ESP32 with PSRAM (estimate)")]
    public void TheHeapThatWasCountedIsHeldToWhatIsLeft(string board, int bytes, int code, string says)
    {
        using var made = new DeviceFolder();
        File.WriteAllText(made.At("budgets.csv"), $"name,unit,value,limit,standing\nheap: the most at once; with all,bytes,{bytes},61440,\n");
        (int given, string output, _) = Run(made, "--board", board);
        Assert.AreEqual(code, given);
        StringAssert.Contains(output, $"heap: {bytes} bytes at once (counted; the packages' own tables and pins come on top), {says}\n");
        Assert.AreEqual(code == 0, File.Exists(made.At("deploy.bin")));
    }

    [TestMethod]
    public void TheCountedTableHasTheHeapLine()
    {
        string text = Heap.Of(Repository.At("tests/Budgets/budgets.csv"), Tables.Boards[0]).Text;
        StringAssert.StartsWith(text, "heap: ");
        Assert.DoesNotContain("not known", text);
    }

    [TestMethod]
    public void BadInputGivesOneLineOfError()
    {
        using var made = new DeviceFolder();
        File.Copy(made.At("Intervalometer.Esp32.exe"), made.At("Second.exe"));
        Refused(made, $"{made.Folder}: 2 programs (.exe), must be one; give the output of dotnet build firmware/Esp32");
        CollectionAssert.AreEqual(new[] { "nowhere: no such folder; give the output of dotnet build firmware/Esp32" }, PieceCheck.Of("nowhere").Refusals.ToArray());
        using StringWriter output = new(), error = new();
        Assert.AreEqual(FlashCommand.BadInput, FlashCommand.Run([], output, error));
        StringAssert.EndsWith(error.ToString(), "; see --help." + Environment.NewLine);
    }

    /// <summary>The versions that are checked are the ones that a build with the real packages asks for.</summary>
    [TestMethod]
    public void ThePairsAreThePinnedPackages()
    {
        Dictionary<string, string> pinned = XDocument.Load(Repository.At("Directory.Packages.props")).Descendants("PackageVersion")
            .ToDictionary(e => e.Attribute("Include")!.Value, e => e.Attribute("Version")!.Value);
        string Package(string assembly) => assembly == "mscorlib" ? "nanoFramework.CoreLibrary" : assembly.StartsWith("nanoFramework.", StringComparison.Ordinal) ? assembly : "nanoFramework." + assembly;
        // The events come with the pins' package and are not pinned by themselves.
        foreach (Pair pair in Tables.Pairs.Where(p => p.Assembly != "nanoFramework.Runtime.Events")) Assert.AreEqual(pinned[Package(pair.Assembly)], pair.Version, pair.Assembly);
        Assert.HasCount(7, Tables.Pairs);
        // A real build contains every assembly that the firmware is compiled against here, except the test framework.
        foreach (string folder in Directory.GetDirectories(Repository.At("firmware/Contracts")))
        {
            string contract = Path.GetFileName(folder);
            if (contract != "nanoFramework.TestFramework") Assert.IsTrue(Tables.Pairs.Any(p => p.Assembly == contract), $"{contract} is not in firmware/Flash/pairs.csv");
        }
        foreach (Partition partition in Tables.Partitions)
        {
            Assert.IsTrue(partition.Bytes >= 0x5D000 && partition.Offset + partition.Bytes <= 0x400000, partition.Layout);
            StringAssert.Matches(partition.Source, new System.Text.RegularExpressions.Regex("commit [0-9a-f]{40}$"));
        }
    }
}

using System.CommandLine;
using System.Globalization;

namespace Intervalometer.Tests.DeviceBoard.Compare;

/// <summary>Plays scripts on the device's own runtime and on the virtual board, and compares. tests/DeviceBoard/run.sh calls it.</summary>
public static class Program
{
    /// <summary>Returns 0 when every check passed.</summary>
    public static int Main(string[] args)
    {
        var runtime = new Option<string?>("--runtime") { Description = "Folder of the platform's converter (topes) and runtime (clr)." };
        var root = new Option<string>("--root") { Description = "The repository.", DefaultValueFactory = _ => "." };
        var work = new Option<string?>("--work") { Description = "A new folder for what is made on the way." };
        var cases = new Option<string[]>("--case") { Description = "Only these scripts: " + string.Join(", ", BoardCase.Names) + ".", AllowMultipleArgumentsPerToken = true };
        var inFirmware = new Option<bool>("--place-in-firmware") { Description = "The largest place stands in the firmware's image; else in the memory." };
        var noPlace = new Option<bool>("--no-place") { Description = "Without a place; else with the largest one." };
        var noSuite = new Option<bool>("--no-suite") { Description = "Leave the device suite out." };
        var smallest = new Option<bool>("--smallest") { Description = "Look for the smallest heap in which the scripts play." };
        var show = new Option<bool>("--show") { Description = "Print the device's own picture where one differs." };
        var fault = new Option<string?>("--fault") { Description = "Force a fault at every start: " + string.Join(", ", FaultStarts.Kinds) + "." };
        var starts = new Option<int>("--starts") { Description = "How many starts with the fault, at most.", DefaultValueFactory = _ => 5 };
        var expect = new Option<string?>("--expect") { Description = "Only write what the virtual board does into this folder." };
        var command = new RootCommand("Plays scripts on the device's own runtime and on the virtual board, and compares.") { runtime, root, work, cases, noPlace, inFirmware, noSuite, smallest, show, fault, starts, expect };
        command.SetAction(parsed =>
        {
            string[] names = parsed.GetValue(cases) is { Length: > 0 } chosen ? chosen : [.. BoardCase.Names];
            PlaceIn place = parsed.GetValue(noPlace) ? PlaceIn.Nowhere : parsed.GetValue(inFirmware) ? PlaceIn.Firmware : PlaceIn.Memory;
            try
            {
                if (parsed.GetValue(expect) is string folder) return ExpectedFiles.Write(folder, names, place);
                if (parsed.GetValue(runtime) is not string platform) throw new ArgumentException("Name the platform's runtime with --runtime FOLDER.");
                var bench = new Workbench(new DeviceRuntime(platform), parsed.GetValue(root)!, parsed.GetValue(work) ?? Directory.CreateTempSubdirectory("deviceboard").FullName, Console.Out)
                {
                    HeapBytes = Number("NANO_HEAP", 65_536),
                    SuiteHeapBytes = Number("NANO_SUITE_HEAP", 139_264),
                    PrintPictures = parsed.GetValue(show) || parsed.GetValue(fault) is not null,
                };
                bench.Prepare();
                if (parsed.GetValue(fault) is string kind) return FaultStarts.Run(bench, kind, parsed.GetValue(starts), place);
                if (parsed.GetValue(smallest)) return bench.Smallest(names, place);
                return bench.RunAll(names, place, !parsed.GetValue(noSuite));
            }
            catch (Exception e) when (e is ArgumentException or IOException or InvalidOperationException)
            {
                Console.Error.WriteLine(e.Message);
                return 2;
            }
        });
        return command.Parse(args).Invoke();
    }

    private static int Number(string variable, int otherwise) =>
        Environment.GetEnvironmentVariable(variable) is { Length: > 0 } text
            ? int.TryParse(text, CultureInfo.InvariantCulture, out int number) && number > 0 ? number : throw new ArgumentException($"{variable} is \"{text}\"; give a number of bytes.")
            : otherwise;
}

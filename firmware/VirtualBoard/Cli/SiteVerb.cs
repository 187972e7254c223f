using System.CommandLine;
using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Report;

namespace Intervalometer.VirtualBoard.Cli;

/// <summary>The command site: it brings a place to a box, and reads out what a box's memory holds.</summary>
internal static class SiteVerb
{
    private const string HowToWrite =
        "Into the chip: with any programmer for 24C32 memories; or unplug the clock module, put its memory (address 0x57) on a Linux PC's I2C bus and use "
        + "the at24 driver (from memory): echo 24c32 0x57 > /sys/bus/i2c/devices/i2c-BUS/new_device; dd if=FILE of=/sys/bus/i2c/devices/BUS-0057/eeprom";

    public static Command Make(TextWriter output, TextWriter error)
    {
        var file = new Argument<string?>("site-file") { Description = "Site text file.", Arity = ArgumentArity.ZeroOrOne };
        var check = new Option<bool>("--check") { Description = "Only check the file and say what the box would hold (as without any other option)." };
        var image = new Option<string?>("--image") { Description = "Write an image of the box's memory, 4096 bytes, to this file." };
        var into = new Option<string?>("--into") { Description = "Start the image from this dump of a memory, so that its settings and logbook stay." };
        var source = new Option<string?>("--source") { Description = "Write the place as a source file of the firmware, to build it in: firmware/Esp32/CompiledSite.cs." };
        var from = new Option<string?>("--from") { Description = "Say what this dump of a memory holds: the place, and the logbook as CSV." };
        var logbook = new Option<string?>("--logbook") { Description = "With --from: write the logbook to this file and not to the terminal." };
        var against = new Option<string?>("--against") { Description = "Compare with high and low waters of an official table, lines like 2026-03-07 05:12,high,5.2 in local time, and name what is wrong." };
        var verb = new Command("site", "Bring a place to a box, or read out a box's memory. " + TideCaution.Short) { file, check, image, into, source, from, logbook, against };
        verb.SetAction(parsed =>
        {
            var wanted = new Wanted(parsed.GetValue(file), parsed.GetValue(check), parsed.GetValue(image), parsed.GetValue(into), parsed.GetValue(source), parsed.GetValue(from), parsed.GetValue(logbook), parsed.GetValue(against));
            try
            {
                if (Muddle(wanted) is string muddle) throw new MemoryImageException(muddle);
                UtcInstant now = Planner.FromDateTime(DateTime.UtcNow);
                if (wanted.From is not null) ReadOut(output, wanted, now);
                else return Bring(output, wanted, now);
                return 0;
            }
            catch (Exception e) when (e is SiteFileException or MemoryImageException)
            {
                error.WriteLine(e.Message);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                error.WriteLine(e.Message);
            }
            return CommandLine.BadInput;
        });
        return verb;
    }

    private sealed record Wanted(string? File, bool Check, string? Image, string? Into, string? Source, string? From, string? Logbook, string? Against);

    private static string? Muddle(Wanted w)
    {
        if (w.File is null && w.From is null) return "Name a site file, or a dump with --from; see --help.";
        if (w.From is not null && (w.File ?? w.Image ?? w.Into ?? w.Source ?? w.Against) is not null) return "--from only reads out; leave the site file, --image, --into, --source and --against away.";
        if (w.From is null && w.Logbook is not null) return "--logbook belongs to --from.";
        if (w.Into is not null && w.Image is null) return "--into belongs to --image: name the file to write.";
        if (w.Image is not null && File.Exists(w.Image) && w.Into != w.Image) return $"{w.Image}: is there already; say --into {w.Image} too to keep its settings and logbook, or choose another name.";
        return w.Check && (w.Image ?? w.Source ?? w.From) is not null ? "--check writes nothing; leave it or the other option away." : null;
    }

    // 0, or 1 when an official table does not agree. Then nothing is written.
    private static int Bring(TextWriter output, Wanted wanted, UtcInstant now)
    {
        Site site = SiteFile.Load(wanted.File!);
        if (wanted.Against is not null)
        {
            OfficialWeek week = OfficialWeek.Load(site, wanted.Against);
            foreach (string line in week.Lines) output.WriteLine(line);
            if (!week.Agrees) return CommandLine.BadInput;
        }
        byte[]? into = wanted.Into is null ? null : MemoryImage.Load(wanted.Into);
        byte[] cells = SiteImage.Make(site, now, into);
        if (wanted.Image is not null) WholeFile.Write(wanted.Image, cells);
        if (wanted.Source is not null)
        {
            string text = SiteImage.Source(site, now);
            WholeFile.Write(wanted.Source, to => to.Write(text));
        }
        SiteSummary.Write(output, new OfflineBox(cells).Shore, now);
        if (site.LeftOut.Words.Length > 0) output.WriteLine($"Left out    {site.LeftOut.Words}.");
        if (site.Place.PathCount > ShoreSettings.MostPoints)
            output.WriteLine($"The file has {site.Place.PathCount} low points, and the box holds {ShoreSettings.MostPoints}. Its last one stands for the rest and is as strict as the strictest of them.");
        if (wanted.Image is not null) output.WriteLine($"{wanted.Image}: {cells.Length} bytes. {HowToWrite}");
        if (wanted.Source is not null) output.WriteLine($"{wanted.Source}: build and load the firmware again. The box takes the place once; what buttons change afterwards stays.");
        return 0;
    }

    private static void ReadOut(TextWriter output, Wanted wanted, UtcInstant now)
    {
        byte[] cells = MemoryImage.Load(wanted.From!);
        var box = new OfflineBox(cells);
        string csv = LogbookCsv.Text(cells);
        if (wanted.Logbook is not null) WholeFile.Write(wanted.Logbook, to => to.Write(csv));
        if (box.Health.Any) output.WriteLine($"Memory      {box.Health.Failed(0)}");
        if (box.Health.Fault.Total > 0) output.WriteLine($"Faults      {box.Health.Fault.Total} in all; the last: {box.Health.Fault.Words}");
        SiteSummary.Write(output, box.Shore, now);
        output.WriteLine(wanted.Logbook is null ? "" : $"{wanted.Logbook}: {box.Keeper.Logbook.Count} frames.");
        if (wanted.Logbook is null) output.Write(csv);
    }
}

using System.CommandLine;
using Intervalometer.Coast.Tide;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Report;

namespace Intervalometer.Flash;

/// <summary>The command line. Exit codes: 0 the image is written, 1 the build may not be flashed, 2 the input is wrong.</summary>
public static class FlashCommand
{
    /// <summary>Exit code: the build may not be flashed.</summary>
    public const int RefusedBuild = 1;

    /// <summary>Exit code: the input is wrong.</summary>
    public const int BadInput = 2;

    /// <summary>Runs one command line.</summary>
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        var folder = new Argument<string>("folder") { Description = "Output folder of dotnet build firmware/Esp32 -c Release -p:UseRealNanoPackages=true, with a .pe beside every assembly." };
        var image = new Option<string>("--image") { Description = "Where to write the image.", DefaultValueFactory = _ => "deploy.bin" };
        var port = new Option<string>("--port") { Description = "Serial port of the board, for the flasher's command line.", DefaultValueFactory = _ => "/dev/ttyUSB0" };
        var budgets = new Option<string>("--budgets") { Description = "Table of counted costs.", DefaultValueFactory = _ => "tests/Budgets/budgets.csv" };
        var board = new Option<string>("--board") { Description = "Kind of board: " + string.Join(", ", Tables.Boards.Select(b => b.Key)) + ".", DefaultValueFactory = _ => Tables.Boards[0].Key };
        var place = new Option<string?>("--place") { Description = "Put the place of this site file into the image. " + TideCaution.Short };
        var root = new RootCommand("Checks a built firmware piece by piece, writes the image for the board, and says how to flash it.") { folder, image, port, budgets, board, place };
        root.SetAction(parsed =>
        {
            BoardKind? kind = Tables.Boards.FirstOrDefault(b => b.Key == parsed.GetValue(board));
            if (kind == null)
            {
                error.WriteLine($"--board {parsed.GetValue(board)}: no such kind of board; there are {string.Join(", ", Tables.Boards.Select(b => b.Key))}.");
                return BadInput;
            }
            try
            {
                Site? site = parsed.GetValue(place) is string file ? SiteFile.Load(file) : null;
                return Make(kind, new Wanted(parsed.GetValue(folder)!, parsed.GetValue(image)!, parsed.GetValue(port)!, parsed.GetValue(budgets)!, site), output, error);
            }
            catch (Exception e) when (e is SiteFileException or FlashPlaceException or MemoryImageException)
            {
                error.WriteLine(e.Message);
                return BadInput;
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                error.WriteLine(e.Message);
                return BadInput;
            }
        });
        ParseResult result = root.Parse(args);
        if (result.Errors.Count > 0)
        {
            error.WriteLine(result.Errors[0].Message.TrimEnd('.') + "; see --help.");
            return BadInput;
        }
        return result.Invoke(new InvocationConfiguration { Output = output, Error = error });
    }

    private sealed record Wanted(string Folder, string Image, string Port, string Budgets, Site? Site);

    private static int Make(BoardKind board, Wanted wanted, TextWriter output, TextWriter error)
    {
        PieceCheck check = PieceCheck.Of(wanted.Folder, board);
        foreach (Piece piece in check.Order) output.WriteLine($"{piece.Name} {piece.Version}: {(piece.HasPe ? $"{piece.PaddedBytes} bytes" : "no .pe")}");
        (string heap, bool heapRefused) = Heap.Of(wanted.Budgets, board);
        foreach (string note in check.Notes) output.WriteLine(note);
        output.WriteLine(heap);
        if (check.Refusals.Count > 0 || heapRefused)
        {
            foreach (string refusal in check.Refusals) error.WriteLine(refusal);
            error.WriteLine("Not to be flashed; no image written.");
            return RefusedBuild;
        }
        byte[] image = Image.Of(check.Order);
        if (wanted.Site is Site site)
        {
            image = FlashPlace.Put(image, site, Planner.FromDateTime(DateTime.UtcNow));
            output.WriteLine($"{site.Place.Name} is in the image. The box takes it once; what buttons change afterwards stays. {TideCaution.Full}");
        }
        WholeFile.Write(wanted.Image, image);
        output.WriteLine($"{wanted.Image}: {check.ImageBytes} bytes");
        foreach (Partition partition in Tables.Partitions) output.WriteLine($"  {partition.Layout}: 0x{partition.Offset:X}, {100 * check.ImageBytes / partition.Bytes} % of {partition.Bytes} bytes");
        // No address is given, because layouts differ from one runtime to the next. With --nanodevice the flasher asks the board for its own.
        output.WriteLine($"nanoff --nanodevice --deploy --serialport {wanted.Port} --image \"{wanted.Image}\"");
        return 0;
    }
}

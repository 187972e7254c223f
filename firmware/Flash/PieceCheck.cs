namespace Intervalometer.Flash;

/// <summary>What is in a folder, and why it may not be flashed.</summary>
/// <param name="Order">The pieces, each after those that it needs.</param>
/// <param name="Refusals">One line for each reason to refuse; empty when the image may be made.</param>
/// <param name="Notes">One line for each fact that one should know but that is no reason to refuse.</param>
public sealed record PieceCheck(IReadOnlyList<Piece> Order, IReadOnlyList<string> Refusals, IReadOnlyList<string> Notes)
{
    /// <summary>How many bytes the image has; 0 while a device file is missing.</summary>
    public long ImageBytes => Order.All(p => p.HasPe) ? Order.Sum(p => p.PaddedBytes) : 0;

    /// <summary>Checks the output folder of a build.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="board">The kind of board that the image is for; null for the first of the table.</param>
    public static PieceCheck Of(string folder, BoardKind? board = null)
    {
        board ??= Tables.Boards[0];
        if (!Directory.Exists(folder)) return Refused($"{folder}: no such folder; give the output of dotnet build firmware/Esp32");
        Piece[] found = [.. Directory.EnumerateFiles(folder).Where(IsAssembly).Order(StringComparer.Ordinal).Select(Piece.Read).OfType<Piece>()];
        Piece[] programs = [.. found.Where(p => p.IsProgram)];
        if (programs.Length != 1) return Refused($"{folder}: {programs.Length} programs (.exe), must be one; give the output of dotnet build firmware/Esp32");
        Dictionary<string, Piece> byName = found.ToDictionary(p => p.Name, StringComparer.Ordinal);
        List<Piece> order = Image.Order(programs[0], byName);
        var refusals = new List<string>();
        var notes = new List<string>();
        foreach (Piece piece in order) Look(piece, byName, refusals, notes);
        string[] contracts = [.. order.Where(p => p.IsContract).Select(p => p.Name)];
        // About a contract build there is nothing else worth saying.
        if (contracts.Length > 0) return new PieceCheck(order, [$"{string.Join(", ", contracts)}: declaration-only, made to compile and not to run; build with -p:UseRealNanoPackages=true and a feed that has the packages"], []);
        refusals.AddRange(order.Select(p => p.PeFault()).OfType<string>());
        refusals.AddRange(order.Where(p => p.SharedFrame != null).Select(p => $"{p.Name}: the runtime would run {p.SharedFrame} in its caller's stack frame and lose track of memory; build with dotnet build, which changes the assembly (firmware/OwnFrames)"));
        refusals.AddRange(programs[0].Pins.Where(pin => board.Taken.Contains(pin.Number)).Select(pin => $"{pin.Name}: GPIO {pin.Number} is taken on an {board.Name}; wire it to another pin and change firmware/Esp32/PinMap.cs"));
        var check = new PieceCheck(order, refusals, notes);
        refusals.AddRange(Tables.Partitions.Where(p => check.ImageBytes > p.Bytes).Select(p => $"image: {check.ImageBytes} bytes, more than the {p.Bytes} that '{p.Layout}' takes"));
        return check;
    }

    private static PieceCheck Refused(string reason) => new([], [reason], []);

    private static bool IsAssembly(string path) => Path.GetExtension(path).ToLowerInvariant() is ".dll" or ".exe";

    private static void Look(Piece piece, Dictionary<string, Piece> byName, List<string> refusals, List<string> notes)
    {
        foreach (Need need in piece.Needs)
        {
            if (!byName.TryGetValue(need.Name, out Piece? found)) refusals.Add($"{piece.Name}: needs {need.Name} {need.Version}, which is not in the folder");
            else if (!RuntimeVersion.Same(found.Version, need.Version)) refusals.Add($"{piece.Name}: built against {need.Name} {need.Version}, but {found.Version} is in the folder; take versions that go together");
        }
        if (piece.IsOwn || piece.IsContract) return;
        Pair? pair = Tables.Pairs.FirstOrDefault(p => p.Assembly == piece.Name);
        if (pair == null) refusals.Add($"{piece.Name} {piece.Version}: not in firmware/Flash/pairs.csv; add the version that goes with the class library, and its source");
        else if (!pair.Is(piece.Version) && pair.Fits(piece.Version)) notes.Add($"{piece.Name} {piece.Version}: {pair.Version} was looked at; the runtime asks for the same first two numbers, and at its start for the same native functions");
        else if (!pair.Fits(piece.Version)) refusals.Add($"{piece.Name} {piece.Version}: {pair.Version} goes with the class library ({pair.Source})");
    }
}

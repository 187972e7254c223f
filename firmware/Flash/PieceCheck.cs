namespace Intervalometer.Flash;

/// <summary>What a folder holds and why it may not be flashed.</summary>
/// <param name="Order">The pieces, what is needed before what needs it.</param>
/// <param name="Refusals">One line for each reason; empty when the image may be made.</param>
public sealed record PieceCheck(IReadOnlyList<Piece> Order, IReadOnlyList<string> Refusals)
{
    /// <summary>Bytes of the image, 0 while a device file is missing.</summary>
    public long ImageBytes => Order.All(p => p.HasPe) ? Order.Sum(p => p.PaddedBytes) : 0;

    /// <summary>Looks through a build's output folder.</summary>
    public static PieceCheck Of(string folder)
    {
        if (!Directory.Exists(folder)) return Refused($"{folder}: no such folder; give the output of dotnet build firmware/Esp32");
        Piece[] found = [.. Directory.EnumerateFiles(folder).Where(IsAssembly).Order(StringComparer.Ordinal).Select(Piece.Read).OfType<Piece>()];
        Piece[] programs = [.. found.Where(p => p.IsProgram)];
        if (programs.Length != 1) return Refused($"{folder}: {programs.Length} programs (.exe), must be one; give the output of dotnet build firmware/Esp32");
        Dictionary<string, Piece> byName = found.ToDictionary(p => p.Name, StringComparer.Ordinal);
        List<Piece> order = Image.Order(programs[0], byName);
        var refusals = new List<string>();
        foreach (Piece piece in order) Look(piece, byName, refusals);
        string[] contracts = [.. order.Where(p => p.IsContract).Select(p => p.Name)];
        // Nothing else about a contract build is worth a line.
        if (contracts.Length > 0) return new PieceCheck(order, [$"{string.Join(", ", contracts)}: declaration-only, made to compile and not to run; build with -p:UseRealNanoPackages=true and a feed that has the packages"]);
        refusals.AddRange(order.Select(p => p.PeFault()).OfType<string>());
        var check = new PieceCheck(order, refusals);
        refusals.AddRange(Tables.Partitions.Where(p => check.ImageBytes > p.Bytes).Select(p => $"image: {check.ImageBytes} bytes, more than the {p.Bytes} that '{p.Layout}' takes"));
        return check;
    }

    private static PieceCheck Refused(string reason) => new([], [reason]);

    private static bool IsAssembly(string path) => Path.GetExtension(path).ToLowerInvariant() is ".dll" or ".exe";

    private static void Look(Piece piece, Dictionary<string, Piece> byName, List<string> refusals)
    {
        foreach (Need need in piece.Needs)
        {
            if (!byName.TryGetValue(need.Name, out Piece? found)) refusals.Add($"{piece.Name}: needs {need.Name} {need.Version}, which is not in the folder");
            else if (found.Version != need.Version) refusals.Add($"{piece.Name}: built against {need.Name} {need.Version}, but {found.Version} is in the folder; take versions that go together");
        }
        if (piece.IsOwn || piece.IsContract) return;
        Pair? pair = Tables.Pairs.FirstOrDefault(p => p.Assembly == piece.Name);
        if (pair == null) refusals.Add($"{piece.Name} {piece.Version}: not in firmware/Flash/pairs.csv; add the version that goes with the class library, and its source");
        else if (!pair.Fits(piece.Version)) refusals.Add($"{piece.Name} {piece.Version}: {pair.Version} goes with the class library ({pair.Source})");
    }
}

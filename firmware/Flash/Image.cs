namespace Intervalometer.Flash;

/// <summary>The deployment image: every device file after the files that it needs, each padded to 4 bytes.</summary>
public static class Image
{
    private const int Alignment = 4;

    /// <summary>A length padded to the next multiple of 4.</summary>
    public static long Padded(long bytes) => (bytes + Alignment - 1) / Alignment * Alignment;

    /// <summary>The pieces that a program needs, each after everything that it needs itself. Missing pieces are left out.</summary>
    public static List<Piece> Order(Piece program, IReadOnlyDictionary<string, Piece> all)
    {
        var order = new List<Piece>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        Visit(program);
        return order;

        void Visit(Piece piece)
        {
            if (!seen.Add(piece.Name)) return;
            foreach (Need need in piece.Needs.OrderBy(n => n.Name, StringComparer.Ordinal))
            {
                if (all.TryGetValue(need.Name, out Piece? found)) Visit(found);
            }
            order.Add(piece);
        }
    }

    /// <summary>The bytes of the image.</summary>
    public static byte[] Of(IEnumerable<Piece> order)
    {
        using var image = new MemoryStream();
        foreach (Piece piece in order)
        {
            byte[] bytes = File.ReadAllBytes(piece.PePath);
            image.Write(bytes);
            image.Write(new byte[Padded(bytes.Length) - bytes.Length]);
        }
        return image.ToArray();
    }
}

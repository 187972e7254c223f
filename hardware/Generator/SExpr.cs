using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Intervalometer.Hardware;

/// <summary>Small helpers for the file format of KiCad.</summary>
public static class SExpr
{
    /// <summary>Millimetres with at most four decimals and never "-0".</summary>
    public static string Mm(double value)
    {
        var rounded = Math.Round(value, 4);
        return (rounded == 0 ? 0 : rounded).ToString("0.####", CultureInfo.InvariantCulture);
    }

    /// <summary>Quoted text.</summary>
    public static string Quote(string text) => "\"" + text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal) + "\"";

    /// <summary>An identifier that depends only on its key, so that writing twice gives the same bytes.</summary>
    public static string Uuid(string key)
    {
        var hash = SHA256.HashData(Encoding.UTF8.GetBytes("intervalometer/" + key))[..16];
        hash[6] = (byte)((hash[6] & 0x0f) | 0x50); // version 5 and variant bits, in network order
        hash[8] = (byte)((hash[8] & 0x3f) | 0x80);
        return new Guid(hash, bigEndian: true).ToString();
    }
}

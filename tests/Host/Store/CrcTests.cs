using System.IO.Compression;
using Intervalometer.Settings.Store;

namespace Intervalometer.Tests.Host.Store;

/// <summary>The CRC-32 against the one that .NET's own zip writer puts into an archive (APPNOTE.TXT 4.4.7: polynomial 0xEDB88320 reflected).</summary>
[TestClass]
public class CrcTests
{
    [TestMethod]
    public void TheCheckIsTheOneInZipFiles()
    {
        var random = new Random(4);
        using var file = new MemoryStream();
        var contents = new Dictionary<string, byte[]>();
        using (var zip = new ZipArchive(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            for (int i = 0; i < 200; i++)
            {
                var bytes = new byte[i * 3];
                random.NextBytes(bytes);
                contents[i.ToString()] = bytes;
                using Stream entry = zip.CreateEntry(i.ToString()).Open();
                entry.Write(bytes);
            }
        }
        using var read = new ZipArchive(file, ZipArchiveMode.Read);
        Assert.AreEqual(200, read.Entries.Count);
        foreach (ZipArchiveEntry entry in read.Entries)
        {
            byte[] bytes = contents[entry.Name];
            Assert.AreEqual(entry.Crc32, Crc.Of32(bytes, 0, bytes.Length), entry.Name);
        }
    }

    /// <summary>A CRC-16 with this polynomial finds every single and double flip within 32 bytes; here all of them are tried.</summary>
    [TestMethod]
    public void NoFlipOfOneOrTwoBitsInAPageIsMissed()
    {
        var page = new byte[30];
        new Random(8).NextBytes(page);
        int sound = Crc.Of16(page, 0, 30);
        for (int a = 0; a < 240; a++)
        {
            page[a / 8] ^= (byte)(1 << (a % 8));
            Assert.AreNotEqual(sound, Crc.Of16(page, 0, 30));
            for (int b = a + 1; b < 240; b++)
            {
                page[b / 8] ^= (byte)(1 << (b % 8));
                Assert.AreNotEqual(sound, Crc.Of16(page, 0, 30));
                page[b / 8] ^= (byte)(1 << (b % 8));
            }
            page[a / 8] ^= (byte)(1 << (a % 8));
        }
    }
}

using System.Text;
using Intervalometer.Flash;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.Host.Architecture;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Flash;

/// <summary>A place goes into a finished image, and the image stays one that the runtime takes.</summary>
[TestClass]
public class FlashPlaceTests
{
    private const string Program = "Intervalometer.Esp32";

    /// <summary>The catalogue of parametrised CRC algorithms has CRC-32/CKSUM with the check value 0x765E7680; it differs by a final exclusive-or with all ones.</summary>
    [TestMethod]
    public void TheChecksumIsTheOneOfTheCatalogue() => Assert.AreEqual(0x765E7680u ^ 0xFFFFFFFFu, DeviceFile.Sum("123456789"u8));

    /// <summary>The class library's own file, as its package brings it.</summary>
    [TestMethod]
    public void TheClassLibrarysFileIsSoundAndOneChangedByteIsFound()
    {
        byte[] library = File.ReadAllBytes(Path.ChangeExtension(Repository.DeviceClassLibrary, ".pe"));
        Assert.AreEqual(library.Length, DeviceFile.LengthAt(library, 0));
        Assert.IsNull(DeviceFile.FaultAt(library, 0));
        byte[] sealedAnew = (byte[])library.Clone();
        DeviceFile.Seal(sealedAnew, 0);
        CollectionAssert.AreEqual(library, sealedAnew);
        library[^1] ^= 1;
        Assert.AreEqual("the checksum of its content is wrong", DeviceFile.FaultAt(library, 0));
        library[^1] ^= 1;
        library[0x10] ^= 1;
        Assert.AreEqual("the checksum of its head is wrong", DeviceFile.FaultAt(library, 0));
    }

    [TestMethod]
    public void APlaceGoesIntoTheImageAndTheBoxTakesIt()
    {
        using DeviceFolder made = WithRoom();
        byte[] before = File.ReadAllBytes(made.At(Program + ".pe"));
        (int code, string output, string error) = Run(made, "--place", Repository.At("firmware/VirtualBoard/Examples/gannet-ledge.txt"));
        Assert.AreEqual("", error);
        Assert.AreEqual(0, code);
        StringAssert.Contains(output, "Gannet Ledge is in the image.");
        CollectionAssert.AreEqual(before, File.ReadAllBytes(made.At(Program + ".pe")), "the folder's own file stays");
        byte[] image = File.ReadAllBytes(made.At("deploy.bin"));
        EveryPieceIsSound(image);
        BuiltInSite place = FlashPlace.Held(image)!;
        using var board = new Board(new BoardOptions { Place = null, BuiltIn = place });
        using var given = new Board(new BoardOptions());
        foreach (Board b in new[] { board, given })
        {
            b.Press(Button.Back, 2_000_000, 100_000);
            b.RunUntil(30_000_000);
        }
        Assert.AreEqual("Gannet Ledge", board.Box!.Shore.Settings.Name);
        CollectionAssert.AreEqual(given.Display.Rows(), board.Display.Rows(), "TIDE shows the same");

        // What was put in can be changed for another place later on.
        byte[] again = FlashPlace.Put(image, SiteFile.Parse(DemoSite.Text.Replace("Gannet Ledge", "Other Ledge", StringComparison.Ordinal), "other"), new Coast.Time.UtcInstant(1));
        EveryPieceIsSound(again);
        using var other = new Board(new BoardOptions { Place = null, BuiltIn = FlashPlace.Held(again) });
        Assert.AreEqual("Other Ledge", other.Box!.Shore.Settings.Name);
    }

    [TestMethod]
    public void WithoutAPlaceTheRoomStaysEmpty()
    {
        using DeviceFolder made = WithRoom();
        Assert.AreEqual(0, Run(made).Code);
        Assert.IsNull(FlashPlace.Held(File.ReadAllBytes(made.At("deploy.bin"))));
    }

    [TestMethod]
    public void AnImageWithoutRoomAndABadSiteFileAreRefusedInPlainLines()
    {
        using var made = new DeviceFolder();
        (int code, _, string error) = Run(made, "--place", Repository.At("firmware/VirtualBoard/Examples/gannet-ledge.txt"));
        Assert.AreEqual(FlashCommand.BadInput, code);
        Assert.AreEqual("This image has no room for a place; build the firmware again, and let firmware/Flash write the image.", error.Trim());
        Assert.IsFalse(File.Exists(made.At("deploy.bin")));

        File.WriteAllText(made.At("bad.txt"), "site: A\nlatitude: north\n");
        (code, _, error) = Run(made, "--place", made.At("bad.txt"));
        Assert.AreEqual(FlashCommand.BadInput, code);
        string[] mistakes = error.Trim().Split('\n');
        Assert.Contains("latitude", mistakes[0]);
        foreach (string mistake in mistakes) Assert.Contains("bad.txt", mistake);
        Assert.ThrowsExactly<FlashPlaceException>(() => FlashPlace.Put(Encoding.ASCII.GetBytes("no image at all"), DemoSite.Load(), new Coast.Time.UtcInstant(0)));
    }

    [TestMethod]
    public void ADamagedDeviceFileIsRefused()
    {
        using DeviceFolder made = WithRoom();
        byte[] bytes = File.ReadAllBytes(made.At(Program + ".pe"));
        bytes[^5] ^= 8;
        File.WriteAllBytes(made.At(Program + ".pe"), bytes);
        (int code, _, string error) = Run(made);
        Assert.AreEqual(FlashCommand.RefusedBuild, code);
        StringAssert.StartsWith(error, "Intervalometer.Esp32: Intervalometer.Esp32.pe is damaged (the checksum of its content is wrong); make it again\n");
    }

    /// <summary>The compiler keeps the room in one piece in the data of the program.</summary>
    [TestMethod]
    public void TheProgramKeepsTheRoomInOnePiece()
    {
        string configuration = new DirectoryInfo(AppContext.BaseDirectory).Parent!.Name;
        byte[] program = File.ReadAllBytes(Repository.At($"firmware/Esp32/bin/{configuration}/netnano1.0/Intervalometer.Esp32.exe"));
        Assert.IsGreaterThan(0, program.AsSpan().IndexOf(FlashPlace.Room(null, new Coast.Time.UtcInstant(0))));
    }

    private static void EveryPieceIsSound(byte[] image)
    {
        int pieces = 0;
        for (int at = 0; at < image.Length; at += DeviceFile.Padded(DeviceFile.LengthAt(image, at)), pieces++) Assert.IsNull(DeviceFile.FaultAt(image, at));
        Assert.AreEqual(4, pieces);
    }

    private static DeviceFolder WithRoom()
    {
        var made = new DeviceFolder();
        byte[] room = FlashPlace.Room(null, new Coast.Time.UtcInstant(0));
        made.Pe(Program, "0.0.0.0", DeviceFile.HeadBytes + room.Length + 9, content: room);
        return made;
    }

    private static (int Code, string Output, string Error) Run(DeviceFolder made, params string[] more)
    {
        using StringWriter output = new(), error = new();
        int code = FlashCommand.Run([made.Folder, "--image", made.At("deploy.bin"), "--budgets", made.At("budgets.csv"), .. more], output, error);
        return (code, output.ToString().ReplaceLineEndings("\n"), error.ToString().ReplaceLineEndings("\n"));
    }
}

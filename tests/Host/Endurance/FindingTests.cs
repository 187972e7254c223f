using System.Text;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.Tests.DeviceSafe;
using Intervalometer.Tests.Host.Screens;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Scenario;

namespace Intervalometer.Tests.Host.Endurance;

/// <summary>Faults that random presses and random inputs once found, each in its smallest form.</summary>
[TestClass]
public class FindingTests
{
    /// <summary>When the mirror settles faster than press and gap last, the first edge once lay in the past, and the box stopped the run.</summary>
    [TestMethod]
    public void AShortMirrorSettlingIsLedInAsLongAsItIsPlayed()
    {
        var camera = new CameraProfile { MirrorLockUp = true, MirrorSettleMs = 200, PulseMs = 770, MinimumGapMs = 210, HalfPressLeadMs = 50 };
        var bench = new Bench();
        bench.RunTo(1_000_000);
        bench.Desk.StartWaves(new WaveOrder { Way = FiringWay.OnMark }, new ShotPlan { BoxTimed = true }, camera, bench.NowUs);
        bench.RunTo(3_000_000);
        bench.Mark();
        bench.RunTo(4_000_000);
        Assert.AreNotEqual(RunState.Failed, bench.Desk.State, bench.Desk.Player.Failure.ToString());
        Assert.AreEqual("H+ S+ S- S+", bench.Lines.Story());
        Assert.AreEqual(980_000, bench.Lines.ShutterEdgeUs(2) - bench.Lines.ShutterEdgeUs(0));
    }

    [TestMethod]
    [DataRow("{ \"endAt\": 9, \"name\": \"Wic\u00FF\" }", "line 1: a text with a broken letter")]
    [DataRow("{ \"endAt\": 9,\n \"name\": \"\\ud800\" }", "line 2: a text with a broken letter")]
    public void ABrokenLetterInAScenarioIsReportedWithItsLine(string json, string told)
    {
        // Latin-1, so that the letter is not UTF-8.
        byte[] bytes = Encoding.Latin1.GetBytes(json);
        string message = Assert.ThrowsExactly<SceneFileException>(() => SceneReader.Parse("a.json", bytes)).Message;
        StringAssert.Contains(message, told);
    }

    [TestMethod]
    public void ASiteFileThatCannotBeNamedIsAComplaint()
    {
        string message = Assert.ThrowsExactly<SceneFileException>(() => SceneReader.Parse("a.json", "{ \"endAt\": 9, \"place\": \"\\u0000\" }"u8.ToArray())).Message;
        StringAssert.StartsWith(message, "a.json: line 1: place: ");
    }

    [TestMethod]
    public void AnErrorThatQuotesALineEndStaysOnOneLine()
    {
        Assert.IsFalse(FilterNotation.TryParse("\rRL", out _, out string problem));
        StringAssert.StartsWith(problem, "Unknown filter \"?RL\"");
        string message = Assert.ThrowsExactly<SiteFileException>(() => SiteFile.Parse("dat\rm: x", "a.txt")).Message;
        StringAssert.Contains(message, "'dat?m' is not known here");
    }

    [TestMethod]
    public void DigitsOfOtherScriptsAreNoFilter()
    {
        Assert.IsFalse(FilterNotation.TryParse("GRAD 0\u0660.6", out _, out string problem));
        StringAssert.StartsWith(problem, "Unknown filter");
    }

    [TestMethod]
    public void AStoredPlaceInTheWaveOutOfItsRangeIsNone()
    {
        byte[] stored = new byte[13];
        new LogEntry { WaveThousandths = 999 }.Put(new Bytes(stored, 13));
        var entry = new LogEntry();
        entry.Take(new Bytes(stored, 13));
        Assert.AreEqual(999, entry.WaveThousandths);
        new LogEntry { WaveThousandths = 1000 }.Put(new Bytes(stored, 13));
        entry.Take(new Bytes(stored, 13));
        Assert.AreEqual(-1, entry.WaveThousandths);
    }

    [TestMethod]
    [DataRow(0, -1)]
    [DataRow(8, -1)]
    [DataRow(61, 999)]
    [DataRow(62, 0)]
    public void LatenessAndWaveAreStoredSideBySide(int late, int wave)
    {
        byte[] stored = new byte[13];
        new LogEntry { LateSteps = late, WaveThousandths = wave }.Put(new Bytes(stored, 13));
        var entry = new LogEntry();
        entry.Take(new Bytes(stored, 13));
        Assert.AreEqual(late, entry.LateSteps);
        Assert.AreEqual(wave, entry.WaveThousandths);
        // What older firmware, which recorded no lateness, wrote for a frame without a wave.
        stored[11] = stored[12] = 0xFF;
        entry.Take(new Bytes(stored, 13));
        Assert.AreEqual(0, entry.LateSteps);
        Assert.AreEqual(-1, entry.WaveThousandths);
    }

    [TestMethod]
    public void AStoredGapAndPressAreNeverShorterThanTheCircuitNeeds()
    {
        byte[] stored = new byte[48];
        CameraRecord.Put(new CameraProfile { MinimumGapMs = 12, PulseMs = 21 }, new Bytes(stored, 48));
        var camera = new CameraProfile();
        Assert.IsTrue(CameraRecord.Take(camera, new Bytes(stored, 48)));
        Assert.AreEqual(40, camera.MinimumGapMs);
        Assert.AreEqual(30, camera.PulseMs);
    }

    /// <summary>Texts that were longer than the picture is wide; <see cref="PanelRig.Draw"/> fails on every pixel outside it.</summary>
    [TestMethod]
    public void LongTextsStayInsideThePicture()
    {
        var rig = new PanelRig();
        rig.Settings.LimitSeconds = 7200;
        rig.Settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(14), 4));
        rig.Settings.Kit[0].On = true;
        rig.Settings.Solve();
        rig.Draw();
        for (int i = 0; i < 4; i++) rig.Press(Button.Select).Draw();
        rig = new PanelRig();
        rig.Settings.Plan.Shape = PlanShape.HeldDrive;
        rig.Settings.AlwaysBulb = true;
        rig.Press(Button.Down, Button.Down).Draw();
        rig = new PanelRig();
        rig.Shore.Settings.SetName("NMMMMMMMMMMMMMMM");
        rig.Shore.Settings.SprayMinutes = 12;
        rig.Press(Button.Back, Button.Up).Draw();
    }
}

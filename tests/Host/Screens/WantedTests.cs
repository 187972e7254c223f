using Intervalometer.Core.Exposure;
using Intervalometer.Core.Run;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The proposals for a wanted time, compared with every stack and aperture solved one by one, and by buttons.</summary>
[TestClass]
public class WantedTests
{
    private static readonly int[] Densities = [30, 60, 90, 120, 150, 180, 240, 300, 360, 450];

    private static FilterKit Kit(Random random)
    {
        var kit = new FilterKit();
        int count = random.Next(7);
        for (int i = 0; i < count; i++)
        {
            var kind = random.Next(4) == 0 ? (FilterKind)random.Next(FilterKinds.Count) : FilterKind.Nd;
            var filter = new Filter($"F{i}", kind) { On = random.Next(3) == 0 };
            filter.SetStrength(FilterScale.Density, Densities[random.Next(Densities.Length)]);
            filter.TrimTenths = random.Next(-3, 4);
            kit.Add(filter);
        }
        return kit;
    }

    /// <summary>
    /// The brute force knows nothing of the search: it puts each stack on, turns the metered base by each aperture, has the exposure
    /// solved as LIGHT has it, and compares the time with the one wanted.
    /// </summary>
    [TestMethod]
    public void NeverWorseThanEveryStackAndApertureSolvedOneByOne()
    {
        var random = new Random(77);
        var ways = new WaysToTime();
        var answer = new ExposureAnswer();
        for (int n = 0; n < 10_000; n++)
        {
            FilterKit kit = Kit(random);
            int now = random.Next(12, 25);
            var metered = new MeteredBase(new ApertureSetting(now), new IsoSetting(0), new ShutterSetting(random.Next(-30, 10)), random.Next(-3, 4));
            double wanted = Math.Pow(2, random.Next(-9, 31) / 3.0);
            ways.Begin(metered, kit, FilmCurve.None, wanted, 15, 21);
            while (!ways.Step())
            {
            }
            int[] nd = [.. Enumerable.Range(0, kit.Count).Where(i => kit[i].Kind == FilterKind.Nd)];
            bool[] was = [.. nd.Select(i => kit[i].On)];
            var all = new List<(int Tenths, int Changes, double Size)>();
            for (int stack = 0; stack < 1 << nd.Length; stack++)
            {
                for (int b = 0; b < nd.Length; b++) kit[nd[b]].On = (stack >> b & 1) != 0;
                var best = (Tenths: int.MaxValue, Changes: 0, Size: 0.0);
                for (int aperture = 15; aperture <= 21; aperture++)
                {
                    int shutter = metered.Shutter.Index + aperture - now;
                    if (shutter is < ShutterSetting.MinIndex or > ShutterSetting.MaxIndex) continue;
                    var turned = new MeteredBase(new ApertureSetting(aperture), metered.Iso, new ShutterSetting(shutter), metered.HandThirds);
                    ExposureSolver.Solve(turned, kit, FilmCurve.None, 7200, answer);
                    double size = Math.Abs(Math.Log2(answer.Seconds / wanted));
                    int changes = nd.Where((i, b) => kit[i].On != was[b]).Count() + (aperture == now ? 0 : 1);
                    var one = (Tenths: (int)(size * 10 + 0.5), Changes: changes, Size: size);
                    if (one.CompareTo(best) < 0) best = one;
                }
                all.Add(best);
            }
            for (int b = 0; b < nd.Length; b++) kit[nd[b]].On = was[b];
            all.Sort();
            Assert.AreEqual(Math.Min(3, all.Count), ways.Found, $"kit {n}");
            for (int way = 0; way < ways.Found; way++)
            {
                // A tenth of a stop has an edge, and the last bits of a power may fall on either side of it.
                double size = Math.Abs(ways.Off(way));
                bool onEdge = Math.Abs(size * 10 + 0.5 - Math.Round(size * 10 + 0.5)) < 1e-6 || Math.Abs(all[way].Size * 10 + 0.5 - Math.Round(all[way].Size * 10 + 0.5)) < 1e-6;
                if (onEdge) continue;
                Assert.AreEqual(all[way].Tenths, (int)(size * 10 + 0.5), $"kit {n}, way {way}");
                Assert.AreEqual(all[way].Changes, ways.Changes(way), $"kit {n}, way {way}");
                Assert.AreEqual(all[way].Size, size, 1e-6, $"kit {n}, way {way}");
            }
        }
    }

    [TestMethod]
    public void AFilmsCorrectionIsUndone()
    {
        var ways = new WaysToTime();
        var film = new FilmCurve(3);
        var metered = new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(6), 0);
        double wanted = film.Corrected(8);
        ways.Begin(metered, new FilterKit(), film, wanted, 15, 21);
        while (!ways.Step())
        {
        }
        // 4 s metered at f/8 are 8 s at f/11.
        Assert.AreEqual(21, ways.Aperture(0));
        Assert.AreEqual(0, ways.Off(0), 1e-6);
    }

    [TestMethod]
    public void AWantedTimeIsReachedFromTheKitAndFiredWithinEightPresses()
    {
        var rig = new PanelRig();
        rig.Press(Button.Up, Button.Up, Button.Up);
        rig.Pass(100_000);
        Assert.AreEqual("TIME WANTED", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "wanted");
        rig.Press(Button.Select, Button.Down).Pass(100_000);
        GoldenPictures.Check(rig, "wanted-edit");
        rig.Hold(Button.Select, 700_000).Pass(100_000);
        GoldenPictures.Check(rig, "wanted-taken");
        double wanted = Math.Pow(2, 2 / 3.0);
        Assert.IsTrue(Math.Abs(Math.Log2(rig.Settings.Answer.Seconds / wanted)) < 0.1, $"{rig.Settings.Answer.Seconds} s");
        rig.Press(Button.Fire).Pass(500_000);
        Assert.AreEqual(RunState.Plan, rig.Bench.Desk.State);
        Assert.IsTrue(rig.Presses <= 8, $"{rig.Presses} presses");
    }

    [TestMethod]
    public void AnotherWayIsPickedAndTaken()
    {
        PanelRig rig = new PanelRig().Press(Button.Up, Button.Up, Button.Up).Pass(100_000);
        rig.Press(Button.Select, Button.Select, Button.Down).Pass(100_000);
        GoldenPictures.Check(rig, "wanted-second");
        double before = rig.Settings.Answer.Seconds;
        rig.Hold(Button.Select, 700_000).Pass(100_000);
        Assert.AreNotEqual(before, rig.Settings.Answer.Seconds);
    }
}

using Intervalometer.Core.Light;
using Intervalometer.Drivers;
using Intervalometer.Drivers.Veml7700;
using Intervalometer.VirtualBoard.Bus;
using Intervalometer.VirtualBoard.Light;

namespace Intervalometer.Tests.Host.Light;

/// <summary>The light sensor's driver against its register model, with the figures of data sheet 84286 and application note 84323 (Vishay).</summary>
[TestClass]
public class Veml7700Tests
{
    private long _nowUs = 3_000_000;
    private double _lux;

    private sealed class Wire(IBusChip chip) : ITwoWireDevice
    {
        public int Transfers { get; private set; }

        public bool Write(byte[] data)
        {
            Transfers++;
            return chip.Write(data);
        }

        public bool Read(byte[] data) => chip.Read(data);

        public bool WriteRead(byte[] output, byte[] input) => Write(output) && chip.Read(input);
    }

    private (Veml7700Model Model, Veml7700Sensor Sensor, Wire Wire) Make()
    {
        var model = new Veml7700Model(() => _nowUs, _ => _lux);
        var wire = new Wire(model);
        return (model, new Veml7700Sensor(wire), wire);
    }

    // Passes of a panel, 10 ms each, until the sensor has told so many things.
    private void Until(Veml7700Sensor sensor, int told = 1)
    {
        for (int pass = 0; pass < 2_000 && told > 0; pass++)
        {
            if (sensor.Pass(_nowUs)) told--;
            _nowUs += 10_000;
        }
        Assert.AreEqual(0, told, "nothing was told for 20 s");
    }

    /// <summary>The table of resolutions and largest readings of the application note of 2025: gain and time, lx a count, most lx.</summary>
    [TestMethod]
    [DataRow(4, 0x08C0, 800_000, 0.0042, 275)]
    [DataRow(3, 0x0840, 200_000, 0.0168, 1101)]
    [DataRow(2, 0x0000, 100_000, 0.0672, 4404)]
    [DataRow(1, 0x1000, 100_000, 0.5376, 35232)]
    [DataRow(0, 0x1300, 25_000, 2.1504, 140926)]
    public void StepsAreThoseOfTheTable(int step, int word, int integrationUs, double resolution, int most)
    {
        Assert.AreEqual(word, Veml7700Sensor.Configuration(step));
        Assert.AreEqual(integrationUs, Veml7700Sensor.IntegrationUs(step));
        Assert.AreEqual(integrationUs, Veml7700Model.IntegrationUs(word));
        Assert.AreEqual(resolution, Veml7700Sensor.LuxPerCount(step), 1e-9);
        Assert.AreEqual(most, Veml7700Sensor.LuxPerCount(step) * 65535, 1);
    }

    /// <summary>The correction of the application note by its own polynomial, worked out by hand: 1000 lx as counted are 1075 lx, 10 000 are 14 793.</summary>
    [TestMethod]
    public void BrightLightIsCorrectedByThePolynomial()
    {
        Assert.AreEqual(1002.3 + 81.488 - 9.3924 + 0.60135, Veml7700Sensor.Corrected(1000), 1e-6);
        Assert.AreEqual(10023 + 8148.8 - 9392.4 + 6013.5, Veml7700Sensor.Corrected(10_000), 1e-6);
        Assert.AreEqual(0.1, Veml7700Sensor.Corrected(0.1), 0.0003);
        for (double lux = 0.1; lux < 140_000; lux *= 1.1) Assert.IsTrue(Veml7700Sensor.Corrected(lux * 1.1) > Veml7700Sensor.Corrected(lux), $"at {lux}");
    }

    /// <summary>A chip is shut down when its power comes on (ALS_CONF_0 is 0001): one write starts it, and it is read only when a measurement is done.</summary>
    [TestMethod]
    public void ItIsStartedOnceAndReadWhenItHasMeasured()
    {
        var (model, sensor, wire) = Make();
        Assert.AreEqual(1, model[Veml7700Registers.AlsConf0]);
        _lux = 100;
        long began = _nowUs;
        Until(sensor);
        Assert.AreEqual(2, wire.Transfers);
        Assert.IsTrue(_nowUs - began >= 104_000, "it needs 4 ms and a measurement of 100 ms");
        Assert.AreEqual(LightState.Trusted, sensor.State);
        Assert.AreEqual(100, sensor.Lux, 0.1);
        Assert.HasCount(0, model.Complaints);
    }

    /// <summary>Over the whole range, up and down by thirds of a stop: within a fiftieth of a stop, in at most three seconds, with a chip whose clock is slow or fast.</summary>
    [TestMethod]
    [DataRow(90)]
    [DataRow(100)]
    [DataRow(110)]
    public void EveryLightIsToldWithinAFiftiethOfAStop(int clockPercent)
    {
        var (model, sensor, _) = Make();
        model.ClockPercent = clockPercent;
        for (int third = -9; third <= 51; third++) Told(third);
        for (int third = 51; third >= -9; third--) Told(third);
        Told(-9);
        Told(51);
        Told(-9);
        Assert.HasCount(0, model.Complaints);

        void Told(int third)
        {
            _lux = Math.Pow(2, third / 3.0);
            long began = _nowUs;
            for (double off = 1; Math.Abs(off) > 0.05;)
            {
                Until(sensor);
                off = sensor.State == LightState.Trusted ? Math.Log2(sensor.Lux / _lux) : 1;
                Assert.IsTrue(_nowUs - began < 5_000_000, $"{_lux} lx: {sensor.State} {sensor.Lux}");
            }
        }
    }

    /// <summary>Under the least light it is too dark to say, over the most it is saturated, and both are named.</summary>
    [TestMethod]
    public void DarknessAndGlareAreNamed()
    {
        var (model, sensor, _) = Make();
        _lux = 0.08;
        Until(sensor, 2);
        Assert.AreEqual(LightState.TooDark, sensor.State);
        Assert.AreEqual(Veml7700Sensor.DarkLux, sensor.Lux);
        _lux = 0;
        Until(sensor, 3);
        Assert.AreEqual(LightState.TooDark, sensor.State);
        _lux = 0.12;
        Until(sensor, 2);
        Assert.AreEqual(LightState.Trusted, sensor.State);
        _lux = 1e9;
        Until(sensor, 2);
        Assert.AreEqual(LightState.Saturated, sensor.State);
        _lux = 30_000;
        Until(sensor, 2);
        Assert.AreEqual(LightState.Trusted, sensor.State);
        Assert.HasCount(0, model.Complaints);
    }

    /// <summary>A chip that never answered is absent; one that did and stops is silent; one whose power failed for a moment is started again.</summary>
    [TestMethod]
    public void AbsentAndSilentAreTold()
    {
        var (model, sensor, _) = Make();
        model.Connected = false;
        Until(sensor);
        Assert.AreEqual(LightState.Absent, sensor.State);
        Assert.IsFalse(sensor.Seen);
        model.Connected = true;
        _lux = 20;
        Until(sensor);
        Assert.AreEqual(LightState.Trusted, sensor.State);
        model.Connected = false;
        Until(sensor);
        Assert.AreEqual(LightState.Silent, sensor.State);
        model.PowerCycle();
        model.Connected = true;
        Until(sensor);
        Assert.AreEqual(LightState.Trusted, sensor.State);
        Assert.AreEqual(20, sensor.Lux, 0.1);
    }

    /// <summary>The model complains of what the chip would not do.</summary>
    [TestMethod]
    public void TheModelComplains()
    {
        var (model, _, _) = Make();
        model.Write([Veml7700Registers.Als]);
        model.Read(new byte[2]);
        model.Write([Veml7700Registers.AlsConf0, 0x00, 0x04]);
        model.Write([Veml7700Registers.AlsConf0, 0x40, 0x01]);
        model.Write([Veml7700Registers.Als, 0, 0]);
        model.Write([Veml7700Registers.AlsConf0, 0]);
        model.Write([9]);
        model.Read(new byte[1]);
        Assert.HasCount(7, model.Complaints, string.Join("\n", model.Complaints));
    }

    /// <summary>The data register holds the last whole measurement: after a change of the setting it keeps the old one until a new one is done.</summary>
    [TestMethod]
    public void TheOldMeasurementStandsUntilANewOneIsDone()
    {
        var (model, _, _) = Make();
        _lux = 67.2;
        model.Write([Veml7700Registers.AlsConf0, 0, 0]);
        _nowUs += 110_000;
        int counts = model[Veml7700Registers.Als];
        Assert.AreEqual(1000, counts, 12.0);
        _lux = 200;
        _nowUs += 50_000;
        Assert.AreEqual(counts, model[Veml7700Registers.Als], "this is half a measurement later");
        model.Write([Veml7700Registers.AlsConf0, 0xC0, 0x00]);
        _nowUs += 700_000;
        Assert.AreEqual(counts, model[Veml7700Registers.Als], "set again, not done");
        _nowUs += 110_000;
        Assert.IsTrue(model[Veml7700Registers.Als] > 5 * counts);
    }
}

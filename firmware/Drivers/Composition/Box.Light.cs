using System;
using Intervalometer.Core.Light;
using Intervalometer.Core.Link;
using Intervalometer.Drivers.Veml7700;
using Intervalometer.Settings.Faults;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Drivers.Composition;

// This part handles the light sensor on the bus, and the frame that it ends. Without a sensor it costs no transfer and no byte.
public sealed partial class Box
{
    private Veml7700Sensor? _sensor;

    private SensedLight Light => _shore.Dawn.Sensor;

    // The edge from which the panel thread keeps away: the next planned one, or a sooner one that the light may ask for.
    private long NextEdge(RunReport run)
    {
        long edge = run.NextEdgeUs;
        if (_sensor == null) return edge;
        long sooner = Light.EdgeUs;
        return sooner < edge ? sooner : edge;
    }

    private void BeginLight()
    {
        ITwoWireDevice? chip = LightSensor;
        if (chip == null) return;
        Veml7700Sensor sensor = new Veml7700Sensor(new GuardedWire(chip, _guard));
        sensor.Pass(_clock.NowUs);
        if (!sensor.Seen) return;
        _sensor = sensor;
        Light.Fitted = true;
    }

    // Nothing switches the sensor's supply off in a deep sleep. A sensor that fails here must not keep the box from sleeping.
    private void ShutLightDown()
    {
        try
        {
            if (_sensor != null) _sensor.ShutDown();
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Light, fault);
        }
    }

    // This comes before anything else in a pass that can take long.
    private void EndByLight(long now)
    {
        if (_sensor == null) return;
        try
        {
            _shore.Dawn.SensorPass(_shore.Clock, _shore.Settings.DawnOn, _link!, now);
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Light, fault);
        }
    }

    // This comes after the pages of the display, with one transfer at the most. A reading keeps away from edges as a page does, and a sensor
    // that has fallen silent is asked only where a hung bus would disturb no edge.
    private void LightPass(long now, RunReport run)
    {
        if (_sensor == null || now < _sensor.DueUs) return;
        long room = NextEdge(run) - now;
        if (room < (_sensor.State == LightState.Silent ? HungBusUs : QuietBusUs)) return;
        try
        {
            if (_sensor.Pass(now)) Light.Take(_sensor.State, _sensor.Lux, _sensor.AtUs);
        }
        catch (Exception fault)
        {
            Failed(FaultPlace.Light, fault);
        }
    }
}

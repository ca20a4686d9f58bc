package catchbay.sim;

import catchbay.quantity.Temperature;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;
import catchbay.signal.ThermometerText;

import java.util.Set;
import java.util.random.RandomGenerator;

/**
 * The thermometers of a stand-in bay: what they stand in keeps its temperature, and they show it
 * with a little noise in steps of their own.
 */
final class StandInThermometers {

    /** Each of them is read so often, ns. */
    static final long PERIOD_NANOS = 1_000_000_000L;

    /** Sixteenths of a degree: twelve bits (a common 1-wire sensor's sheet, from memory). */
    static final double STEP_KELVIN = 0.0625;

    private static final double POWER_ON_CELSIUS = 85;

    private final Set<TemperaturePlace> places;
    private final SimOptions.Warmth truth;
    private final RandomGenerator random;
    private boolean silent;
    private boolean poweredOn;
    private double garbledShare;
    private double spikeKelvin;

    StandInThermometers(RunSetup setup, SimOptions.Warmth truth, RandomGenerator random) {
        this.places = setup.doubts().temperatures().sensors().places();
        this.truth = truth;
        this.random = random;
    }

    /** Reads all of them now. */
    void read(long nowNanos, Inbox into) {
        for (TemperaturePlace place : places) {
            double shown = celsius(place) + truth.noiseKelvin() * Streams.bell(random);
            boolean heard = random.nextDouble() >= garbledShare;
            if (!silent) {
                into.put(new RunInput.Thermometer(nowNanos, place, reading(shown, heard)));
            }
        }
        spikeKelvin = 0;
    }

    private TemperatureReading reading(double celsius, boolean heard) {
        if (!heard) {
            return new TemperatureReading.Missing(ThermometerText.WRONG_SUM);
        }
        double shown = Math.rint((celsius + spikeKelvin) / STEP_KELVIN) * STEP_KELVIN;
        return new TemperatureReading.Shown(new Temperature(poweredOn ? POWER_ON_CELSIUS : shown));
    }

    private double celsius(TemperaturePlace place) {
        return switch (place) {
            case TRUCK_METER -> truth.liquidCelsius() + truth.truckOverKelvin();
            case REFERENCE, TANK -> truth.liquidCelsius();
            case ROOM -> truth.roomCelsius();
        };
    }

    void silent(boolean now) {
        silent = now;
    }

    void poweredOn(boolean now) {
        poweredOn = now;
    }

    void garbled(double share) {
        garbledShare = share;
    }

    /** The next reading of each is off by so much. */
    void spike(double kelvin) {
        spikeKelvin = kelvin;
    }
}

package catchbay.sim;

import java.util.random.RandomGenerator;

/**
 * A meter's pulses: the integral of its pulse rate, whose whole numbers are pulses. The fraction is
 * carried over, so that no pulse is rounded away. Uneven spacing shifts each pulse on its own and
 * never adds up.
 */
final class PulseTrain {

    /** Pulses shifted by less than half a spacing each way never change places. */
    private static final double SHIFT_MAX = 0.45;

    private final Door door;
    private final RandomGenerator random;
    private double shiftRatio;
    private double phase;
    private double nextPhase;
    private long pulses;

    /**
     * @param door where the pulses go; null when the line is not wired to the bay
     * @param random draws the phase at the start and the shifts
     * @param shiftRatio standard deviation of a pulse's shift over the mean spacing
     */
    PulseTrain(Door door, RandomGenerator random, double shiftRatio) {
        this.door = door;
        this.random = random;
        this.shiftRatio = shiftRatio;
        phase = random.nextDouble();
        nextPhase = 1 + shift();
    }

    /** Lets the meter turn for one stretch of time during which its rate changes evenly. */
    void turn(long startNanos, double seconds, double rateAtStart, double rateAtEnd) {
        double end = phase + 0.5 * (rateAtStart + rateAtEnd) * seconds;
        double slope = (rateAtEnd - rateAtStart) / seconds;
        while (nextPhase <= end) {
            double wanted = nextPhase - phase;
            double root = Math.sqrt(Math.max(0, rateAtStart * rateAtStart + 2 * slope * wanted));
            double into = wanted <= 0 ? 0 : 2 * wanted / (rateAtStart + root);
            pulses++;
            if (door != null) {
                door.pulse(startNanos + (long) Math.rint(into * 1e9));
            }
            nextPhase = pulses + 1 + shift();
        }
        phase = end;
    }

    /** Whole pulses so far. */
    long pulses() {
        return pulses;
    }

    /** The integral of the rate so far: pulses and a fraction. */
    double phase() {
        return phase;
    }

    void shiftRatio(double ratio) {
        shiftRatio = ratio;
    }

    private double shift() {
        if (shiftRatio == 0) {
            return 0;
        }
        return Math.clamp(shiftRatio * Streams.bell(random), -SHIFT_MAX, SHIFT_MAX);
    }
}

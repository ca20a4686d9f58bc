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

    /** How far the second channel of a meter is behind the first, as a part of the spacing. */
    static final double SECOND_BEHIND = 0.25;

    private final Door door;
    private final Door second;
    private final RandomGenerator random;
    private double shiftRatio;
    private double phase;
    private double nextPhase;
    private double secondPhase;
    private boolean secondDone;
    private long pulses;

    /**
     * @param door where the pulses go; null when the line is not wired to the bay
     * @param second where the same pulses go by a second channel; null when there is none
     * @param random draws the phase at the start and the shifts
     * @param shiftRatio standard deviation of a pulse's shift over the mean spacing
     */
    PulseTrain(Door door, Door second, RandomGenerator random, double shiftRatio) {
        this.door = door;
        this.second = second;
        this.random = random;
        this.shiftRatio = shiftRatio;
        phase = random.nextDouble();
        nextPhase = 1 + shift();
        secondPhase = SECOND_BEHIND * nextPhase;
        // A rotor that rests beyond the place of the second channel has passed it.
        secondDone = phase >= secondPhase;
    }

    /** Lets the meter turn for one stretch of time during which its rate changes evenly. */
    void turn(long startNanos, double seconds, double rateAtStart, double rateAtEnd) {
        double end = phase + 0.5 * (rateAtStart + rateAtEnd) * seconds;
        double slope = (rateAtEnd - rateAtStart) / seconds;
        while (nextPhase <= end) {
            second(startNanos, nextPhase, rateAtStart, slope);
            double fired = nextPhase;
            pulses++;
            if (door != null) {
                door.pulse(stamp(startNanos, fired, rateAtStart, slope));
            }
            nextPhase = pulses + 1 + shift();
            secondPhase = fired + SECOND_BEHIND * (nextPhase - fired);
            secondDone = false;
        }
        second(startNanos, end, rateAtStart, slope);
        phase = end;
    }

    /** The second channel's pulse, if the rotor passes its place by then. */
    private void second(long startNanos, double upToPhase, double rateAtStart, double slope) {
        if (secondDone || secondPhase > upToPhase) {
            return;
        }
        secondDone = true;
        if (second != null) {
            second.pulse(stamp(startNanos, secondPhase, rateAtStart, slope));
        }
    }

    /** When the rotor comes to a phase in the stretch that begins at this stamp. */
    private long stamp(long startNanos, double at, double rateAtStart, double slope) {
        double wanted = at - phase;
        double root = Math.sqrt(Math.max(0, rateAtStart * rateAtStart + 2 * slope * wanted));
        double into = wanted <= 0 ? 0 : 2 * wanted / (rateAtStart + root);
        return startNanos + (long) Math.rint(into * 1e9);
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

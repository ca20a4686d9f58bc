package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.Pressure;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;

import java.util.Optional;

/**
 * Limits at which the bay stops by itself, beyond those that every catch has. Durations are
 * nanoseconds; a limit that is empty is not watched.
 *
 * @param noFlowNanos how long after its start flow may stay away, > 0
 * @param runOutNanos how long after its stop flow may go on, > 0
 * @param runaway how many times the asked flow is a controller that has run away, above 1
 * @param truckPulsesMissed how many pulses of the truck's meter may stay away while the reference
 *     counts what they stand for, 2 or more
 * @param leak by how much a tank that is shut may grow lighter, > 0
 * @param pressureMost the highest pressure at the coupler
 * @param liquidLeast the coldest that the liquid may be
 * @param liquidMost the warmest that it may be
 * @param diskFreeBytesLeast how much of the disk must stay free, >= 0
 * @param runNanosMost how long one catch may take from its checklist to its end, > 0
 */
public record Guard(
        long noFlowNanos,
        long runOutNanos,
        Ratio runaway,
        long truckPulsesMissed,
        Mass leak,
        Optional<Pressure> pressureMost,
        Optional<Temperature> liquidLeast,
        Optional<Temperature> liquidMost,
        long diskFreeBytesLeast,
        long runNanosMost) {

    /** So many rest bands of a scale are no longer its scatter. Common practice, no source. */
    public static final double LEAK_REST_BANDS = 3;

    private static final long SECOND = 1_000_000_000L;

    /**
     * What is watched where the settings name no limits. Common practice, no source.
     *
     * @param restBand of the scale; a bay without one has nothing that a leak is seen by
     */
    public static Guard usual(Optional<Mass> restBand) {
        return new Guard(
                15 * SECOND,
                5 * SECOND,
                new Ratio(2),
                10,
                new Mass(LEAK_REST_BANDS * restBand.map(Mass::kilograms).orElse(1.0)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                200_000_000L,
                3600 * SECOND);
    }

    public Guard {
        above("time for flow to come", noFlowNanos);
        above("time for flow to run out", runOutNanos);
        above("time limit of a catch", runNanosMost);
        if (!Double.isFinite(runaway.value()) || runaway.value() <= 1) {
            throw new IllegalArgumentException(
                    "flow that has run away must be more than 1 time the asked one, was "
                            + runaway.value());
        }
        if (truckPulsesMissed < 2) {
            throw new IllegalArgumentException(
                    "pulses of the truck's meter that may stay away must be 2 or more, were "
                            + truckPulsesMissed);
        }
        if (leak.kilograms() <= 0) {
            throw new IllegalArgumentException(
                    "a leak must be above 0 kg, was " + leak.kilograms());
        }
        if (liquidLeast.isPresent()
                && liquidMost.isPresent()
                && liquidLeast.get().compareTo(liquidMost.get()) >= 0) {
            throw new IllegalArgumentException(
                    "the coldest that the liquid may be, "
                            + liquidLeast.get().celsius()
                            + " °C, must lie below the warmest, "
                            + liquidMost.get().celsius()
                            + " °C");
        }
        if (diskFreeBytesLeast < 0) {
            throw new IllegalArgumentException(
                    "what must stay free of the disk must be >= 0 bytes, was "
                            + diskFreeBytesLeast);
        }
    }

    private static void above(String what, long nanos) {
        if (nanos < 1 || nanos > RunSetup.DURATION_NANOS_MAX) {
            throw new IllegalArgumentException(
                    what
                            + " must be from 1 to "
                            + RunSetup.DURATION_NANOS_MAX
                            + " ns, was "
                            + nanos);
        }
    }

    /** The same limits, for a truck whose meter may be silent while liquid flows. */
    Guard withSilentMeter() {
        return new Guard(
                noFlowNanos,
                runOutNanos,
                runaway,
                Long.MAX_VALUE,
                leak,
                pressureMost,
                liquidLeast,
                liquidMost,
                diskFreeBytesLeast,
                runNanosMost);
    }

    /** The same limits, with no more than so long for a catch. */
    public Guard within(long nanos) {
        return new Guard(
                noFlowNanos,
                runOutNanos,
                runaway,
                truckPulsesMissed,
                leak,
                pressureMost,
                liquidLeast,
                liquidMost,
                diskFreeBytesLeast,
                Math.min(runNanosMost, nanos));
    }
}

package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.util.Arrays;
import java.util.random.RandomGenerator;

/**
 * A response's measures against those of a second-order system in closed form. Overshoot exp(-pi
 * zeta / sqrt(1 - zeta^2)) and peak time pi / (w sqrt(1 - zeta^2)): Ogata, Modern Control
 * Engineering, chapter on transient response, second-order systems (from memory). Delay, rise and
 * settling have no closed form; they are read off the analytic response itself, by search.
 */
final class StepResponseTest {

    private static final long SECOND = Trains.SECOND;
    private static final long REST = 5 * SECOND;
    private static final long ASKED = 7 * SECOND;

    /** A second-order system at rest that is asked for a flow, and some dead time. */
    private record System(double zeta, double omega, double deadSeconds, double hertz) {

        /** Flow over final flow, so long after the asking. */
        double flow(double seconds) {
            double t = Math.max(0, seconds - deadSeconds);
            double root = Math.sqrt(1 - zeta * zeta);
            double damped = omega * root;
            return 1
                    - Math.exp(-zeta * omega * t)
                            * (Math.cos(damped * t) + zeta / root * Math.sin(damped * t));
        }

        double overshoot() {
            return Math.exp(-Math.PI * zeta / Math.sqrt(1 - zeta * zeta));
        }

        double peakSeconds() {
            return deadSeconds + Math.PI / (omega * Math.sqrt(1 - zeta * zeta));
        }

        double firstSeconds(double share) {
            double t = 0;
            while (flow(t) < share) {
                t += 1e-4;
            }
            return t;
        }

        double settledSeconds() {
            double t = 60;
            while (Math.abs(flow(t) - 1) < StepMeasures.BAND_RATIO) {
                t -= 1e-4;
            }
            return t;
        }

        /** Its pulses: one at each whole pulse of the liquid gone by, summed in tiny steps. */
        long[] pulses(double phase, double untilSeconds) {
            long[] stamps = new long[(int) (hertz * untilSeconds * 2) + 2];
            int count = 0;
            double gone = phase;
            double step = 2e-5;
            for (double t = 0; t < untilSeconds; t += step) {
                double more = hertz * step * (flow(t) + flow(t + step)) / 2;
                while (gone + more >= count + 1) {
                    double part = (count + 1 - gone) / more;
                    stamps[count++] = ASKED + Math.round((t + part * step) * 1e9);
                }
                gone += more;
            }
            return Arrays.copyOf(stamps, count);
        }
    }

    private static StepMeasures.Judged judged(StepResponse.Start start, long[] stamps) {
        EdgeBatch train = EdgeBatch.of(4, stamps);
        return StepMeasures.of(
                StepResponse.asked(start, ASKED, Tally.NONE).take(train),
                FlowSteadiness.starting(SECOND, 5).take(train),
                REST);
    }

    private static StepMeasures measures(StepResponse.Start start, long[] stamps) {
        return assertInstanceOf(StepMeasures.Judged.Measured.class, judged(start, stamps))
                .measures();
    }

    private static StepMeasures measures(long[] stamps) {
        return measures(StepResponse.Start.AT_COMMAND, stamps);
    }

    @ParameterizedTest
    @CsvSource({
        "0.3, 2, 0.0, 200",
        "0.3, 2, 1.5, 200",
        "0.5, 1, 0.4, 1000",
        "0.5, 4, 0.0, 50",
        "0.7, 1, 0.8, 30",
        "0.2, 1, 2.0, 120"
    })
    void aSecondOrderSystemIsMeasuredAsItsFormulasSay(
            double zeta, double omega, double dead, double hertz) {
        System system = new System(zeta, omega, dead, hertz);
        StepMeasures measured = measures(system.pulses(0.3, 60));
        double slot = measured.resolutionNanos() / 1e9;
        assertTrue(slot < 0.6, "slots of " + slot + " s");
        assertEquals(hertz, measured.finalPulsesPerSecond(), hertz * 1e-3);
        assertEquals(system.overshoot(), measured.overshoot().get().above().value(), 0.01);
        assertEquals(
                system.peakSeconds(), measured.overshoot().get().peakNanos() / 1e9, slot, "peak");
        assertEquals(system.firstSeconds(0.5), measured.delayNanos() / 1e9, slot, "delay");
        assertEquals(
                system.firstSeconds(0.9) - system.firstSeconds(0.1),
                measured.riseNanos() / 1e9,
                slot,
                "rise");
        assertEquals(
                system.settledSeconds(),
                measured.settlingNanos().getAsLong() / 1e9,
                slot,
                "settling");
        double firstPulse = measured.deadNanos().getAsLong() / 1e9;
        assertTrue(firstPulse >= dead, "first pulse at " + firstPulse + " s");
        assertEquals(dead, firstPulse, 0.7, "dead time, at most the first pulse's own time late");
        assertTrue(measured.steadySpread().value() < 0.002);
    }

    /** Damped beyond the critical there is no overshoot: zeta 0.9 gives 0.15 %, which is none. */
    @Test
    void aWellDampedSystemDoesNotOvershoot() {
        System system = new System(0.9, 2, 0.2, 300);
        assertTrue(system.overshoot() < 0.002);
        assertTrue(measures(system.pulses(0.5, 30)).overshoot().isEmpty());
    }

    /** The instant step of a bay's own valve: everything within one slot of the command. */
    @Test
    void anInstantStepIsWithinOneSlot() {
        long[] stamps = Trains.steady(80, ASKED + 2e9, ASKED + 30e9);
        StepMeasures measured = measures(stamps);
        assertEquals(2 * SECOND, measured.deadNanos().getAsLong());
        double slot = measured.resolutionNanos();
        assertEquals(0.1e9, slot, 0.02e9);
        assertEquals(2e9, measured.delayNanos(), slot);
        assertEquals(0, measured.riseNanos(), slot);
        assertEquals(2e9, measured.settlingNanos().getAsLong(), slot);
        assertTrue(measured.overshoot().isEmpty());
    }

    /** A person's own time to the valve is no part of the controller's answer. */
    @Test
    void aFlowStartedByHandIsTimedFromItsFirstPulse() {
        System system = new System(0.4, 2, 0, 500);
        long[] stamps = system.pulses(0, 40);
        long late = 23 * SECOND;
        long[] shifted = Arrays.stream(stamps).map(stamp -> stamp + late).toArray();
        StepMeasures measured = measures(StepResponse.Start.AT_FIRST_PULSE, shifted);
        assertTrue(measured.deadNanos().isEmpty());
        assertEquals(
                system.peakSeconds() - (stamps[0] - ASKED) / 1e9,
                measured.overshoot().get().peakNanos() / 1e9,
                0.15);
    }

    /**
     * Uneven pulses are neither an overshoot nor a flow that does not settle: slots are joined
     * until they tell the flow from its pulses. One seed in fifty may be taken in by chance.
     */
    @Test
    void unevenPulsesAreNoOvershoot() {
        int[] overshoots = {0};
        Seeds.forSeeds(
                200,
                random -> {
                    double hertz = random.nextDouble(15, 200);
                    long[] stamps =
                            Trains.jittered(random, hertz, 0.2, ASKED + 0.5e9, ASKED + 40e9);
                    Arrays.sort(stamps);
                    StepMeasures measured = measures(stamps);
                    overshoots[0] += measured.overshoot().isPresent() ? 1 : 0;
                    assertTrue(measured.settlingNanos().isPresent(), "settles");
                    assertTrue(
                            measured.settlingNanos().getAsLong()
                                    <= 0.5e9 + 2.5 * measured.resolutionNanos(),
                            () ->
                                    measured.settlingNanos().getAsLong()
                                            + " ns at slots of "
                                            + measured.resolutionNanos());
                });
        assertTrue(overshoots[0] <= 4, overshoots[0] + " overshoots of 200");
    }

    @Test
    void splittingATrainNeverChangesTheResponse() {
        Seeds.forSeeds(
                200,
                random -> {
                    long[] stamps = drawn(random);
                    EdgeBatch train = EdgeBatch.of(3, stamps);
                    StepResponse start =
                            StepResponse.asked(
                                    StepResponse.Start.AT_COMMAND, ASKED, ASKED - SECOND);
                    StepResponse pieces = start;
                    for (EdgeBatch piece : Trains.split(random, train)) {
                        pieces = pieces.take(piece);
                    }
                    assertEquals(start.take(train), pieces);
                });
    }

    private static long[] drawn(RandomGenerator random) {
        return Trains.steady(random.nextDouble(1, 300), ASKED - 0.4e9, ASKED + 100e9);
    }

    /** Ten minutes are more slots than are kept; their pulses are still all there. */
    @Test
    void slotsAreJoinedBeforeTheyGrowTooMany() {
        long[] stamps = Trains.steady(50, ASKED + 1e9, ASKED + 601e9);
        StepResponse response =
                StepResponse.asked(StepResponse.Start.AT_COMMAND, ASKED, Tally.NONE)
                        .take(EdgeBatch.of(0, stamps));
        assertTrue(response.slots().size() < StepResponse.SLOTS_MAX);
        assertTrue(response.slots().size() >= StepResponse.SLOTS_MAX / 2);
        long pulses = response.slots().stream().mapToLong(StepResponse.Slot::pulses).sum();
        assertEquals(stamps.length - 1, pulses + response.anchored());
        assertEquals(50, measures(stamps).finalPulsesPerSecond(), 1e-6);
    }

    @Test
    void whatTellsNothingIsSaid() {
        long[] stamps = Trains.steady(50, ASKED + 1e9, ASKED + 30e9);
        EdgeBatch train = EdgeBatch.of(0, stamps);
        FlowSteadiness steady = FlowSteadiness.starting(SECOND, 5).take(train);
        StepResponse asked = StepResponse.asked(StepResponse.Start.AT_COMMAND, ASKED, Tally.NONE);
        assertUntold("no pulse", StepMeasures.of(asked, steady, REST));
        assertUntold("no pulse", StepMeasures.of(StepResponse.IDLE.take(train), steady, REST));
        assertUntold(
                "flowing before",
                StepMeasures.of(
                        StepResponse.asked(StepResponse.Start.AT_COMMAND, ASKED, ASKED - REST + 1)
                                .take(train),
                        steady,
                        REST));
        assertUntold(
                "too few",
                StepMeasures.of(
                        asked.take(train),
                        FlowSteadiness.starting(SECOND, 5).take(train.head(100)),
                        REST));
        int half = stamps.length / 2;
        StepResponse lost =
                asked.take(train.head(half))
                        .take(
                                EdgeBatch.of(
                                        half + 1, Arrays.copyOfRange(stamps, half, stamps.length)));
        assertUntold("lost", StepMeasures.of(lost, steady, REST));
        FlowSteadiness faster =
                FlowSteadiness.starting(SECOND, 5)
                        .take(EdgeBatch.of(0, Trains.steady(500, 0, 20e9)));
        assertUntold("not become steady", StepMeasures.of(asked.take(train), faster, REST));
    }

    private static void assertUntold(String part, StepMeasures.Judged judged) {
        String reason = assertInstanceOf(StepMeasures.Judged.Untold.class, judged).reason();
        assertTrue(reason.contains(part), reason);
    }
}

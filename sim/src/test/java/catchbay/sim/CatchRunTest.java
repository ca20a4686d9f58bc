package catchbay.sim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.ConstantAdvice.Control;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.FlowBy;

import org.junit.jupiter.api.Test;

/** Single whole catches by the program's own loop. */
final class CatchRunTest {

    private static Outcome.Measured measured(CatchRun run) {
        return (Outcome.Measured) run.outcome();
    }

    @Test
    void anOrdinaryCatchIsMeasuredWithinItsBoundsByBothInstruments() {
        CatchRun run = CatchRun.of(Setups.ordinary(1));
        Bounds bounds = Bounds.of(run.scenario(), run.truth());
        double truth = run.truth().litres();
        var result = measured(run).result();
        assertEquals(
                truth,
                result.byReference().orElseThrow().volume().litres(),
                truth * bounds.reference());
        assertEquals(
                truth, result.byScale().orElseThrow().volume().litres(), truth * bounds.scale());
        assertEquals(0.04, result.comparison().meterError().value(), 0.003);
        assertEquals(0, result.comparison().controlError().value(), 0.002);
        assertTrue(run.world().outputsSafe());
        assertTrue(run.lastedNanos() < 300e9, "virtual time " + run.lastedNanos() / 1e9 + " s");
    }

    @Test
    void oneSeedGivesTheSameTraceByteForByte() {
        byte[] trace = CatchRun.of(Setups.ordinary(7)).trace();
        assertTrue(trace.length > 10_000);
        assertArrayEquals(trace, CatchRun.of(Setups.ordinary(7)).trace());
        assertTrue(!java.util.Arrays.equals(trace, CatchRun.of(Setups.ordinary(8)).trace()));
        Scenario faulty = Scenario.drawn(9).withFaults();
        assertArrayEquals(CatchRun.of(faulty).trace(), CatchRun.of(faulty).trace());
    }

    /**
     * A meter that over-reads 5 % under a controller that regulates on it: asked and reported
     * agree, measured is 1/1.05 of both. The new constant that the catch proposes cures it, and the
     * second catch shows what was foretold.
     */
    @Test
    void theNewConstantOfACatchCuresTheMeter() {
        RunSetup before = Setups.plain(0.5, Control.CLOSED_ON_METER, FlowBy.GROUND_SPEED);
        double truePulsesPerLitre = 50 * 1.05;
        Comparison first = compared(before, 0.05);
        assertEquals(
                1 / 1.05,
                first.measured().volume().litres() / first.asked().volume().litres(),
                0.0005);
        assertEquals(
                1, first.reported().volume().litres() / first.asked().volume().litres(), 0.0005);
        ConstantAdvice.Enter advice = (ConstantAdvice.Enter) advised(before, 0.05);
        assertEquals(truePulsesPerLitre, advice.constant().value(), 0.03);

        RunSetup after = Setups.with(before, advice.constant());
        Comparison second = compared(after, truePulsesPerLitre / advice.constant().value() - 1);
        assertEquals(advice.nextMeasured().litres(), second.measured().volume().litres(), 0.02);
        assertEquals(advice.nextReported().litres(), second.reported().volume().litres(), 0.02);
        assertEquals(
                1, second.measured().volume().litres() / second.asked().volume().litres(), 0.0008);
    }

    private static CatchRun run(RunSetup setup, double overReading) {
        return CatchRun.of(
                new Scenario("closed loop", setup, Setups.plainOptions(setup, 2, overReading, 0)));
    }

    private static Comparison compared(RunSetup setup, double overReading) {
        return measured(run(setup, overReading)).result().comparison();
    }

    private static ConstantAdvice advised(RunSetup setup, double overReading) {
        return measured(run(setup, overReading)).result().advice();
    }

    /** A catch on every fault kind by itself ends, with the outputs safe. */
    @Test
    void everyFaultByItselfEndsSafely() {
        for (FaultKind kind : FaultKind.values()) {
            Scenario ordinary = Setups.ordinary(3);
            Fault fault = Fault.parsed(kind.key() + " after_s=20 size=0.5");
            CatchRun run =
                    CatchRun.of(
                            new Scenario(
                                    kind.key(),
                                    ordinary.setup(),
                                    ordinary.options().with(java.util.List.of(fault))));
            assertTrue(run.world().outputsSafe(), kind.key());
            if (run.outcome() instanceof Outcome.Void ended) {
                assertTrue(kind.causes().contains(ended.cause()), kind.key() + ": " + ended);
            }
        }
    }
}

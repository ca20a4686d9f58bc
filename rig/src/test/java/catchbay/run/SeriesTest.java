package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.MeanOfCatches;
import catchbay.quantity.Mass;
import catchbay.run.Outcome.Cause;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** What a series does after each kind of end that a run can have. */
final class SeriesTest {

    private static final LocalDate DAY = LocalDate.of(2026, 2, 3);

    private final Setups setups = new Setups();

    private static Series.Run run(int number, Outcome outcome) {
        return new Series.Run("run-" + number, DAY, outcome);
    }

    private static Series series(Outcome... outcomes) {
        Series series = Series.planned(Repeats.USUAL);
        for (int i = 0; i < outcomes.length; i++) {
            series = series.with(run(i + 1, outcomes[i]));
        }
        return series;
    }

    private static Outcome empty(Cause cause) {
        return new Outcome.Void(cause, "It came to nothing.");
    }

    private Outcome measured() {
        return new Outcome.Measured(new Rehearsal(setups).result());
    }

    private static Series.End end(Series series) {
        return assertInstanceOf(Series.Next.Over.class, series.next()).end();
    }

    /** Nobody is asked to begin again where somebody or something needs looking after first. */
    @Test
    void afterSomeVoidRunsTheSeriesEndsAtOnce() {
        Set<Cause> ending = EnumSet.noneOf(Cause.class);
        for (Cause cause : Cause.values()) {
            if (series(empty(cause)).next() instanceof Series.Next.Over) {
                ending.add(cause);
            }
        }
        assertEquals(
                EnumSet.of(
                        Cause.EMERGENCY_STOP,
                        Cause.HIGH_LEVEL,
                        Cause.SPILL,
                        Cause.OVERFILL,
                        Cause.PORT_FAILED,
                        Cause.TRACE_FAILED,
                        Cause.NO_ANSWER,
                        Cause.SUPPLY_LOST,
                        Cause.NO_FLOW,
                        Cause.FLOW_UNCOMMANDED,
                        Cause.LEAK,
                        Cause.RUNAWAY,
                        Cause.SCALE_FROZEN,
                        Cause.TANK_NOT_EMPTIED,
                        Cause.PRESSURE_HIGH,
                        Cause.TEMPERATURE_OUTSIDE,
                        Cause.ATTENDANT_ABSENT,
                        Cause.DISK_LOW,
                        Cause.TIME_LIMIT),
                ending);
    }

    @Test
    void onlyVoidRunsInARowAreCounted() {
        Outcome nothing = empty(Cause.NOT_SETTLED);
        assertInstanceOf(Series.Next.Again.class, series(nothing, measured(), nothing).next());
        Series.End end = end(series(nothing, measured(), nothing, nothing));
        assertEquals(Series.How.VOID, end.how());
        assertTrue(end.reason().startsWith("2 runs in a row came to nothing"), end.reason());
    }

    @Test
    void whoStopsARunStopsTheSeries() {
        Series.End end = end(series(measured(), new Outcome.Stopped("M. Example")));
        assertEquals(Series.How.STOPPED, end.how());
        assertTrue(end.reason().contains("M. Example"), end.reason());
        assertEquals(Series.How.STOPPED, end(series(new Outcome.Refused("No."))).how());
    }

    /** Two runs are a mean of two, but no constant: they were planned to be three. */
    @Test
    void aSeriesThatDidNotEndAsPlannedGivesNoConstant() {
        Series series = series(measured(), measured(), new Outcome.Stopped("M. Example"));
        Optional<MeanOfCatches> mean = series.mean(Doubts.Scatter.USUAL);
        assertEquals(2, mean.orElseThrow().runs());
        assertEquals(
                "No new constant: the series did not end as planned.",
                assertInstanceOf(
                                ConstantAdvice.Keep.class,
                                series.advice(setups.build(), mean.get(), end(series)))
                        .reason());
    }

    private Outcome withEmpty(double kilograms) {
        CatchResult fit = new Rehearsal(setups).result();
        return new Outcome.Measured(
                new CatchResult(
                        fit.comparison(),
                        fit.disagreement(),
                        fit.count(),
                        Optional.of(new Mass(kilograms)),
                        fit.netReading(),
                        fit.flow(),
                        fit.windowNanos(),
                        fit.travel(),
                        fit.askedBasis(),
                        fit.reportedBasis(),
                        fit.coupler(),
                        fit.rise(),
                        fit.disturbance(),
                        fit.advice(),
                        fit.verdict(),
                        fit.notes()));
    }

    private SeriesResult ended(Outcome... outcomes) {
        Series.End end =
                new Series.End(Series.How.ENOUGH, "Enough.", Optional.empty(), Optional.empty());
        return SeriesResult.of("run-1", true, setups.build(), series(outcomes), end);
    }

    /** From 10.00 to 10.03 and to 9.98: the second step is the larger one, downwards. */
    @Test
    void theEmptyScaleIsComparedFromCatchToCatch() {
        assertEquals(
                -0.05,
                ended(withEmpty(10), withEmpty(10.03), withEmpty(9.98))
                        .emptyMoved()
                        .orElseThrow()
                        .kilograms(),
                1e-9);
        assertTrue(
                ended(withEmpty(10), empty(Cause.NOT_SETTLED), withEmpty(12))
                        .emptyMoved()
                        .isEmpty(),
                "what ran between is not known to be drained");
        assertTrue(ended(withEmpty(10)).emptyMoved().isEmpty());
    }

    @Test
    void aTankThatIsNotDrainedIsNotCompared() {
        setups.drainSeconds = 0;
        assertTrue(ended(withEmpty(10), withEmpty(30)).emptyMoved().isEmpty());
    }

    /** A mean is no better than the least fit of its runs. */
    @Test
    void anUnfitRunMakesTheMeanUnfit() {
        CatchResult fit = new Rehearsal(setups).result();
        CatchResult unfit =
                new CatchResult(
                        fit.comparison(),
                        fit.disagreement(),
                        fit.count(),
                        fit.emptyReading(),
                        fit.netReading(),
                        fit.flow(),
                        fit.windowNanos(),
                        fit.travel(),
                        fit.askedBasis(),
                        fit.reportedBasis(),
                        fit.coupler(),
                        fit.rise(),
                        Optional.of("air in the line"),
                        ConstantAdvice.after(
                                fit.comparison(),
                                setups.build().truck().constant(),
                                setups.build().truck().control(),
                                "air in the line"),
                        fit.verdict(),
                        List.of());
        Series series =
                series(
                        new Outcome.Measured(fit),
                        new Outcome.Measured(unfit),
                        new Outcome.Measured(fit));
        Series.End asPlanned =
                new Series.End(Series.How.ENOUGH, "Enough.", Optional.empty(), Optional.empty());
        assertEquals(
                "No new constant: run run-2: air in the line.",
                assertInstanceOf(
                                ConstantAdvice.Keep.class,
                                series.advice(
                                        setups.build(),
                                        series.mean(Doubts.Scatter.USUAL).orElseThrow(),
                                        asPlanned))
                        .reason());
    }

    @Test
    void nothingThatCountsHasNoMean() {
        assertEquals(Optional.empty(), series(empty(Cause.SPILL)).mean(Doubts.Scatter.USUAL));
    }
}

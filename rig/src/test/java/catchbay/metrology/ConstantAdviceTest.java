package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.ConstantAdvice.Control;
import catchbay.metrology.ConstantAdvice.Enter;
import catchbay.metrology.ConstantAdvice.Keep;
import catchbay.metrology.TruckConstant.Form;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.Collections;
import java.util.List;

final class ConstantAdviceTest {

    private static final TruckConstant SIX_HUNDRED =
            TruckConstantTest.constant(Form.PULSES_PER_VOLUME, 600, 0.1, 1, 9999);

    private static Comparison comparison(double asked, double reported, double measured) {
        return comparison(asked, reported, measured, 0.001);
    }

    private static Comparison comparison(
            double asked, double reported, double measured, double relativeStandard) {
        return ComparisonTest.comparison(asked, reported, 0, measured, measured * relativeStandard);
    }

    private static Enter enter(Comparison comparison, TruckConstant constant, Control control) {
        return assertInstanceOf(
                Enter.class, ConstantAdvice.after(comparison, constant, control, null));
    }

    private static String keep(Comparison comparison, TruckConstant constant, String unfit) {
        return assertInstanceOf(
                        Keep.class,
                        ConstantAdvice.after(comparison, constant, Control.OPEN_LOOP, unfit))
                .reason();
    }

    /**
     * Asked 10.0, meter over-reading 5 %, closed on its own meter: reported 10.0, measured 9.524;
     * with the constant x 1.05, 10.0 and 10.0. Follows from the definitions: the controller goes on
     * holding its own figure.
     */
    @Test
    void closedLoopHoldsItsFigureAndChangesTheFlow() {
        Enter advice = enter(comparison(10, 10, 10 / 1.05), SIX_HUNDRED, Control.CLOSED_ON_METER);
        assertEquals(630, advice.constant().value());
        assertEquals(630, advice.unrounded(), 1e-10);
        assertEquals(10.0, advice.nextMeasured().usGallons(), 1e-12);
        assertEquals(10.0, advice.nextReported().usGallons(), 1e-12);
        assertTrue(advice.note().contains("single flow"), advice.note());
    }

    /**
     * A truck that puts down what was asked only because two errors cancel: the cure of one brings
     * out the other, and the advice must say so. By the identity (1+a)(1+m) = 1+c.
     */
    @Test
    void aConstantThatWorsensTheApplicationSaysSo() {
        Comparison cancelling = comparison(7.5, 7.9, 7.5);
        String note = enter(cancelling, SIX_HUNDRED, Control.CLOSED_ON_METER).note();
        assertTrue(note.contains("control error of +5.33 %"), note);
        assertTrue(note.contains("will apply 5.33 % more than asked"), note);
        String cured =
                enter(comparison(10, 10, 9.524), SIX_HUNDRED, Control.CLOSED_ON_METER).note();
        assertTrue(!cured.contains("control error"), cured);
        String open = enter(cancelling, SIX_HUNDRED, Control.OPEN_LOOP).note();
        assertTrue(!open.contains("control error"), open);
    }

    /**
     * Another catch on another day differs by what comes out anew in both of them, not by what the
     * bay keeps: sqrt 2 of the run's and the day's part of u (JCGM 100:2008, eq. 10 of a difference
     * of two). A mean of four, all of one day, has a quarter of the run's variance itself.
     */
    @Test
    void theNextCatchDiffersByWhatComesOutAnew() {
        List<Input> inputs =
                List.of(
                        Input.normal("run", 0.05, 0.002, Input.Scope.RUN),
                        Input.normal("day", 0, 0.001, Input.Scope.DAY),
                        Input.normal("bay", 0, 0.01, Input.Scope.BAY));
        Budget one =
                Budget.of(
                        inputs,
                        List.of(
                                Comparison.ASKED,
                                Comparison.REPORTED,
                                Comparison.MEASURED,
                                Comparison.METER_ERROR,
                                Comparison.CONTROL_ERROR,
                                Comparison.APPLICATION_ERROR),
                        x -> new double[] {10, 10.5, 10, x[0] + x[1] + x[2], 0.05, 0});
        double k = 1.959964;
        assertEquals(k * Math.sqrt(2 * 0.002 * 0.002 + 2 * 0.001 * 0.001), within(one, 1), 1e-8);
        List<Budget.Repeat> four =
                Collections.nCopies(4, new Budget.Repeat(LocalDate.of(2026, 1, 5), one));
        assertEquals(
                k * Math.sqrt(1.25 * 0.002 * 0.002 + 2 * 0.001 * 0.001),
                within(Budget.ofMean(four), 4),
                1e-8);
    }

    /**
     * What the bay has in common, known best, cancels, and what is left is known from few readings:
     * of a scatter of two degrees of freedom nearly alone, t is 4.303 (JCGM 100:2008, table G.2),
     * however small that scatter is beside the bay's own terms.
     */
    @Test
    void theNextCatchIsKnownOnlyAsWellAsItsOwnTerms() {
        List<Input> inputs =
                List.of(
                        new Input("run", 0.5, 0.002, 2, Input.Shape.STUDENT, Input.Scope.RUN),
                        Input.normal("bay", 0, 0.1, Input.Scope.BAY));
        Budget budget =
                Budget.of(
                        inputs,
                        List.of(
                                Comparison.ASKED,
                                Comparison.REPORTED,
                                Comparison.MEASURED,
                                Comparison.METER_ERROR,
                                Comparison.CONTROL_ERROR,
                                Comparison.APPLICATION_ERROR),
                        x -> new double[] {10, 15, 10, x[0] + x[1], 0.5, 0});
        assertEquals(4.303 * Math.sqrt(2) * 0.002, within(budget, 1), 1e-5);
    }

    private static double within(Budget budget, int catches) {
        return assertInstanceOf(
                        Enter.class,
                        ConstantAdvice.after(budget, catches, SIX_HUNDRED, Control.OPEN_LOOP, null))
                .nextWithin()
                .value();
    }

    @Test
    void openLoopKeepsTheFlowAndChangesItsFigure() {
        Enter advice = enter(comparison(10, 10, 10 / 1.05), SIX_HUNDRED, Control.OPEN_LOOP);
        assertEquals(10 / 1.05, advice.nextMeasured().usGallons(), 1e-12);
        assertEquals(10 / 1.05, advice.nextReported().usGallons(), 1e-12);
    }

    @Test
    void volumePerPulseAndPercentGoTheOtherWay() {
        TruckConstant perPulse =
                TruckConstantTest.constant(Form.VOLUME_PER_PULSE, 0.00166, 0.00001, 0.00001, 1);
        Enter volume = enter(comparison(10, 10.5, 10), perPulse, Control.OPEN_LOOP);
        assertEquals(0.00166 / 1.05, volume.unrounded(), 1e-15);
        assertEquals(0.00158, volume.constant().value());
        TruckConstant percent =
                TruckConstantTest.constant(Form.PERCENT_OF_READING, 100, 0.1, 50, 200);
        Enter scaled = enter(comparison(10, 10.5, 10), percent, Control.CLOSED_ON_METER);
        assertEquals(95.2, scaled.constant().value());
        assertEquals(10.5, scaled.nextReported().usGallons(), 1e-12);
    }

    /**
     * What the rounded number will show, worked out from the pulses: R pulses of the old constant
     * make R old pulses; the new constant reports them as R old/new.
     */
    @Test
    void predictionAllowsForRounding() {
        Seeds.forSeeds(
                2_000,
                random -> {
                    boolean perVolume = random.nextBoolean();
                    Form form =
                            perVolume
                                    ? Form.PULSES_PER_VOLUME
                                    : random.nextBoolean()
                                            ? Form.VOLUME_PER_PULSE
                                            : Form.PERCENT_OF_READING;
                    TruckConstant old =
                            TruckConstantTest.constant(form, random.nextInt(50, 200), 1, 1, 9999);
                    double measured = random.nextDouble(5, 50);
                    double reported = measured * random.nextDouble(1.05, 1.5);
                    Comparison comparison = comparison(10, reported, measured);
                    Enter open = enter(comparison, old, Control.OPEN_LOOP);
                    double change =
                            perVolume
                                    ? old.value() / open.constant().value()
                                    : open.constant().value() / old.value();
                    assertEquals(
                            reported * change, open.nextReported().usGallons(), reported * 1e-12);
                    assertEquals(measured, open.nextMeasured().usGallons(), 1e-12);
                    Enter closed = enter(comparison, old, Control.CLOSED_ON_METER);
                    assertEquals(
                            measured / change, closed.nextMeasured().usGallons(), reported * 1e-12);
                    assertEquals(reported, closed.nextReported().usGallons(), 1e-12);
                    double left = reported * change / measured - 1;
                    assertEquals(left, open.nextMeterError().value(), 1e-12);
                    assertEquals(left, closed.nextMeterError().value(), 1e-12);
                });
    }

    @Test
    void noConstantWithinTheUncertainty() {
        // 0.5 % error, 1.96 x 0.3 % uncertainty.
        String reason = keep(comparison(10, 10.05, 10, 0.003), SIX_HUNDRED, null);
        assertTrue(reason.contains("0.50 % is within its uncertainty of 0.59 %"), reason);
        assertInstanceOf(
                Enter.class,
                ConstantAdvice.after(
                        comparison(10, 10.05, 10, 0.002), SIX_HUNDRED, Control.OPEN_LOOP, null));
    }

    @Test
    void noConstantFromAnUnfitCatch() {
        String reason = keep(comparison(10, 12, 10), SIX_HUNDRED, "the flow was unsteady");
        assertEquals("No new constant: the flow was unsteady.", reason);
    }

    @Test
    void noConstantWhenNothingWasReported() {
        assertTrue(keep(comparison(10, 0, 10), SIX_HUNDRED, null).contains("reported nothing"));
    }

    @Test
    void noConstantBeyondTheLimits() {
        TruckConstant narrow =
                TruckConstantTest.constant(Form.PULSES_PER_VOLUME, 600, 0.1, 500, 650);
        String over = keep(comparison(10, 12, 10), narrow, null);
        assertTrue(over.contains("720 pulses/US gal") && over.contains("500 to 650"), over);
        assertTrue(keep(comparison(10, 8, 10), narrow, null).contains("480 pulses/US gal"));
        // Rounds to nothing: a step far coarser than the number it should become.
        TruckConstant coarse = TruckConstantTest.constant(Form.PULSES_PER_VOLUME, 10, 10, 1, 9999);
        assertTrue(keep(comparison(10, 2, 10), coarse, null).contains("0 pulses/US gal"));
    }

    @Test
    void noConstantBelowTheEntryStep() {
        TruckConstant coarse =
                TruckConstantTest.constant(Form.PULSES_PER_VOLUME, 600, 10, 10, 9990);
        String reason = keep(comparison(10, 10.05, 10), coarse, null);
        assertTrue(reason.contains("entry step of 10 pulses/US gal"), reason);
    }

    @Test
    void controlsAreReadByTheirKeys() {
        for (Control control : Control.values()) {
            assertEquals(control, Control.ofKey(control.key()));
        }
        assertThrows(IllegalArgumentException.class, () -> Control.ofKey("automatic"));
    }
}

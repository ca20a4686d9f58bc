package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.Estimate;
import catchbay.metrology.Verdict;
import catchbay.quantity.Density;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup.Feedback;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Reported;
import catchbay.seeded.Seeds;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * The amounts of whole runs and what is said of them, against sums worked by hand. Standard
 * uncertainties of even spreads: half-width / sqrt 3 (JCGM 100:2008, 4.3.7).
 */
final class EvaluationTest {

    private static final double GALLON = 3.785411784;
    private static final double LITRES_PER_SECOND = 5 * GALLON / 60;

    private static double total(Estimate estimate) {
        double sum = 0;
        for (Estimate.Term term : estimate.terms()) {
            sum += term.standardLitres() * term.standardLitres();
        }
        return Math.sqrt(sum);
    }

    // Terms

    /** Certificate 0.2 % (k = 2), even train: 0.1 % and nothing for the count. */
    @Test
    void termsOfAFlyingReference() {
        CatchResult result = new Rehearsal(new Setups()).result();
        Estimate estimate = result.byReference().orElseThrow();
        double litres = estimate.volume().litres();
        // Finite steps of one standard uncertainty (JCGM 100:2008, 5.1.3 NOTE 2): 1 / (1 - 1e-6).
        assertEquals(litres * 0.001, Rehearsal.termLitres(estimate, "certificate"), 1e-7);
        Rehearsal.assertNoTerm(estimate, "count");
        assertEquals(1, estimate.terms().size());
        assertEquals(total(estimate) * 1.959964, estimate.expanded().litres(), 1e-7);
    }

    /** Certificate 0.1 % (k = 2), density 0.1 % (k = 2), two readings of 0.05 kg at 8 kg/L. */
    @Test
    void termsOfAScale() {
        CatchResult result = new Rehearsal(new Setups()).result();
        Estimate estimate = result.byScale().orElseThrow();
        double litres = estimate.volume().litres();
        assertEquals(litres * 0.0005, Rehearsal.termLitres(estimate, "certificate"), 1e-7);
        // The density also moves the buoyancy, by 1.2 / 8000 of it.
        assertEquals(
                litres * 0.0005 * (1 + 1.2 / 8000),
                Rehearsal.termLitres(estimate, "density of the liquid"),
                1e-7);
        assertEquals(
                Math.sqrt(2) * 0.025 / Math.sqrt(3) / 8,
                Rehearsal.termLitres(estimate, "resolution"),
                1e-12);
        Rehearsal.assertNoTerm(estimate, "split");
        // The fourth is the air's own density, for which weights and liquid are equally dense.
        assertEquals(3, estimate.terms().size(), estimate.terms().toString());
    }

    /** Whole pulses, standing: +-1 pulse of 1/1000 gal; display: two readings of 0.01 gal. */
    @Test
    void termsOfAStandingCatch() {
        CatchResult result = new Rehearsal(Setups.display()).result();
        Estimate measured = result.comparison().measured();
        assertEquals(GALLON / 1000 / Math.sqrt(3), Rehearsal.termLitres(measured, "count"), 1e-12);
        Rehearsal.assertNoTerm(measured, "ramps");
        Rehearsal.assertNoTerm(measured, "too fast");
        Estimate reported = result.comparison().reported();
        assertEquals(
                Math.sqrt(2) * 0.005 * GALLON / Math.sqrt(3),
                Rehearsal.termLitres(reported, "step"),
                1e-12);
    }

    /**
     * A meter below its cut-off, or a dead one: none of 600 pulses/gal to the whole pulse, flying,
     * so a meter error of -100 % good to 1 / (sqrt(3) 600 x 7.5).
     */
    @Test
    void aTruckMeterThatNeverCountsReportsNothing() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.hertz.remove(PulseLine.TRUCK);
        CatchResult result = bay.result();
        Comparison comparison = result.comparison();
        assertEquals(0, comparison.reported().volume().litres());
        assertEquals(-1, comparison.meterError().value());
        assertEquals(-1, comparison.controlError().value());
        double litres = comparison.measured().volume().litres();
        double standard = GALLON / 600 / Math.sqrt(3);
        assertEquals(standard, Rehearsal.termLitres(comparison.reported(), "count"), 1e-12);
        assertEquals(
                standard / litres,
                comparison.budget().output(Comparison.METER_ERROR).standard(),
                1e-9);
        ConstantAdvice.Keep keep =
                assertInstanceOf(ConstantAdvice.Keep.class, result.advice(), "no constant");
        assertTrue(keep.reason().contains("the controller reported nothing"), keep.reason());
        assertEquals(Optional.empty(), result.disturbance());
        Verdict.Decided verdict =
                assertInstanceOf(Verdict.Decided.class, result.verdict().orElseThrow());
        assertEquals(Verdict.Grade.FAIL, verdict.grade());
        assertTrue(
                result.notes().stream()
                        .anyMatch(note ->
                                note.contains("at a flow of 5.00 US gal/min")
                                        && note.contains("below the cut-off")
                                        && note.contains("tap on it is dead")),
                result.notes()::toString);
    }

    /** The same where flow starts and stops inside the window. */
    @Test
    void aStandingTruckMeterThatNeverCountsReportsNothing() {
        Setups setups = Setups.display();
        setups.reported = new Reported.MeterPulses();
        Rehearsal bay = new Rehearsal(setups);
        bay.hertz.remove(PulseLine.TRUCK);
        assertEquals(-1, bay.result().comparison().meterError().value());
    }

    /** Slow pulses are wrong by up to a tenth, evenly: 30 pulses x 0.1 / sqrt 3. */
    @Test
    void termOfTheRamps() {
        Setups setups = Setups.display();
        setups.scale = false;
        Rehearsal bay = new Rehearsal(setups).until("catching");
        double full = bay.hertz.get(PulseLine.REFERENCE);
        bay.run(40);
        // The range ends at 1 US gal/min = 16.7 pulses/s: 3 s at 10 pulses/s.
        bay.hertz.put(PulseLine.REFERENCE, 10.0);
        bay.run(3);
        bay.hertz.put(PulseLine.REFERENCE, full);
        bay.reportedPerMinute = 5;
        CatchResult result = bay.result();
        PulseCount.Whole whole =
                assertInstanceOf(PulseCount.Whole.class, result.count().orElseThrow());
        assertEquals(30, whole.slowPulses(), 1);
        assertEquals(
                whole.slowPulses() * 0.1 / Math.sqrt(3) * GALLON / 1000,
                Rehearsal.termLitres(result, "ramps below"),
                1e-12);
    }

    /** Fewer pulses than show their scatter are good to one pulse, however even they look. */
    @Test
    void fewPulsesClaimNoEvenness() {
        Setups setups = new Setups();
        setups.measureBy = MeasureBy.SCALE;
        setups.settleSlots = 0;
        setups.referenceLowest = 0.001;
        setups.crossCheckRatio = 2;
        setups.silenceSeconds = 130;
        setups.restLimitSeconds = 200;
        setups.purgeSeconds = 60;
        Rehearsal bay = new Rehearsal(setups);
        bay.hertz.put(PulseLine.REFERENCE, 0.09);
        CatchResult result = bay.result();
        PulseCount.DoubleTimed timed =
                assertInstanceOf(PulseCount.DoubleTimed.class, result.count().orElseThrow());
        assertTrue(timed.counted() < 10);
        assertEquals(
                GALLON / 1000 / Math.sqrt(3),
                Rehearsal.termLitres(result.byReference().orElseThrow(), "count"),
                1e-12);
    }

    // Honesty

    /**
     * Edges off their place by up to a fifth of a period: the stated count term holds the truth.
     */
    @Test
    void theCountTermHoldsTheTruth() {
        int runs = 200;
        int[] missed = new int[1];
        Seeds.forSeeds(
                runs,
                random -> {
                    Setups setups = new Setups();
                    setups.scale = false;
                    Rehearsal bay = new Rehearsal(setups);
                    CatchResult result = jittered(random, bay, random.nextDouble(0.02, 0.1));
                    double truth = LITRES_PER_SECOND * result.windowNanos() / 1e9;
                    double off = result.comparison().measured().volume().litres() - truth;
                    double stated =
                            2 * Rehearsal.termLitres(result.byReference().orElseThrow(), "count");
                    missed[0] += Math.abs(off) > stated ? 1 : 0;
                    assertTrue(Math.abs(off) < 0.3 * GALLON / 1000, "off by " + off + " L");
                });
        assertTrue(missed[0] <= runs / 20, missed[0] + " of " + runs + " outside");
    }

    /** Flow half as fast again from the middle on: the ends run at other rates than the mean. */
    @Test
    void theCountTermHoldsTheTruthOfAChangingFlow() {
        int runs = 200;
        int[] missed = new int[1];
        double[] worst = new double[1];
        Seeds.forSeeds(
                runs,
                random -> {
                    Setups setups = new Setups();
                    setups.scale = false;
                    setups.purgeSeconds = random.nextDouble(10, 11);
                    Rehearsal bay = new Rehearsal(setups).until("catching");
                    double slow = bay.hertz.get(PulseLine.REFERENCE);
                    long open = ((RunState.Catching) bay.state).openNanos();
                    bay.run(45);
                    long change = bay.now();
                    bay.hertz.put(PulseLine.REFERENCE, slow * 1.5);
                    CatchResult result = bay.result();
                    long close = open + result.windowNanos();
                    double truth = slow * ((change - open) + 1.5 * (close - change)) / 1e9;
                    PulseCount.DoubleTimed timed =
                            assertInstanceOf(
                                    PulseCount.DoubleTimed.class, result.count().orElseThrow());
                    double off = Math.abs(timed.pulses() - truth);
                    double stated = 2 * Rehearsal.termLitres(result, "count") * 1000 / GALLON;
                    missed[0] += off > stated ? 1 : 0;
                    worst[0] = Math.max(worst[0], off);
                });
        assertTrue(missed[0] <= runs / 20, missed[0] + " of " + runs + " outside");
        assertTrue(worst[0] > 0.1, "the ends matter here: " + worst[0]);
    }

    private static CatchResult jittered(RandomGenerator random, Rehearsal bay, double jitter) {
        bay.hertz.remove(PulseLine.REFERENCE);
        bay.until("purging");
        double period = 12e6;
        long number = 0;
        double place = bay.now() + random.nextDouble() * period;
        long stamp = off(random, place, jitter * period);
        while (!(bay.state instanceof RunState.Ended)) {
            bay.turn();
            while (stamp <= bay.now()) {
                bay.give(new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(number++, stamp)));
                place += period;
                stamp = off(random, place, jitter * period);
            }
        }
        return bay.result();
    }

    private static long off(RandomGenerator random, double place, double reach) {
        return Math.round(place + (random.nextDouble() * 2 - 1) * reach);
    }

    /**
     * Readings rounded to the display's step: 95 of 100 catches lie within twice the stated term.
     */
    @Test
    void theScaleTermHoldsTheTruth() {
        int runs = 400;
        int[] missed = new int[1];
        Seeds.forSeeds(
                runs,
                random -> {
                    Setups setups = Setups.scaleOnly();
                    setups.reported = Setups.line();
                    setups.catchSeconds = random.nextDouble(60, 90);
                    Rehearsal bay = new Rehearsal(setups);
                    bay.startKilograms = random.nextDouble(10, 30);
                    CatchResult result = bay.result();
                    Estimate scale = result.byScale().orElseThrow();
                    double off = scale.volume().litres() - bay.caughtLitres();
                    missed[0] +=
                            Math.abs(off) > 2 * Rehearsal.termLitres(scale, "resolution") ? 1 : 0;
                    assertTrue(Math.abs(off) <= 0.05 / 8 + 1e-9, "off by " + off + " L");
                });
        assertTrue(missed[0] <= runs / 20, missed[0] + " of " + runs + " outside");
    }

    /**
     * With end switches only, the stream may cross anywhere in the travel of 0.4 s. Crossing at the
     * very end costs half of both travels, which is what the term's half-width allows.
     */
    @Test
    void theSplitTermReachesTheWorstCrossing() {
        Setups setups = new Setups();
        setups.diverter = Optional.of(Feedback.ENDS);
        setups.measureBy = MeasureBy.SCALE;
        setups.resolutionKilograms = 0.001;
        setups.restBandKilograms = 0.001;
        CatchResult result = new Rehearsal(setups).result();
        double seconds = result.windowNanos() / 1e9;
        double worst = LITRES_PER_SECOND * 0.4;
        assertEquals(worst / Math.sqrt(3), Rehearsal.termLitres(result, "split"), worst * 1e-2);
        // The stream of this rehearsal goes to the tank on arriving and back on arriving: no error.
        assertEquals(
                LITRES_PER_SECOND * seconds,
                result.comparison().measured().volume().litres(),
                0.03 * LITRES_PER_SECOND);
        assertTrue(
                2 * Math.sqrt(3) * Rehearsal.termLitres(result, "split") >= worst,
                "the term covers it");
    }

    /** A running total interpolated between steps of 0.05 gal every 0.5 s, phase at random. */
    @Test
    void theTotalsTermsHoldTheTruth() {
        int runs = 200;
        int[] missed = new int[1];
        Seeds.forSeeds(
                runs,
                random -> {
                    Setups setups = new Setups();
                    setups.scale = false;
                    setups.purgeSeconds = random.nextDouble(5, 10);
                    setups.reported =
                            new Reported.RunningLine(
                                    Volume.ofUsGallons(0.05), 0, 2 * Setups.SECOND);
                    Rehearsal bay = new Rehearsal(setups);
                    bay.totalStep = 0.05;
                    bay.startTotal = random.nextDouble(100);
                    CatchResult result = bay.result();
                    Estimate reported = result.comparison().reported();
                    double truth = LITRES_PER_SECOND * result.windowNanos() / 1e9;
                    double off = Math.abs(reported.volume().litres() - truth);
                    missed[0] += off > reported.expanded().litres() ? 1 : 0;
                });
        assertTrue(missed[0] <= runs / 20, missed[0] + " of " + runs + " outside");
    }

    // Fallback, cross-check, advice

    @Test
    void anUnevenTrainIsReadWholeAndSaysSo() {
        Setups setups = new Setups();
        setups.scale = false;
        setups.settleSlots = 0;
        Rehearsal bay = new Rehearsal(setups);
        bay.hertz.put(PulseLine.TRUCK, 5.0 / 60 * 630);
        CatchResult result = jittered(Seeds.generator(1), bay, 0.19);
        PulseCount.Whole whole =
                assertInstanceOf(PulseCount.Whole.class, result.count().orElseThrow());
        assertEquals(
                whole.counted() * GALLON / 1000,
                result.comparison().measured().volume().litres(),
                1e-9);
        assertEquals(
                GALLON / 1000 * Math.sqrt((1 + 2 * whole.scatter() * whole.scatter()) / 3),
                Rehearsal.termLitres(result, "count"),
                1e-9);
        assertTrue(result.notes().toString().contains("scatters by"), result.notes().toString());
        ConstantAdvice.Keep keep = assertInstanceOf(ConstantAdvice.Keep.class, result.advice());
        assertTrue(keep.reason().contains("uneven"), keep.reason());
    }

    /**
     * The allowance is the set 1 % and twice the readings' own terms: just inside and just outside.
     */
    @Test
    void theCrossCheckHasItsLimit() {
        for (double off : new double[] {0.985, 0.9905, 1.0095, 1.015}) {
            Rehearsal bay = new Rehearsal(new Setups());
            bay.hertz.computeIfPresent(PulseLine.REFERENCE, (l, f) -> f * off);
            boolean within = bay.outcome() instanceof Outcome.Measured;
            assertEquals(Math.abs(off - 1) < 0.01, within, "reference off by " + off);
        }
    }

    /** The scale's volume of a real liquid: buoyancy and density enter once each. */
    @Test
    void buoyancyEntersTheScale() {
        Setups setups = Setups.scaleOnly();
        setups.density = new Density(1179.9525);
        setups.resolutionKilograms = 1e-6;
        setups.restBandKilograms = 1e-6;
        Rehearsal bay = new Rehearsal(setups);
        CatchResult result = bay.result();
        double net = result.netReading().orElseThrow().kilograms();
        double factor = (1 - 1.2 / 8000) / (1 - 1.2 / 1179.9525);
        assertEquals(
                net * factor / 1.1799525, result.comparison().measured().volume().litres(), 1e-9);
        assertEquals(bay.caughtLitres() * 1.1799525, net, 2e-6);
    }

    /** Half of the readings in the tank's rest may be one step up: their mean is what is taken. */
    @Test
    void aFlickeringDigitIsAveraged() {
        Rehearsal bay = new Rehearsal(Setups.scaleOnly());
        int[] frame = new int[1];
        bay.frames =
                f ->
                        f instanceof ScaleFrame.Weight w && !w.inMotion()
                                ? new ScaleFrame.Weight(
                                        w.amount() + 0.05 * (frame[0]++ % 2),
                                        w.unit(),
                                        false,
                                        false)
                                : f;
        CatchResult result = bay.result();
        assertEquals(
                bay.caughtLitres(),
                result.comparison().measured().volume().litres(),
                0.05 / 8 + 1e-9);
    }

    @Test
    void everyMeasuredCatchSaysItsBases() {
        for (Setups setups : List.of(new Setups(), Setups.display(), Setups.scaleOnly())) {
            CatchResult result = new Rehearsal(setups).result();
            assertTrue(!result.askedBasis().isBlank() && !result.reportedBasis().isBlank());
            assertEquals(
                    result.comparison().measured().volume(),
                    (setups.measureBy == MeasureBy.REFERENCE
                                    ? result.byReference()
                                    : result.byScale())
                            .orElseThrow()
                            .volume());
            assertEquals(LITRES_PER_SECOND, result.flow().litresPerSecond(), 0.005);
        }
    }

    // What is known of a bay's errors

    private static CatchResult resultWith(Doubts doubts) {
        Setups setups = new Setups();
        setups.doubts = doubts;
        return new Rehearsal(setups).result();
    }

    private static Doubts with(Doubts.Diverter diverter, Doubts.Temperatures temperatures) {
        Doubts none = Setups.NONE;
        return new Doubts(
                none.reference(),
                none.scale(),
                diverter,
                temperatures,
                none.line(),
                none.speed(),
                none.salt(),
                none.scatter());
    }

    /**
     * Liquid runs into the tank 0.9 s longer than the window: of what is caught in t + 0.9 s the
     * part of t is wanted, M t / (t + d) (ISO 4185 Annex A, from memory). The meter is gated by the
     * stamps and stays.
     */
    @Test
    void theDivertersTimingErrorIsOfTheScaleAlone() {
        CatchResult plain = resultWith(Setups.NONE);
        CatchResult late =
                resultWith(
                        with(
                                new Doubts.Diverter(0.9, 0.09, "by the test"),
                                Setups.NONE.temperatures()));
        double seconds = plain.windowNanos() / 1e9;
        assertEquals(
                plain.byScale().orElseThrow().volume().litres() * seconds / (seconds + 0.9),
                late.byScale().orElseThrow().volume().litres(),
                1e-12);
        assertEquals(plain.byReference(), late.byReference());
        // Half-width 0.09 s, evenly spread, in t + d.
        assertEquals(
                late.byScale().orElseThrow().volume().litres()
                        * 0.09
                        / Math.sqrt(3)
                        / (seconds + 0.9),
                Rehearsal.termLitres(late.byScale().orElseThrow(), "timing"),
                1e-7);
    }

    /**
     * Liquid that is 10 K warmer at the truck's meter than at the reference takes more room there:
     * 0.45 % for a brine of 0.00045 per kelvin.
     */
    @Test
    void volumesAreThoseAtTheTrucksMeter() {
        CatchResult plain = resultWith(Setups.NONE);
        Doubts.Temperatures warmer =
                new Doubts.Temperatures(
                        Optional.of(new Temperature(20)),
                        Optional.of(new Temperature(10)),
                        Optional.empty(),
                        2,
                        Optional.of(0.000_45),
                        Doubts.Sensors.NONE);
        CatchResult warm = resultWith(with(Setups.NONE.diverter(), warmer));
        double litres = plain.byReference().orElseThrow().volume().litres();
        assertEquals(litres * 1.0045, warm.byReference().orElseThrow().volume().litres(), 1e-12);
        assertEquals(
                litres * 0.000_45 * 2 / Math.sqrt(3),
                Rehearsal.termLitres(warm.byReference().orElseThrow(), "truck meter against"),
                1e-9);
        // The expansion itself is good to a tenth: of 0.45 % that is 0.045 %, evenly.
        assertEquals(
                litres * 0.000_45 / Math.sqrt(3),
                Rehearsal.termLitres(warm.byReference().orElseThrow(), "expansion"),
                1e-9);
        // The scale's volume is brought there too, so that both still say the same.
        assertEquals(
                plain.byScale().orElseThrow().volume().litres() * 1.0045,
                warm.byScale().orElseThrow().volume().litres(),
                1e-12);
        assertEquals(
                plain.disagreement().orElseThrow().value(),
                warm.disagreement().orElseThrow().value(),
                1e-12);
    }

    /** What is common to both volumes: the line's storage shifts them together. */
    @Test
    void bothInstrumentsShareTheLine() {
        Doubts none = Setups.NONE;
        Doubts doubts =
                new Doubts(
                        none.reference(),
                        none.scale(),
                        none.diverter(),
                        none.temperatures(),
                        new Doubts.Line(Volume.ZERO, new Volume(0.3), 0),
                        none.speed(),
                        none.salt(),
                        none.scatter());
        CatchResult result = resultWith(doubts);
        double swell = 0.3 / Math.sqrt(3);
        for (Estimate estimate :
                List.of(result.byReference().orElseThrow(), result.byScale().orElseThrow())) {
            assertEquals(swell, Rehearsal.termLitres(estimate, "swelling"), 1e-12);
        }
        double covariance =
                result.comparison()
                        .budget()
                        .covariance(Comparison.BY_REFERENCE, Comparison.BY_SCALE);
        assertEquals(swell * swell, covariance, 1e-9);
    }

    /** A reason that a manager gave stands in the result, with his name and the date. */
    @Test
    void anOverrideFollowsTheRecord() {
        Setups setups = new Setups();
        setups.session =
                new Session(
                        Optional.of("M. Example"),
                        Session.Stage.AS_LEFT,
                        Optional.of("it is booked for Friday"));
        setups.day = LocalDate.of(2026, 12, 1);
        List<String> notes = new Rehearsal(setups).result().notes();
        assertEquals(
                "Used by decision of M. Example (it is booked for Friday), although out of date:"
                        + " reference, certificate of R-7 expired on 2026-11-02 and the run is on"
                        + " 2026-12-01.",
                notes.getFirst());
        assertEquals(2, notes.size(), notes.toString());
    }

    /**
     * A total is from nothing to its lag behind, evenly spread: of the difference of two a standard
     * deviation of sqrt(2) lag/sqrt(12) times the flow (JCGM 100:2008, 4.3.7, and eq. 10), of which
     * reading each end between two totals leaves sqrt(1/2) at least.
     */
    @Test
    void aTotalLagsAndNeverLeads() {
        Setups setups = new Setups();
        setups.reported = Setups.line();
        CatchResult result = new Rehearsal(setups).result();
        double lagSeconds = setups.reported.lagNanos() / 1e9;
        double ofTwo = result.flow().litresPerSecond() * lagSeconds / Math.sqrt(6);
        double term = Rehearsal.termLitres(result.comparison().reported(), "lag");
        assertTrue(term >= ofTwo * Math.sqrt(0.5) && term <= ofTwo, term + " of " + ofTwo);
    }
}

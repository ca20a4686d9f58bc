package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.ConstantAdvice;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.Feedback;
import catchbay.run.RunSetup.Reported;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.BiConsumer;

/** What comes too early, too late, twice, or from a hand that slipped. */
final class UntowardTest {

    private static Cause cause(Rehearsal bay) {
        Outcome outcome = bay.outcome();
        return assertInstanceOf(Outcome.Void.class, outcome, outcome.reason()).cause();
    }

    // The diverter's switches

    @Test
    void aTriggerStampedBeforeTheCommandDoesNotOpenTheWindow() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.flapMoves = false;
        bay.until("opening");
        long commanded = ((RunState.Opening) bay.state).commandedNanos();
        bay.give(new RunInput.Contact(commanded - 1, BayContact.DIVERTER_TRIGGER, true));
        assertEquals("opening", bay.state.key());
        assertEquals(Cause.DIVERTER_NOT_ARRIVED, cause(bay));
    }

    @Test
    void aTriggerStampedBeforeTheCommandDoesNotCloseTheWindow() {
        Rehearsal bay = new Rehearsal(new Setups()).until("catching");
        bay.flapMoves = false;
        bay.until("closing");
        long commanded = ((RunState.Closing) bay.state).commandedNanos();
        bay.give(new RunInput.Contact(commanded - 1, BayContact.DIVERTER_TRIGGER, false));
        assertEquals("closing", bay.state.key());
        assertEquals(Cause.DIVERTER_NOT_ARRIVED, cause(bay));
    }

    /** The contact's stamp counts, not when it is told: edges between are held back and sorted. */
    @Test
    void aTriggerToldLateIsTakenAtItsStamp() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.flapMoves = false;
        bay.until("opening");
        long stamp = ((RunState.Opening) bay.state).commandedNanos() + Setups.nanos(0.3);
        bay.run(1.5).in(0, new RunInput.Contact(stamp, BayContact.DIVERTER_TRIGGER, true)).turn();
        RunState.Catching catching = assertInstanceOf(RunState.Catching.class, bay.state);
        assertEquals(stamp, catching.openNanos());
        long pulses = catching.sensed().lines().reference().inside().pulses();
        assertEquals(1.2 * 1000 / 12, pulses, 4, "those after the stamp are inside");
        bay.flapMoves = true;
        bay.until("closing").until("trailing");
    }

    @Test
    void chatterWhileTheFlapTravelsChangesNothing() {
        Rehearsal bay = new Rehearsal(new Setups()).until("catching");
        for (double at : new double[] {0.002, 0.006, 0.011}) {
            bay.contactIn(at, BayContact.DIVERTER_TRIGGER, false)
                    .contactIn(at + 0.001, BayContact.DIVERTER_TRIGGER, true);
        }
        bay.until("trailing");
        for (double at : new double[] {0.002, 0.006}) {
            bay.contactIn(at, BayContact.DIVERTER_TRIGGER, true)
                    .contactIn(at + 0.001, BayContact.DIVERTER_TRIGGER, false);
        }
        CatchResult calm = new Rehearsal(new Setups()).result();
        assertEquals(calm, bay.result());
    }

    /** An end switch that shakes at the command closes again: the flap left when it last opened. */
    @Test
    void aShakenEndSwitchIsNotTheLeaving() {
        Setups setups = new Setups();
        setups.diverter = Optional.of(Feedback.ENDS);
        Rehearsal bay = new Rehearsal(setups);
        bay.flapMoves = false;
        bay.until("opening");
        long commanded = bay.now();
        bay.contactIn(0.1, BayContact.DIVERTER_AT_BYPASS, false)
                .contactIn(0.11, BayContact.DIVERTER_AT_BYPASS, true)
                .contactIn(1.1, BayContact.DIVERTER_AT_BYPASS, false)
                .contactIn(1.5, BayContact.DIVERTER_AT_TANK, true);
        bay.until("catching");
        assertEquals(commanded + Setups.nanos(1.3), ((RunState.Catching) bay.state).openNanos());
    }

    @Test
    void arrivingWithoutLeavingDoesNotOpenTheWindow() {
        Setups setups = new Setups();
        setups.diverter = Optional.of(Feedback.ENDS);
        Rehearsal bay = new Rehearsal(setups);
        bay.flapMoves = false;
        bay.until("opening").contactIn(0.5, BayContact.DIVERTER_AT_TANK, true);
        assertEquals(Cause.DIVERTER_NOT_ARRIVED, cause(bay));
    }

    // Edges

    @Test
    void tooManyEdgesWhileTheDiverterTravelsSpoilTheRun() {
        Setups setups = new Setups();
        setups.scale = false;
        Rehearsal bay = new Rehearsal(setups).until("opening");
        long next = bay.state.sensed().lines().reference().before().lastSequence() + 1;
        long[] flood = new long[PulseGate.HELD_EDGES_MAX + 1];
        Arrays.fill(flood, bay.now());
        bay.hertz.remove(PulseLine.REFERENCE);
        bay.give(new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(next, flood)));
        assertEquals(Cause.WINDOW_UNUSABLE, cause(bay));
    }

    @Test
    void aDripAfterAStandingWindowIsNotPassedOver() {
        Rehearsal bay = new Rehearsal(Setups.display()).until("dripping");
        long next = bay.state.sensed().lines().reference().inside().lastSequence() + 1;
        bay.give(new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(next, bay.now())));
        assertEquals(Cause.WINDOW_UNUSABLE, cause(bay));
    }

    /** A truck's meter that bounces at every pulse does not report twice what it should. */
    @Test
    void aBouncingTruckMeterIsNotBelieved() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.hertz.remove(PulseLine.TRUCK);
        bay.until("settling");
        long number = 0;
        long stamp = bay.now();
        while (!(bay.state instanceof RunState.Ended)) {
            bay.turn();
            while (stamp + 20_200_000L <= bay.now()) {
                stamp += 20_000_000L;
                bay.give(
                        new RunInput.Edges(
                                PulseLine.TRUCK, EdgeBatch.of(number, stamp, stamp + 200_000L)));
                number += 2;
            }
        }
        assertEquals(Cause.PULSES_LEAP, cause(bay));
    }

    /**
     * Bounces of a standing catch cannot be told from fast flow: each is then a whole pulse unsure.
     */
    @Test
    void bouncesOfAStandingCatchAreUnsure() {
        Rehearsal bay = new Rehearsal(Setups.display()).until("catching");
        bay.run(10);
        for (int i = 0; i < 20; i++) {
            long last = bay.state.sensed().lines().reference().inside().lastSequence();
            long stamp = bay.state.sensed().lines().reference().inside().lastNanos() + 100_000L;
            bay.give(new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(last + 1, stamp)));
            bay.skipNumber(PulseLine.REFERENCE).run(0.5);
        }
        double standard = Rehearsal.termLitres(bay.result(), "too fast for its range");
        assertEquals(20, standard * 1000 / 3.785411784 * Math.sqrt(3), 1e-9);
    }

    // The display

    @Test
    void liquidBetweenTheWeighingAndTheTypingIsNotInOneAmountOnly() {
        Rehearsal before = new Rehearsal(Setups.display()).until("reading").spill(0.5);
        assertEquals(Cause.NOT_AT_REST, cause(before));
        Rehearsal after =
                new Rehearsal(Setups.display()).until("weighing").until("reading").spill(0.5);
        assertEquals(Cause.NOT_AT_REST, cause(after));
        String reason = ((RunState.Ended) after.state).outcome().reason();
        assertTrue(reason.contains("while the truck's display was read"), reason);
    }

    /**
     * A gust while the display is read: the tank is weighed once more, and nothing is asked again.
     */
    @Test
    void aGustWhileTheDisplayIsReadIsWaitedOut() {
        Rehearsal bay = new Rehearsal(Setups.display());
        for (String before : List.of("resting", "weighing")) {
            bay.until(before).until("reading").commands();
            bay.frames = f -> new ScaleFrame.Weight(20, MassUnit.KILOGRAM, false, true);
            bay.run(1.2);
            assertEquals(before, bay.state.key());
            bay.frames = f -> f;
            bay.run(1);
            assertEquals(before, bay.state.key());
        }
        CatchResult result = bay.result();
        assertEquals(0, result.comparison().meterError().value(), 0.003);
        assertEquals(2, bay.inputs.stream().filter(i -> i instanceof RunInput.TotalTyped).count());
    }

    @Test
    void aPulseOrAMovedFlapBeforeTheTotalIsTypedEndsTheRun() {
        Setups setups = Setups.display();
        setups.scale = false;
        Rehearsal pulsed = new Rehearsal(setups).until("reading");
        pulsed.give(new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(0, pulsed.now())));
        assertEquals(Cause.NOT_AT_REST, cause(pulsed));
        setups.diverter = Optional.of(Feedback.TRIGGER);
        Rehearsal moved = new Rehearsal(setups).until("reading");
        moved.contactIn(0.1, BayContact.DIVERTER_TRIGGER, false);
        assertEquals(Cause.DIVERTER_MOVED, cause(moved));
    }

    @Test
    void totalsTypedAtAnotherTimeAreNotTaken() {
        Rehearsal whole = new Rehearsal(Setups.display());
        CatchResult expected = whole.result();
        RunState state = RunMachine.begin(whole.setup);
        for (RunInput input : whole.inputs) {
            if (!(state instanceof RunState.Reading)) {
                RunStep early =
                        RunMachine.step(
                                state,
                                new RunInput.TotalTyped(input.atNanos(), Volume.ofUsGallons(9)));
                assertEquals(state, early.state());
                assertEquals(List.of(), early.commands());
                assertEquals(
                        state,
                        RunMachine.step(state, new RunInput.SaltTyped(input.atNanos(), new Mass(9)))
                                .state());
            }
            state = RunMachine.step(state, input).state();
        }
        assertEquals(new Outcome.Measured(expected), ((RunState.Ended) state).outcome());
    }

    @Test
    void farFromAskedIsTypedTwice() {
        Rehearsal bay = new Rehearsal(Setups.display());
        bay.reportedPerMinute = 8;
        bay.until("comparing");
        assertTrue(
                bay.inputs.stream().filter(i -> i instanceof RunInput.TotalTyped).count() == 3,
                "before, after and again");
        assertEquals(0.6, bay.result().comparison().meterError().value(), 0.01);
    }

    // The scale

    @Test
    void aScaleThatShowsNetThroughoutIsAsGood() {
        Rehearsal bay = new Rehearsal(Setups.scaleOnly());
        bay.frames =
                frame ->
                        frame instanceof ScaleFrame.Weight w
                                ? new ScaleFrame.Weight(
                                        w.amount() - 50, MassUnit.KILOGRAM, true, w.inMotion())
                                : frame;
        CatchResult net = bay.result();
        assertEquals(
                new Rehearsal(Setups.scaleOnly())
                        .result()
                        .comparison()
                        .measured()
                        .volume()
                        .litres(),
                net.comparison().measured().volume().litres(),
                1e-9);
    }

    // Side pulses

    /**
     * A text protocol has no check: a bad wire turns one digit into another. At rest such a reading
     * begins the rest anew, or lies within the band and moves the mean by no more than the band.
     * (Above the capacity it ends the run: OutcomeTest.)
     */
    @Test
    void aChangedDigitCostsTimeButNeverTheTruth() {
        double clean =
                new Rehearsal(Setups.scaleOnly())
                        .result()
                        .comparison()
                        .measured()
                        .volume()
                        .litres();
        int measured = 0;
        int hit = 0;
        for (int seed = 0; seed < 60; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            Rehearsal bay = new Rehearsal(Setups.scaleOnly());
            int[] changed = new int[1];
            bay.frames =
                    frame -> {
                        if (random.nextInt(25) > 0) {
                            return frame;
                        }
                        changed[0]++;
                        ScaleFrame.Weight weight = (ScaleFrame.Weight) frame;
                        double step = StrictMath.pow(10, random.nextInt(-2, 2));
                        return new ScaleFrame.Weight(
                                weight.amount() + step * random.nextInt(1, 10),
                                weight.unit(),
                                weight.net(),
                                weight.inMotion());
                    };
            if (bay.outcome() instanceof Outcome.Measured(CatchResult result)) {
                measured++;
                double band = bay.setup.scale().orElseThrow().restBand().kilograms();
                double density = bay.setup.liquid().density().kilogramsPerCubicMetre() / 1000;
                assertEquals(
                        clean,
                        result.comparison().measured().volume().litres(),
                        2 * band / density,
                        "seed " + seed);
                hit += changed[0] > 0 ? 1 : 0;
            }
        }
        assertTrue(measured == 60 && hit > 30, measured + " measured, " + hit + " with changes");
    }

    @Test
    void sidePulsesThatCannotBeCountedAreNotPassedOver() {
        Rehearsal bay = new Rehearsal(new Setups()).until("catching").run(5);
        long last = bay.state.sensed().lines().speed().inside().lastSequence();
        bay.hertz.remove(PulseLine.SPEED);
        bay.give(new RunInput.Edges(PulseLine.SPEED, EdgeBatch.of(last + 5, bay.now())));
        CatchResult result = bay.result();
        assertTrue(
                result.notes().stream().anyMatch(n -> n.contains("speed pulses were not used")),
                result.notes()::toString);
        assertTrue(result.askedBasis().contains("not counted back"), result.askedBasis());
    }

    // The advice

    @Test
    void unevenOrUnsteadyFlowCarriesNoConstant() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.hertz.put(PulseLine.TRUCK, 5.0 / 60 * 630);
        bay.until("catching").run(30);
        bay.hertz.computeIfPresent(PulseLine.REFERENCE, (l, f) -> f * 1.06);
        bay.run(6);
        bay.hertz.computeIfPresent(PulseLine.REFERENCE, (l, f) -> f / 1.06);
        ConstantAdvice.Keep keep =
                assertInstanceOf(ConstantAdvice.Keep.class, bay.result().advice());
        assertTrue(keep.reason().contains("unsteady"), keep.reason());
    }

    // Numbers

    /**
     * The longest durations at the latest stamps: no sum leaves 64 bits and ends a catch at once.
     */
    @Test
    void theLongestDurationsAtTheLatestStamps() {
        Setups setups = new Setups();
        double day = RunSetup.DURATION_NANOS_MAX / 1e9;
        setups.scale = false;
        setups.settleSlots = 0;
        setups.purgeSeconds = day;
        setups.catchSeconds = day;
        setups.answerSeconds = day;
        RunState state = RunMachine.begin(setups.build());
        long at = RunInput.AT_NANOS_MAX - RunSetup.DURATION_NANOS_MAX - 5;
        List<RunInput> inputs = new ArrayList<>();
        inputs.add(new RunInput.Turn(at));
        inputs.add(new RunInput.ChecklistConfirmed(at, "a technician"));
        for (RunInput input : inputs) {
            state = RunMachine.step(state, input).state();
        }
        state = RunMachine.step(state, new RunInput.Turn(RunInput.AT_NANOS_MAX - 6)).state();
        assertEquals("purging", state.key());
        long late = RunInput.AT_NANOS_MAX - 5;
        state = RunMachine.step(state, new RunInput.Turn(late)).state();
        assertEquals("settling", state.key());
        state =
                RunMachine.step(
                                state,
                                new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(0, late)))
                        .state();
        state = RunMachine.step(state, new RunInput.Turn(late)).state();
        assertEquals("opening", state.key());
        state =
                RunMachine.step(
                                state,
                                new RunInput.Contact(late + 1, BayContact.DIVERTER_TRIGGER, true))
                        .state();
        state = RunMachine.step(state, new RunInput.Turn(RunInput.AT_NANOS_MAX)).state();
        assertEquals("catching", state.key());
    }

    @Test
    void impossibleStampsAreRefused() {
        for (long at : new long[] {-1, Long.MIN_VALUE, RunInput.AT_NANOS_MAX + 1}) {
            for (Runnable bad :
                    List.<Runnable>of(
                            () -> new RunInput.Turn(at),
                            () -> new RunInput.Contact(at, BayContact.SPILL, true),
                            () -> new RunInput.Scale(at, new ScaleFrame.NoWeight("none")),
                            () -> new RunInput.ControllerTotal(at, Volume.ZERO),
                            () -> new RunInput.Unread(at, "scale", 1, 0, "Rubbish."),
                            () -> new RunInput.ChecklistConfirmed(at, "a technician"),
                            () -> new RunInput.Done(at, Question.STOP_FLOW),
                            () -> new RunInput.TotalTyped(at, Volume.ZERO),
                            () -> new RunInput.SaltTyped(at, new Mass(1)),
                            () -> new RunInput.StopPressed(at, "a technician"),
                            () -> new RunInput.PortFailed(at, "scale", "Broken."),
                            () -> new RunInput.TraceDurable(at, 0),
                            () -> new RunInput.TraceFailed(at, "Full."))) {
                assertThrows(IllegalArgumentException.class, bad::run);
            }
        }
        assertThrows(
                IllegalArgumentException.class,
                () -> new RunInput.Edges(PulseLine.TRUCK, EdgeBatch.of(0, Long.MAX_VALUE)));
        assertThrows(IllegalArgumentException.class, () -> new RunInput.ChecklistConfirmed(0, " "));
    }

    @Test
    void impossiblePartsOfASetupAreRefused() {
        RunSetup fits = new Setups().build();
        RunSetup.Reference meter = fits.reference().orElseThrow();
        RunSetup.Scale scale = fits.scale().orElseThrow();
        for (double bad : new double[] {Double.NaN, Double.POSITIVE_INFINITY, -1}) {
            refused(() -> reference(meter, 0, bad, 1.7, 0.1));
            refused(() -> reference(meter, 0, 1000, bad, 0.1));
            refused(() -> reference(meter, 0, 1000, 1.7, bad));
            refused(() -> new RunSetup.Liquid("x", new Density(1000), bad, new Density(1)));
            refused(() -> new Application.Direct(null, bad));
            refused(() ->
                    new RunSetup.Asked(fits.asked().application(), new Speed(1), Optional.of(bad)));
            refused(() -> new BayCommand.GroundSpeed(bad));
            refused(() -> new BayCommand.Feeder(bad));
        }
        for (long bad : new long[] {-1, RunSetup.DURATION_NANOS_MAX + 1, Long.MAX_VALUE}) {
            refused(() -> reference(meter, bad, 1000, 1.7, 0.1));
            refused(() -> new RunSetup.Diverter(Feedback.ENDS, bad));
            refused(() -> scale(scale, 0.1, 0.1, 100, bad, 1));
            refused(() -> scale(scale, 0.1, 0.1, 100, 1, bad));
            refused(() -> new RunSetup.Truck("T", fits.truck().constant(), null, bad));
            refused(() -> new Reported.Display(Volume.ZERO, bad, Ratio.ZERO));
            refused(() -> new Reported.RunningLine(Volume.ZERO, bad, 1));
            refused(() -> new Reported.RunningLine(Volume.ZERO, 1, bad));
        }
        for (double bad : new double[] {0, -1}) {
            refused(() -> scale(scale, bad, 0.1, 100, 1, 1));
            refused(() -> scale(scale, 0.1, bad, 100, 1, 1));
            refused(() -> scale(scale, 0.1, 0.1, bad, 1, 1));
            refused(() -> Setups.preWet(true, Optional.of(new Mass(bad))));
        }
        refused(() -> new RunSetup.Diverter(Feedback.ENDS, 0));
        refused(() -> new Reported.Display(Volume.ZERO, 0, new Ratio(-0.1)));
        refused(() -> new RunSetup.Liquid("x", new Density(1), 0, new Density(1)));
        assertDoesNotThrow(() -> scale(scale, 0.1, 0.1, 100, 0, 1));
    }

    @Test
    void impossiblePlansAreRefused() {
        List<BiConsumer<Setups, Double>> parts =
                List.of(
                        (s, v) -> s.purgeSeconds = v,
                        (s, v) -> s.catchSeconds = v,
                        (s, v) -> s.silenceSeconds = v,
                        (s, v) -> s.dripSeconds = v,
                        (s, v) -> s.restLimitSeconds = v,
                        (s, v) -> s.drainSeconds = v,
                        (s, v) -> s.settleLimitSeconds = v,
                        (s, v) -> s.answerSeconds = v);
        for (double bad : new double[] {-1, 86_401, 1e12}) {
            for (var part : parts) {
                Setups setups = new Setups();
                part.accept(setups, bad);
                refused(setups::build);
            }
        }
        for (double bad : new double[] {-0.1, Double.NaN, Double.POSITIVE_INFINITY}) {
            Setups setups = new Setups();
            setups.rampShareMax = bad;
            refused(setups::build);
        }
        for (int bad : new int[] {-1, RunSetup.SETTLE_SLOTS_MAX + 1}) {
            Setups setups = new Setups();
            setups.settleSlots = bad;
            refused(setups::build);
        }
    }

    private static void refused(Executable making) {
        String message = assertThrows(IllegalArgumentException.class, making).getMessage();
        assertTrue(message.contains("must") || message.contains("cannot"), message);
    }

    private static RunSetup.Reference reference(
            RunSetup.Reference like, long debounce, double most, double leap, double even) {
        return new RunSetup.Reference(
                like.certificate(), like.curve(), debounce, most, leap, even, false);
    }

    private static RunSetup.Scale scale(
            RunSetup.Scale like,
            double step,
            double band,
            double capacity,
            long rest,
            long silent) {
        return new RunSetup.Scale(
                like.certificate(),
                MassUnit.KILOGRAM,
                new Mass(step),
                new Mass(capacity),
                new Mass(band),
                rest,
                silent);
    }
}

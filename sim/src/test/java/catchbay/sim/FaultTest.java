package catchbay.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.ConstantAdvice.Control;
import catchbay.port.PortException;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Divert;
import catchbay.run.BayCommand.GroundSpeed;
import catchbay.run.BayCommand.Way;
import catchbay.run.BayContact;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.FlowBy;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;

final class FaultTest {

    private static final long START = 10_000_000_000L;
    private static final long SECOND = 1_000_000_000L;
    private static final double FLOW = 1;

    @Test
    void theTextOfAFaultReadsBack() {
        for (FaultKind kind : FaultKind.values()) {
            Fault fault =
                    new Fault(
                            kind,
                            Fault.Since.RUN,
                            1_500_000_001L,
                            250_000_000L,
                            0.25,
                            PulseLine.TRUCK);
            assertEquals(fault, Fault.parsed(fault.text()));
            assertTrue(!kind.causes().isEmpty() && !kind.words().isBlank());
        }
        assertEquals(
                new Fault(FaultKind.SPILL, Fault.Since.CATCH, 0, 0, 0, PulseLine.REFERENCE),
                Fault.parsed(" spill "));
        refused("earthquake", "unknown fault 'earthquake'");
        refused("spill since=never", "since=run or since=catch, not never");
        refused("spill size=much", "'size=much' of a fault needs a number");
        refused("spill colour=red", "has 'colour=red'");
        refused("spill size=-1", "must be >= 0");
    }

    private static void refused(String text, String sentence) {
        IllegalArgumentException refusal =
                assertThrows(IllegalArgumentException.class, () -> Fault.parsed(text));
        assertTrue(refusal.getMessage().contains(sentence), refusal.getMessage());
    }

    private static World world(RunSetup setup, String... faults) {
        List<Fault> parsed = List.of(faults).stream().map(Fault::parsed).toList();
        return new World(setup, Setups.plainOptions(setup, 3, 0, 0).with(parsed), START);
    }

    private static RunSetup setup() {
        return Setups.plain(FLOW, Control.OPEN_LOOP, FlowBy.GROUND_SPEED);
    }

    /** Runs a minute with a catch of 30 s in it; everything that the ports gave. */
    private static List<RunInput> minute(World world) throws PortException {
        List<RunInput> inputs = new ArrayList<>();
        world.perform(new GroundSpeed(20));
        for (long now = START; now <= START + 60 * SECOND; now += SECOND / 10) {
            world.advance(now);
            if (now == START + 20 * SECOND) {
                world.perform(new Divert(Way.TANK));
            }
            if (now == START + 50 * SECOND) {
                world.perform(new Divert(Way.BYPASS));
            }
            world.drainContacts(inputs::add);
            world.drainPulses(inputs::add);
            world.drainScale(inputs::add);
            world.drainController(inputs::add);
        }
        return inputs;
    }

    private static long[] seenAndMissing(List<RunInput> inputs) {
        long seen = 0;
        long last = 0;
        for (RunInput input : inputs) {
            if (input instanceof RunInput.Edges(var line, var batch)
                    && line == PulseLine.REFERENCE) {
                seen += batch.size();
                last = batch.lastSequence();
            }
        }
        return new long[] {seen, last - seen};
    }

    @Test
    void edgesAreLostWithAndWithoutAGapInTheNumbers() throws PortException {
        long[] plain = seenAndMissing(minute(world(setup())));
        long[] numbered = seenAndMissing(minute(world(setup(), "lost-numbered after_s=3 size=7")));
        long[] unnumbered =
                seenAndMissing(minute(world(setup(), "lost-unnumbered after_s=3 size=7")));
        long[] bounced = seenAndMissing(minute(world(setup(), "bounce after_s=3 size=7")));
        long[] stray = seenAndMissing(minute(world(setup(), "stray after_s=3 size=7")));
        assertEquals(0, plain[1]);
        assertEquals(plain[0] - 7, numbered[0]);
        assertEquals(7, numbered[1]);
        assertEquals(plain[0] - 7, unnumbered[0]);
        assertEquals(0, unnumbered[1]);
        assertEquals(plain[0] + 7, bounced[0]);
        assertEquals(plain[0] + 7, stray[0]);
    }

    @Test
    void aStalledReaderLosesTheOldestEdges() throws PortException {
        RunSetup fast = Setups.plain(5, Control.OPEN_LOOP, FlowBy.GROUND_SPEED);
        long[] stalled = seenAndMissing(minute(world(fast, "reader-stalled after_s=3 for_s=4")));
        double lost = 4 * 5 * Setups.REFERENCE_PULSES_PER_LITRE - PulseBuffer.EDGES_MAX;
        assertEquals(lost, stalled[1], 0.1 * 5 * Setups.REFERENCE_PULSES_PER_LITRE);
    }

    private static long[] channels(RunSetup setup, String... faults) throws PortException {
        long[] seen = new long[2];
        for (RunInput input : minute(world(setup, faults))) {
            if (input instanceof RunInput.Edges(var line, var batch)) {
                seen[0] += line == PulseLine.REFERENCE ? batch.size() : 0;
                seen[1] += line == PulseLine.REFERENCE_SECOND ? batch.size() : 0;
            }
        }
        return seen;
    }

    @Test
    void aFaultStrikesTheChannelThatItNames() throws PortException {
        assertEquals(0, channels(setup())[1], "one channel where none is said");
        RunSetup two = Setups.twoChannels(setup());
        long[] plain = channels(two);
        assertEquals(plain[0], plain[1], 1);
        long[] lost = channels(two, "lost-unnumbered after_s=3 size=7 line=reference-second");
        assertEquals(plain[0], lost[0]);
        assertEquals(plain[1] - 7, lost[1]);
        long[] stray = channels(two, "stray after_s=3 size=7 line=reference");
        assertEquals(plain[0] + 7, stray[0]);
        assertEquals(plain[1], stray[1]);
        // Liquid first comes into the tank 20 s after the start; 3 s later the line dies.
        long[] dead = channels(two, "line-dead after_s=3 line=reference-second");
        assertEquals(plain[0], dead[0]);
        assertEquals(23.0 / 60, (double) dead[1] / plain[1], 0.02);
    }

    private static List<RunInput.Thermometer> thermometers(String... faults) throws PortException {
        World world = world(Setups.thermometers(setup()), faults);
        List<RunInput> inputs = minute(world);
        world.drainTemperature(inputs::add);
        return inputs.stream()
                .filter(RunInput.Thermometer.class::isInstance)
                .map(RunInput.Thermometer.class::cast)
                .filter(thermometer -> thermometer.place() == TemperaturePlace.REFERENCE)
                .toList();
    }

    private static long showing(List<RunInput.Thermometer> told, double celsius) {
        return told.stream()
                .filter(thermometer ->
                        thermometer.reading() instanceof TemperatureReading.Shown shown
                                && shown.temperature().celsius() == celsius)
                .count();
    }

    /** The plain liquid has 10 C. Liquid first comes into the tank 20 s after the start. */
    @Test
    void thermometersFailInTheirWays() throws PortException {
        List<RunInput.Thermometer> plain = thermometers();
        assertEquals(60, plain.size());
        assertEquals(60, showing(plain, 10));
        assertEquals(30, thermometers("thermometer-silent after_s=10 for_s=30").size(), 1);
        List<RunInput.Thermometer> garbled = thermometers("thermometer-garbled size=0.5");
        assertEquals(60, garbled.size());
        assertEquals(40, showing(garbled, 10), 12);
        List<RunInput.Thermometer> lost = thermometers("thermometer-power-on after_s=10 for_s=5");
        assertEquals(5, showing(lost, 85), 1);
        assertEquals(55, showing(lost, 10), 1);
        List<RunInput.Thermometer> spike = thermometers("thermometer-spike after_s=10 size=8");
        assertEquals(1, showing(spike, 18));
        assertEquals(59, showing(spike, 10));
    }

    @Test
    void airTakesTheShareItIsGiven() throws PortException {
        World world = world(setup(), "air size=0.05");
        List<RunInput> inputs = minute(world);
        double metered = seenAndMissing(inputs)[0] / Setups.REFERENCE_PULSES_PER_LITRE;
        double liquid = world.delivered().litres();
        // Air runs from the first drop in the tank, 20 s after the start, to the end.
        assertEquals(40 * FLOW * 0.05, metered - liquid, 0.15);
    }

    @Test
    void aJammedFlapGetsNoFurther() throws PortException {
        World never = world(setup(), "diverter-stuck since=run size=0");
        minute(never);
        assertEquals(0, never.intoTank().litres());
        World half = world(setup(), "diverter-stuck since=run size=0.5");
        List<RunInput> inputs = minute(half);
        assertEquals(
                40 * FLOW / 2,
                half.intoTank().litres(),
                0.1,
                "half of it, and it cannot come back");
        assertTrue(
                inputs.stream()
                        .noneMatch(input ->
                                input instanceof RunInput.Contact(_, var contact, var active)
                                        && contact == BayContact.DIVERTER_AT_TANK
                                        && active));
        World back = world(setup(), "diverter-stuck since=catch after_s=5 size=1");
        minute(back);
        assertEquals(40 * FLOW, back.intoTank().litres(), 0.2, "it stays at the tank");
    }

    @Test
    void theScaleMisbehavesInItsWays() throws PortException {
        assertEquals(600, weights(minute(world(setup()))).size(), 1);
        assertEquals(
                300,
                weights(minute(world(setup(), "scale-garbled since=run size=0.5"))).size(),
                50);
        assertEquals(
                250, weights(minute(world(setup(), "scale-silent after_s=5 for_s=35"))).size(), 2);
        List<ScaleFrame.Weight> frozen = weights(minute(world(setup(), "scale-frozen after_s=5")));
        assertEquals(frozen.get(300).amount(), frozen.getLast().amount());
        List<ScaleFrame.Weight> moving = weights(minute(world(setup(), "scale-moving after_s=5")));
        assertTrue(moving.getLast().inMotion());
        List<ScaleFrame.Weight> other =
                weights(minute(world(setup(), "scale-wrong-unit after_s=5")));
        assertEquals(MassUnit.POUND, other.getLast().unit());
        double plain = weights(minute(world(setup()))).getLast().amount();
        double drifted =
                weights(minute(world(setup(), "scale-drift since=run size=3"))).getLast().amount();
        assertEquals(3, drifted - plain, 0.011);
    }

    private static List<ScaleFrame.Weight> weights(List<RunInput> inputs) {
        List<ScaleFrame.Weight> weights = new ArrayList<>();
        for (RunInput input : inputs) {
            if (input instanceof RunInput.Scale(_, ScaleFrame.Weight weight)) {
                weights.add(weight);
            }
        }
        return weights;
    }

    @Test
    void theControllersTotalComesLateOrGoesBack() throws PortException {
        RunSetup setup =
                Setups.with(
                        setup(),
                        new RunSetup.Reported.RunningLine(new Volume(0.01), SECOND, 2 * SECOND));
        double plain = lastTotal(minute(world(setup)));
        assertEquals(60 * FLOW, plain, 1.5);
        assertEquals(
                plain - 3 * FLOW, lastTotal(minute(world(setup, "controller-late size=3"))), 0.1);
        assertEquals(
                30 * FLOW, lastTotal(minute(world(setup, "controller-reset after_s=10"))), 0.3);
        World dead = world(setup, "truck-meter-dead after_s=10");
        assertEquals(30 * FLOW, lastTotal(minute(dead)), 1.5);
    }

    private static double lastTotal(List<RunInput> inputs) {
        double last = 0;
        for (RunInput input : inputs) {
            if (input instanceof RunInput.ControllerTotal(_, var total)) {
                last = total.litres();
            }
        }
        return last;
    }

    @Test
    void theEmergencyStopDropsTheOutputsWhateverTheProgramSays() throws PortException {
        World world = world(setup(), "emergency-stop after_s=5");
        List<RunInput> inputs = minute(world);
        assertTrue(world.outputsSafe());
        assertEquals(5 * FLOW, world.intoTank().litres(), 1.0, "the flap went back at once");
        assertTrue(
                inputs.stream()
                        .anyMatch(input ->
                                input instanceof RunInput.Contact(_, var contact, var active)
                                        && contact == BayContact.EMERGENCY_STOP
                                        && active));
    }

    @Test
    void contactsOfDangerBecomeActiveAndPass() throws PortException {
        for (BayContact contact : List.of(BayContact.HIGH_LEVEL, BayContact.SPILL)) {
            List<Boolean> seen = new ArrayList<>();
            for (RunInput input : minute(world(setup(), contact.key() + " after_s=5 for_s=3"))) {
                if (input instanceof RunInput.Contact(_, var which, var active)
                        && which == contact) {
                    seen.add(active);
                }
            }
            assertEquals(List.of(false, true, false), seen);
        }
    }

    @Test
    void flowAndMetersFollowTheirFaults() throws PortException {
        World sagging = world(setup(), "pump-sag after_s=0 size=0.75");
        minute(sagging);
        // The pump gives twice the flow asked for; a quarter of that is half of it, for 40 of 60 s.
        assertEquals(40 * FLOW, sagging.delivered().litres(), 1.5);
        double plain = seenAndMissing(minute(world(setup())))[0];
        double off = seenAndMissing(minute(world(setup(), "reference-off size=0.1")))[0];
        assertEquals(40 * FLOW * Setups.REFERENCE_PULSES_PER_LITRE * 0.1, off - plain, 2);
        World swinging = world(setup(), "unsteady since=run size=0.5");
        minute(swinging);
        Truth truth = swinging.truth();
        double least = Double.MAX_VALUE;
        double most = 0;
        for (long now = START + 20 * SECOND; now < START + 40 * SECOND; now += SECOND) {
            double second = truth.deliveredBetween(now, now + SECOND).litres();
            least = Math.min(least, second);
            most = Math.max(most, second);
        }
        assertTrue(least < 0.65 * FLOW && most > 1.35 * FLOW, least + " to " + most);
    }

    @Test
    void thePersonMistypesOnce() throws PortException {
        RunSetup setup =
                Setups.with(
                        setup(),
                        new RunSetup.Reported.Display(new Volume(0.1), SECOND, new Ratio(0.1)));
        assertEquals(0, typed(setup, "scale-moving").get(0).litres(), 1e-9);
        assertEquals(
                List.of(3.7, 0.0),
                typed(setup, "typo since=run size=37").stream()
                        .map(Volume::litres)
                        .map(litres -> Math.rint(litres * 10) / 10)
                        .toList());
    }

    private static List<Volume> typed(RunSetup setup, String fault) throws PortException {
        World world = world(setup, fault);
        List<Volume> typed = new ArrayList<>();
        for (Question question : List.of(Question.TOTAL_BEFORE, Question.TOTAL_AGAIN)) {
            world.advance(world.nowNanos() + SECOND);
            world.ask(question);
            world.advance(world.nowNanos() + 10 * SECOND);
            world.drainOperator(input -> typed.add(((RunInput.TotalTyped) input).total()));
        }
        return typed;
    }

    @Test
    void transposedDigitsChangePlaces() throws PortException {
        RunSetup setup =
                Setups.with(
                        setup(),
                        new RunSetup.Reported.Display(new Volume(0.1), SECOND, new Ratio(0.1)));
        World world = world(setup, "transposed since=catch after_s=1");
        minute(world);
        world.perform(new GroundSpeed(0));
        world.advance(START + 90 * SECOND);
        long shown = Math.round(world.truck().shownTotal().litres() * 10);
        world.ask(Question.TOTAL_AFTER);
        world.advance(START + 100 * SECOND);
        long[] typed = new long[1];
        world.drainOperator(input ->
                typed[0] = Math.round(((RunInput.TotalTyped) input).total().litres() * 10));
        assertEquals(shown / 100 * 100 + shown % 10 * 10 + shown / 10 % 10, typed[0]);
        assertTrue(shown != typed[0], "digits of " + shown + " differ");
    }

    @Test
    void aNewQuestionReplacesTheOpenOne() throws PortException {
        World world = world(setup());
        world.ask(Question.CHECKLIST);
        world.advance(START + SECOND);
        world.ask(Question.START_FLOW);
        world.advance(START + 10 * SECOND);
        List<RunInput> answers = new ArrayList<>();
        world.drainOperator(answers::add);
        assertEquals(1, answers.size());
        assertTrue(
                answers.getFirst() instanceof RunInput.Done(_, var question)
                        && question == Question.START_FLOW);
    }
}

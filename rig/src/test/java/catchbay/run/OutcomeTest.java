package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Way;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.Feedback;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Supplier;
import java.util.stream.Stream;

/** Every end of a run: how it is reached, and that the bay is then safe. */
final class OutcomeTest {

    record Ending(Cause cause, String what, String sentence, Supplier<Rehearsal> bay) {
        @Override
        public String toString() {
            return cause + ": " + what;
        }
    }

    private static Rehearsal catching() {
        return new Rehearsal(new Setups()).until("catching").run(5);
    }

    private static Rehearsal after(String key, RunInput... inputs) {
        Rehearsal bay = new Rehearsal(new Setups()).until(key);
        for (RunInput input : inputs) {
            bay.give(input);
        }
        return bay;
    }

    private static RunInput contact(Rehearsal bay, BayContact contact, boolean active) {
        return new RunInput.Contact(bay.now(), contact, active);
    }

    private static RunInput weight(Rehearsal bay, double amount, MassUnit unit, boolean net) {
        return new RunInput.Scale(bay.now(), new ScaleFrame.Weight(amount, unit, net, false));
    }

    private static Stream<Ending> endings() {
        return Stream.of(
                        pulses(),
                        flow(),
                        diverter(),
                        scale(),
                        report(),
                        people(),
                        ports(),
                        GuardEndings.all())
                .flatMap(s -> s);
    }

    private static Stream<Ending> pulses() {
        return Stream.of(
                new Ending(
                        Cause.EDGES_LOST,
                        "numbers skip while catching",
                        "1 numbers missing",
                        () -> {
                            Rehearsal bay = catching();
                            long next =
                                    bay.state.sensed().lines().reference().inside().lastSequence();
                            return bay.give(
                                    new RunInput.Edges(
                                            PulseLine.REFERENCE,
                                            EdgeBatch.of(next + 2, bay.now())));
                        }),
                new Ending(
                        Cause.PULSES_LEAP,
                        "an edge too many in an even train",
                        "leaps 2 times",
                        () -> {
                            Setups setups = new Setups();
                            Rehearsal bay = new Rehearsal(setups);
                            bay.hertz.put(PulseLine.REFERENCE, 0.0);
                            feedWithExtra(bay);
                            return bay;
                        }),
                new Ending(
                        Cause.CHANNELS_PART,
                        "the reference's second channel is dead",
                        "second channel of the reference meter gave nothing for",
                        () -> {
                            Setups setups = new Setups();
                            setups.twoChannels = true;
                            Rehearsal bay = new Rehearsal(setups);
                            bay.hertz.remove(PulseLine.REFERENCE_SECOND);
                            return bay;
                        }),
                new Ending(
                        Cause.TEMPERATURE_LOST,
                        "a thermometer is never heard",
                        "thermometer at the scale did not tell its temperature",
                        () -> {
                            Setups setups = new Setups();
                            setups.doubts =
                                    Setups.NONE.with(
                                            new Doubts.Temperatures(
                                                    Optional.empty(),
                                                    Optional.empty(),
                                                    Optional.empty(),
                                                    0,
                                                    Optional.of(0.0),
                                                    new Doubts.Sensors(
                                                            Set.of(TemperaturePlace.ROOM),
                                                            0.5,
                                                            5 * Setups.SECOND)));
                            Rehearsal bay = new Rehearsal(setups);
                            bay.celsius.clear();
                            return bay;
                        }),
                new Ending(
                        Cause.WINDOW_UNUSABLE,
                        "the truck's line dies before the window",
                        "pulses before or after the window and none in it",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("opening");
                            bay.hertz.remove(PulseLine.TRUCK);
                            return bay;
                        }),
                new Ending(
                        Cause.WINDOW_UNUSABLE,
                        "of 14 pulses a gallon a catch of 0.45 gallons owes fewer than ten",
                        "no edge fell into the window; lengthen the catch",
                        () -> {
                            Setups setups = new Setups();
                            setups.truckConstant = 14;
                            setups.referenceLowest = 0.2;
                            setups.scale = false;
                            Rehearsal bay = new Rehearsal(setups);
                            bay.hertz.put(PulseLine.REFERENCE, 0.3 / 60 * 1000);
                            bay.hertz.remove(PulseLine.TRUCK);
                            return bay;
                        }),
                new Ending(
                        Cause.WINDOW_UNUSABLE,
                        "nothing weighed",
                        "nothing was caught",
                        () -> {
                            Setups setups = Setups.scaleOnly();
                            Rehearsal bay = new Rehearsal(setups);
                            bay.frames =
                                    f -> new ScaleFrame.Weight(20, MassUnit.KILOGRAM, false, false);
                            return bay;
                        }));
    }

    /** The reference's even train made by hand, with one edge in the middle of a period. */
    private static void feedWithExtra(Rehearsal bay) {
        bay.until("settling");
        long number = 0;
        long stamp = bay.now();
        while (!(bay.state instanceof RunState.Trailing)
                && !(bay.state instanceof RunState.Ended)) {
            bay.turn();
            while (stamp + 12_000_000L <= bay.now()) {
                stamp += 12_000_000L;
                bay.give(new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(number++, stamp)));
                if (number == 4000) {
                    bay.give(
                            new RunInput.Edges(
                                    PulseLine.REFERENCE,
                                    EdgeBatch.of(number++, stamp + 7_000_000L)));
                }
            }
        }
        bay.give(
                new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(number, stamp + 12_000_000L)));
    }

    private static Stream<Ending> flow() {
        return Stream.of(
                new Ending(
                        Cause.OUT_OF_RANGE,
                        "less flow than certified",
                        "below the reference's certified range",
                        () -> {
                            Setups setups = new Setups();
                            setups.scale = false;
                            Rehearsal bay = new Rehearsal(setups);
                            bay.hertz.put(PulseLine.REFERENCE, 0.9 / 60 * 1000);
                            return bay;
                        }),
                new Ending(
                        Cause.OUT_OF_RANGE,
                        "a standing catch below the range throughout",
                        "never came into",
                        () -> {
                            Setups setups = Setups.display();
                            setups.scale = false;
                            setups.rampShareMax = 1;
                            Rehearsal bay = new Rehearsal(setups);
                            bay.hertz.put(PulseLine.REFERENCE, 0.9 / 60 * 1000);
                            return bay;
                        }),
                new Ending(
                        Cause.NOT_SETTLED,
                        "no pulse to judge",
                        "too few pulses",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups());
                            bay.hertz.remove(PulseLine.REFERENCE);
                            return bay;
                        }),
                new Ending(
                        Cause.NOT_SETTLED,
                        "flow that hunts",
                        "still spread by",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("settling");
                            for (int i = 0;
                                    i < 100 && !(bay.state instanceof RunState.Ended);
                                    i++) {
                                bay.hertz.put(PulseLine.REFERENCE, i % 2 == 0 ? 80.0 : 90.0);
                                bay.run(1);
                            }
                            return bay;
                        }),
                new Ending(
                        Cause.NOT_SETTLED,
                        "a scale in motion",
                        "scale was not at rest",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups());
                            bay.frames =
                                    f -> new ScaleFrame.Weight(20, MassUnit.KILOGRAM, false, true);
                            return bay;
                        }),
                new Ending(
                        Cause.FLOW_STOPPED,
                        "the pump dies while catching",
                        "gave no pulse for",
                        () -> catching().flow(false)),
                new Ending(
                        Cause.NOT_AT_REST,
                        "the valve does not close",
                        "Pulses kept coming",
                        () -> {
                            Setups setups = Setups.scaleOnly();
                            setups.reference = true;
                            Rehearsal bay = new Rehearsal(setups).until("stilling");
                            bay.frames =
                                    f -> new ScaleFrame.Weight(80, MassUnit.KILOGRAM, false, false);
                            return bay.flow(true);
                        }),
                new Ending(
                        Cause.NOT_AT_REST,
                        "the tank does not come to rest before a standing catch",
                        "scale did not come to rest",
                        () -> {
                            Rehearsal bay = new Rehearsal(Setups.scaleOnly());
                            bay.frames =
                                    f -> new ScaleFrame.Weight(20, MassUnit.KILOGRAM, false, true);
                            return bay;
                        }));
    }

    private static Stream<Ending> diverter() {
        return Stream.of(
                new Ending(
                        Cause.DIVERTER_NOT_ARRIVED,
                        "stuck at the bypass",
                        "reach the tank side within 2 s",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups());
                            bay.flapMoves = false;
                            return bay;
                        }),
                new Ending(
                        Cause.DIVERTER_NOT_ARRIVED,
                        "stuck at the tank",
                        "reach the bypass side within 2 s",
                        () -> {
                            Rehearsal bay = catching();
                            bay.flapMoves = false;
                            return bay;
                        }),
                new Ending(
                        Cause.DIVERTER_NOT_ARRIVED,
                        "stuck before a standing catch",
                        "reach the tank side within 2 s",
                        () -> {
                            Setups setups = Setups.scaleOnly();
                            setups.diverter = Optional.of(Feedback.ENDS);
                            Rehearsal bay = new Rehearsal(setups);
                            bay.flapMoves = false;
                            return bay;
                        }),
                new Ending(
                        Cause.DIVERTER_MOVED,
                        "moves while settling",
                        "moved without a command",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("settling");
                            return bay.give(contact(bay, BayContact.DIVERTER_TRIGGER, true));
                        }),
                new Ending(
                        Cause.DIVERTER_MOVED,
                        "falls back while catching",
                        "moved without a command",
                        () -> {
                            Rehearsal bay = catching();
                            return bay.give(contact(bay, BayContact.DIVERTER_TRIGGER, false));
                        }),
                new Ending(
                        Cause.DIVERTER_MOVED,
                        "falls back at once and stays there",
                        "moved without a command",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("catching");
                            return bay.contactIn(0.5, BayContact.DIVERTER_TRIGGER, false);
                        }),
                new Ending(
                        Cause.DIVERTER_MOVED,
                        "falls back at once and returns too late",
                        "moved without a command",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("catching");
                            return bay.contactIn(0.5, BayContact.DIVERTER_TRIGGER, false)
                                    .contactIn(5, BayContact.DIVERTER_TRIGGER, true);
                        }),
                new Ending(
                        Cause.DIVERTER_MOVED,
                        "returns to the tank after the catch",
                        "moved without a command",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("trailing");
                            return bay.give(contact(bay, BayContact.DIVERTER_TRIGGER, true));
                        }),
                new Ending(
                        Cause.DIVERTER_MOVED,
                        "goes to the tank while the flow stops",
                        "moved without a command",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("dripping");
                            return bay.give(contact(bay, BayContact.DIVERTER_TRIGGER, true));
                        }),
                new Ending(
                        Cause.DIVERTER_MOVED,
                        "leaves the tank before a standing flow has stopped",
                        "moved without a command",
                        () -> {
                            Setups setups = Setups.scaleOnly();
                            setups.diverter = Optional.of(Feedback.ENDS);
                            Rehearsal bay = new Rehearsal(setups).until("stilling");
                            return bay.give(contact(bay, BayContact.DIVERTER_AT_TANK, false));
                        }));
    }

    private static Stream<Ending> scale() {
        return Stream.of(
                new Ending(
                        Cause.SCALE_SILENT,
                        "never heard",
                        "sent no weight for 1.0 s",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups());
                            bay.scaleSends = false;
                            return bay;
                        }),
                new Ending(
                        Cause.SCALE_SILENT,
                        "falls silent while catching",
                        "sends as [port.scale] says: protocol, baud, station",
                        () -> {
                            Rehearsal bay = catching();
                            bay.scaleSends = false;
                            return bay;
                        }),
                new Ending(
                        Cause.SCALE_SILENT,
                        "frames that nobody can read",
                        "s (of the last that came: the status must be Z); check",
                        () -> {
                            Rehearsal bay = catching();
                            bay.scaleSends = false;
                            return bay.give(
                                    new RunInput.Unread(
                                            bay.now(), "scale", 1, 20, "the status must be Z"));
                        }),
                new Ending(
                        Cause.SCALE_SILENT,
                        "frames without a weight",
                        "s (of the last that came: over capacity); check",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("weighing");
                            bay.frames = f -> new ScaleFrame.NoWeight("over capacity");
                            return bay;
                        }),
                new Ending(
                        Cause.SCALE_CHANGED,
                        "another unit",
                        "sent lb where kg is set",
                        () -> {
                            Rehearsal bay = catching();
                            return bay.give(weight(bay, 44, MassUnit.POUND, false));
                        }),
                new Ending(
                        Cause.SCALE_CHANGED,
                        "the tare key",
                        "changed between gross and net",
                        () -> {
                            Rehearsal bay = catching();
                            return bay.give(weight(bay, 0, MassUnit.KILOGRAM, true));
                        }),
                new Ending(
                        Cause.SCALE_CHANGED,
                        "another unit that no frame tells",
                        "as kg is to lb, and stays there: its unit was changed",
                        () -> {
                            Rehearsal bay = catching();
                            Mass shown = bay.state.sensed().scale().last().orElseThrow();
                            double pounds = shown.kilograms() / MassUnit.POUND.kilograms();
                            return bay.give(weight(bay, pounds, MassUnit.KILOGRAM, false))
                                    .give(weight(bay, pounds, MassUnit.KILOGRAM, false));
                        }),
                new Ending(
                        Cause.SCALE_NOT_AT_REST,
                        "swings after the catch",
                        "did not come to rest within 30 s",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("weighing");
                            bay.frames =
                                    f -> new ScaleFrame.Weight(80, MassUnit.KILOGRAM, false, true);
                            return bay;
                        }),
                new Ending(
                        Cause.OVERFILL,
                        "two registers in the wrong order: 5 kg shown as 1310720",
                        "far above its capacity of 500.0 kg, which is no load; check its unit",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups()).until("catching");
                            bay.frames =
                                    f ->
                                            new ScaleFrame.Weight(
                                                    1_310_720, MassUnit.KILOGRAM, false, false);
                            return bay;
                        }),
                new Ending(
                        Cause.OVERFILL,
                        "over the scale's capacity",
                        "above its capacity of 500.0 kg",
                        () -> {
                            Rehearsal bay = catching();
                            return bay.give(weight(bay, 500.05, MassUnit.KILOGRAM, false));
                        }),
                new Ending(
                        Cause.REFERENCES_DISAGREE,
                        "the reference is 3 % off",
                        "disagree by -3",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups());
                            bay.hertz.computeIfPresent(PulseLine.REFERENCE, (l, f) -> f * 0.97);
                            return bay;
                        }));
    }

    private static Stream<Ending> report() {
        return Stream.of(
                new Ending(
                        Cause.REPORT_UNUSABLE,
                        "no total after the window",
                        "sent no total after",
                        () -> {
                            Rehearsal bay = new Rehearsal(Setups.scaleOnly()).until("stilling");
                            bay.totalSends = false;
                            return bay;
                        }),
                new Ending(
                        Cause.REPORT_UNUSABLE,
                        "a total never sent",
                        "sent no total after",
                        () -> {
                            Rehearsal bay = new Rehearsal(Setups.scaleOnly());
                            bay.totalSends = false;
                            return bay;
                        }),
                new Ending(
                        Cause.REPORT_UNUSABLE,
                        "a total reset in the window",
                        "went back during the window",
                        () -> {
                            Rehearsal bay = new Rehearsal(Setups.scaleOnly()).until("catching");
                            bay.run(20);
                            bay.startTotal = 0;
                            return bay;
                        }),
                new Ending(
                        Cause.REPORT_UNUSABLE,
                        "a display reset",
                        "is below the one before",
                        () -> {
                            Rehearsal bay = new Rehearsal(Setups.display()).until("catching");
                            bay.startTotal = 0;
                            return bay;
                        }),
                new Ending(
                        Cause.REPORT_UNUSABLE,
                        "typed twice, differently",
                        "was typed as 150.000 US gal and then as",
                        () -> {
                            Rehearsal bay = new Rehearsal(Setups.display()).until("weighing");
                            bay.until("reading");
                            return bay.give(
                                    new RunInput.TotalTyped(bay.now(), Volume.ofUsGallons(150)));
                        }),
                new Ending(
                        Cause.REPORT_UNUSABLE,
                        "a total no truck holds, typed twice",
                        "more than 1000 times",
                        () -> {
                            Rehearsal bay = new Rehearsal(Setups.display());
                            bay.until("weighing").startTotal = 1e300;
                            return bay;
                        }),
                new Ending(
                        Cause.REPORT_UNUSABLE,
                        "salt no truck carries",
                        "The asked amount",
                        () -> {
                            Setups setups = Setups.display();
                            setups.application = Setups.preWet(true, Optional.empty());
                            Rehearsal bay = new Rehearsal(setups);
                            bay.saltTons = 1e300;
                            return bay;
                        }));
    }

    private static Stream<Ending> people() {
        return Stream.of(
                new Ending(
                        Cause.NO_ANSWER,
                        "nobody confirms",
                        "300 s: the checklist",
                        () -> unanswered(Setups.display(), "confirming")),
                new Ending(
                        Cause.NO_ANSWER,
                        "nobody starts the purge",
                        "the start of the flow",
                        () -> {
                            Setups setups = Setups.display();
                            setups.purgeSeconds = 5;
                            return unanswered(setups, "starting");
                        }),
                new Ending(
                        Cause.NO_ANSWER,
                        "nobody stops the purge",
                        "the stop of the flow",
                        () -> {
                            Setups setups = Setups.display();
                            setups.purgeSeconds = 5;
                            setups.scale = false;
                            return unanswered(setups, "resting");
                        }),
                new Ending(
                        Cause.NO_ANSWER,
                        "nobody reads the display",
                        "Type the total",
                        () -> unanswered(Setups.display(), "reading")),
                new Ending(
                        Cause.NO_ANSWER,
                        "nobody starts the catch",
                        "the start of the flow",
                        () -> unanswered(Setups.display(), "catching")),
                new Ending(
                        Cause.NO_ANSWER,
                        "nobody says that the flow has stopped",
                        "the stop of the flow",
                        () -> {
                            Setups setups = Setups.display();
                            setups.scale = false;
                            Rehearsal bay = new Rehearsal(setups);
                            bay.answersStop = false;
                            return bay;
                        }));
    }

    /** Answers up to a state, then no more: what is due there was asked on the way. */
    private static Rehearsal unanswered(Setups setups, String key) {
        Rehearsal bay = new Rehearsal(setups);
        bay.personSeconds = 2;
        while (!bay.state.key().equals(key)) {
            bay.turn();
        }
        bay.answers = false;
        return bay.unasked();
    }

    private static Stream<Ending> ports() {
        return Stream.of(
                new Ending(
                        Cause.EMERGENCY_STOP,
                        "pressed",
                        "emergency stop is pressed",
                        () -> {
                            Rehearsal bay = catching();
                            return bay.give(contact(bay, BayContact.EMERGENCY_STOP, true));
                        }),
                new Ending(
                        Cause.HIGH_LEVEL,
                        "the float is up",
                        "float is up",
                        () -> {
                            Rehearsal bay = catching();
                            return bay.give(contact(bay, BayContact.HIGH_LEVEL, true));
                        }),
                new Ending(
                        Cause.SPILL,
                        "a wet floor",
                        "spill sensor is wet",
                        () -> {
                            Rehearsal bay = catching();
                            return bay.give(contact(bay, BayContact.SPILL, true));
                        }),
                new Ending(
                        Cause.PORT_FAILED,
                        "a cable pulled",
                        "The wire is broken.",
                        () ->
                                after(
                                        "settling",
                                        new RunInput.PortFailed(
                                                1, "scale", "The wire is broken."))),
                new Ending(
                        Cause.TRACE_FAILED,
                        "a full disk",
                        "The disk is full.",
                        () -> after("dripping", new RunInput.TraceFailed(1, "The disk is full."))),
                new Ending(
                        Cause.TRACE_FAILED,
                        "a disk that does not answer",
                        "not on the medium within 10 s",
                        () -> {
                            Rehearsal bay = new Rehearsal(new Setups());
                            bay.traceDurable = false;
                            return bay;
                        }));
    }

    @ParameterizedTest
    @MethodSource("endings")
    void everyCauseHasItsSentenceAndLeavesTheBaySafe(Ending ending) {
        Rehearsal bay = ending.bay.get();
        Outcome.Void end = assertInstanceOf(Outcome.Void.class, bay.outcome());
        assertEquals(ending.cause, end.cause(), end.reason());
        assertTrue(end.reason().contains(ending.sentence), end.reason());
        assertTrue(end.reason().endsWith("."), end.reason());
        assertEquals(end.cause().key(), end.key());
        assertEndsSafe(bay);
    }

    @Test
    void noCauseIsWithoutAnEnding() {
        Set<Cause> reached = EnumSet.noneOf(Cause.class);
        endings().forEach(ending -> reached.add(ending.cause));
        assertEquals(EnumSet.allOf(Cause.class), reached);
    }

    static void assertEndsSafe(Rehearsal bay) {
        assertSafe(bay.setup, bay.commands());
    }

    /** The last word on each output is its safe one. */
    static void assertSafe(RunSetup setup, List<BayCommand> commands) {
        List<BayCommand> outputs =
                commands.stream().filter(c -> c instanceof BayCommand.Output).toList();
        List<BayCommand> expected =
                setup.diverter().isPresent()
                        ? List.of(
                                new BayCommand.Divert(Way.BYPASS),
                                new BayCommand.Drain(false),
                                new BayCommand.Supply(false),
                                new BayCommand.GroundSpeed(0),
                                new BayCommand.Feeder(0))
                        : List.of(
                                new BayCommand.Drain(false),
                                new BayCommand.Supply(false),
                                new BayCommand.GroundSpeed(0),
                                new BayCommand.Feeder(0));
        assertTrue(outputs.size() >= expected.size(), commands::toString);
        assertEquals(expected, outputs.subList(outputs.size() - expected.size(), outputs.size()));
    }

    /**
     * Stopped at every turn of whole runs, and always safe; what stands is not undone in the drain.
     */
    @Test
    void stopIsHeardInEveryState() {
        Set<String> stoppedIn = new TreeSet<>();
        for (Setups setups : List.of(new Setups(), Setups.display(), purgedByHand())) {
            Rehearsal whole = new Rehearsal(setups);
            whole.outcome();
            RunState state = RunMachine.begin(whole.setup);
            for (RunInput input : whole.inputs) {
                RunStep stop =
                        RunMachine.step(
                                state, new RunInput.StopPressed(input.atNanos(), "a technician"));
                if (state instanceof RunState.Ended) {
                    assertSame(state, stop.state());
                    break;
                }
                stoppedIn.add(state.key());
                assertSafe(whole.setup, stop.commands());
                Outcome end = assertInstanceOf(RunState.Ended.class, stop.state()).outcome();
                if (state instanceof RunState.Draining) {
                    assertInstanceOf(Outcome.Measured.class, end);
                } else {
                    assertEquals(new Outcome.Stopped("a technician"), end);
                    assertTrue(end.reason().contains("a technician"), end.reason());
                }
                boolean asked =
                        state instanceof RunState.Starting
                                || state instanceof RunState.Catching c
                                        && c.untilNanos() == Long.MAX_VALUE;
                boolean pumping =
                        (asked || state.sensed().ledger().flowing())
                                && setups.flowBy == RunSetup.FlowBy.OPERATOR;
                assertEquals(
                        pumping, stop.commands().contains(new BayCommand.Ask(Question.STOP_FLOW)));
                state = RunMachine.step(state, input).state();
            }
        }
        assertEquals(16, stoppedIn.size(), stoppedIn::toString);
    }

    private static Setups purgedByHand() {
        Setups setups = Setups.display();
        setups.purgeSeconds = 5;
        return setups;
    }

    @Test
    void aSetupThatContradictsItselfIsRefused() {
        Setups neither = new Setups();
        neither.reference = false;
        neither.scale = false;
        Setups flyingDisplay = Setups.display();
        flyingDisplay.window = RunSetup.Window.FLYING;
        Setups byNoScale = new Setups();
        byNoScale.scale = false;
        byNoScale.measureBy = RunSetup.MeasureBy.SCALE;
        Setups flyingWithoutDiverter = new Setups();
        flyingWithoutDiverter.diverter = Optional.empty();
        for (Setups setups : List.of(neither, flyingDisplay, byNoScale, flyingWithoutDiverter)) {
            RunState state = RunMachine.begin(setups.build());
            Outcome end = assertInstanceOf(RunState.Ended.class, state).outcome();
            assertInstanceOf(Outcome.Refused.class, end);
            assertFalse(end.reason().isBlank());
        }
    }
}

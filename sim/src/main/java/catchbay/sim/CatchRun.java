package catchbay.sim;

import catchbay.app.RunLoop;
import catchbay.app.TraceLog;
import catchbay.quantity.Distance;
import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.run.Outcome;
import catchbay.run.RunInput;
import catchbay.run.RunState;
import catchbay.run.Sensed;
import catchbay.signal.PulseGate;

import java.io.ByteArrayOutputStream;
import java.util.function.Consumer;

/**
 * One whole catch of a scenario by the program's own loop, in virtual time; afterwards, what it
 * said and what was true.
 */
public final class CatchRun {

    /** No run may take longer, ns of virtual time: a bound on every wait of the state machine. */
    private static final long RUN_NANOS_MAX = 1_000_000_000_000L;

    private final Scenario scenario;
    private final ByteArrayOutputStream trace = new ByteArrayOutputStream();
    private final Outcome outcome;
    private final World world;
    private final BayDay day;
    private final long begunNanos;
    private final long endedNanos;
    private RunState state;

    private CatchRun(BayDay day, Scenario scenario) {
        this.scenario = scenario;
        this.day = day;
        begunNanos = day.nowNanos();
        RunLoop loop = new RunLoop(day.ports(), new MemoryTrace(), this::watch);
        Outcome end;
        try {
            end = loop.run(scenario.setup());
        } catch (PowerCut cut) {
            end = new Outcome.Interrupted("The power was cut in the middle of the catch.");
        }
        outcome = end;
        world = day.world();
        endedNanos = day.nowNanos();
    }

    /** Runs a scenario to its end, on a day of its own. */
    public static CatchRun of(Scenario scenario) {
        return new BayDay(scenario).play(scenario.setup(), scenario.options().faults());
    }

    /** Runs one of a day's catches to its end. */
    static CatchRun on(BayDay day, Scenario scenario) {
        return new CatchRun(day, scenario);
    }

    /** The end of the program, wherever it is. */
    private static final class PowerCut extends RuntimeException {
        private static final long serialVersionUID = 1;

        PowerCut() {
            super("the power is cut", null, false, false);
        }
    }

    private void watch(RunState after, long nowNanos) {
        state = after;
        if (day.world().powerCut() && !(after instanceof RunState.Ended)) {
            throw new PowerCut();
        }
        if (nowNanos > begunNanos + RUN_NANOS_MAX) {
            throw new AssertionError(
                    scenario.name()
                            + " never ends: "
                            + after.key()
                            + " with "
                            + scenario.options().faults());
        }
    }

    /** A trace in memory: whatever it is given is safe at once. */
    private final class MemoryTrace implements TraceLog {

        private long toldNanos = -1;
        private boolean asked;

        @Override
        public void append(byte[] bytes, int from, int length, long atNanos) {
            trace.write(bytes, from, length);
            toldNanos = Math.max(toldNanos, atNanos);
        }

        @Override
        public void requestSync() {
            asked = true;
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            if (day.world().diskFull()) {
                into.accept(
                        new RunInput.TraceFailed(
                                day.nowNanos(), "The disk is full. Make room and begin again."));
            } else if (asked) {
                asked = false;
                into.accept(new RunInput.TraceDurable(toldNanos, toldNanos));
            }
        }

        @Override
        public End seal(long atNanos, String end, String reason) {
            throw new AssertionError("a run in memory is judged without closing its trace");
        }

        @Override
        public void close() {
            // Memory needs no closing.
        }
    }

    public Scenario scenario() {
        return scenario;
    }

    public Outcome outcome() {
        return outcome;
    }

    public World world() {
        return world;
    }

    /** When its first turn was, ns. */
    public long begunNanos() {
        return begunNanos;
    }

    /** When its last turn was, ns. */
    public long endedNanos() {
        return endedNanos;
    }

    /** When an attendant last showed to be there; as {@link Sensed} says. */
    public long presentNanos() {
        return state.sensed().presentNanos();
    }

    /** Virtual time from the first turn to the last, ns. */
    public long lastedNanos() {
        return endedNanos - begunNanos;
    }

    /** The trace, byte for byte. */
    public byte[] trace() {
        return trace.toByteArray();
    }

    /** The liquid that truly left the truck in the run's window. */
    public Volume truth() {
        PulseGate window = window();
        return world.truth().deliveredBetween(window.openNanos(), window.closeNanos());
    }

    /** What the truck's controller truly counted in the run's window. */
    public Volume counted() {
        PulseGate window = window();
        return world.truth().reportedBetween(window.openNanos(), window.closeNanos());
    }

    /** The salt that the truck's conveyor carried in the run's window. */
    public Mass salt() {
        PulseGate window = window();
        return world.truth().saltBetween(window.openNanos(), window.closeNanos());
    }

    /** The road that the bay's speed pulses played in the run's window. */
    public Distance travelled() {
        PulseGate window = window();
        return world.truth().travelledBetween(window.openNanos(), window.closeNanos());
    }

    /**
     * Whether a fault has surely done something to the run's window: of a fault of edges, whether
     * one was added or lost in it that has others on both sides, as the first and the last of all
     * in a standing window have not.
     */
    public boolean touchedBy(Fault fault) {
        PulseGate window = window();
        Door door = world.door(fault.line());
        return fault.kind().group() != FaultKind.Group.PULSES
                || door != null
                        && door.wrongBetween(window.openNanos(), window.closeNanos())
                                > (window.standing() ? FIRST_AND_LAST : 0);
    }

    private static final int FIRST_AND_LAST = 2;

    private PulseGate window() {
        return state.sensed().lines().reference();
    }
}

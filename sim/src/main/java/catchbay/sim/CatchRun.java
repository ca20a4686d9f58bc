package catchbay.sim;

import catchbay.app.RunLoop;
import catchbay.app.TraceLog;
import catchbay.quantity.Distance;
import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.run.Outcome;
import catchbay.run.RunInput;
import catchbay.run.RunState;
import catchbay.signal.PulseGate;

import java.io.ByteArrayOutputStream;
import java.time.Instant;
import java.util.List;
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
    private final long lastedNanos;
    private RunState state;

    private CatchRun(Scenario scenario) {
        this.scenario = scenario;
        StandInBay bay = new StandInBay(scenario.setup());
        bay.options(scenario.options());
        VirtualTime time =
                new VirtualTime(
                        bay, Instant.parse("2026-01-05T08:00:00Z"), VirtualTime.WallBend.NONE);
        RunLoop.Ports ports =
                new RunLoop.Ports(
                        time,
                        List.of(
                                source("contacts", bay, time, World::drainContacts),
                                source("pulses", bay, time, World::drainPulses),
                                source("scale", bay, time, World::drainScale),
                                source("controller", bay, time, World::drainController),
                                source("temperature", bay, time, World::drainTemperature)),
                        new StandInPorts.OutputTap(bay, time),
                        new StandInPorts.PulseTap(bay, time),
                        new StandInPorts.PersonTap(bay, time));
        outcome = new RunLoop(ports, new MemoryTrace(), this::watch).run(scenario.setup());
        world = bay.at(time.monotonicNanos());
        lastedNanos = time.monotonicNanos() - VirtualTime.START_NANOS;
    }

    /** Runs a scenario to its end. */
    public static CatchRun of(Scenario scenario) {
        return new CatchRun(scenario);
    }

    private static RunLoop.NamedSource source(
            String name, StandInBay bay, VirtualTime time, StandInPorts.Drain drain) {
        return new RunLoop.NamedSource(name, new StandInPorts.Tap(bay, time, drain));
    }

    private void watch(RunState after, long nowNanos) {
        state = after;
        if (nowNanos > VirtualTime.START_NANOS + RUN_NANOS_MAX) {
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
            if (asked) {
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

    /** Virtual time from the first turn to the last, ns. */
    public long lastedNanos() {
        return lastedNanos;
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

    private PulseGate window() {
        return state.sensed().lines().reference();
    }
}

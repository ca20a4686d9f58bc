package catchbay.sim;

import catchbay.app.RunLoop;
import catchbay.port.PortException;
import catchbay.run.BayCommand;
import catchbay.run.RunSetup;
import catchbay.run.SweepTask;

import java.time.Instant;
import java.util.List;

/**
 * One stand-in bay with its own time, on which catches follow each other: what one leaves in the
 * tank, the truck and the people the next one finds.
 */
public final class BayDay {

    private static final Instant MORNING = Instant.parse("2026-01-05T08:00:00Z");

    private final Scenario usual;
    private final StandInBay bay;
    private final VirtualTime time;
    private final RunLoop.Ports ports;
    private boolean begun;

    /** A bay of its own for a case, at rest. */
    public BayDay(Scenario scenario) {
        usual = scenario;
        bay = new StandInBay(scenario.setup());
        bay.options(scenario.options());
        time = new VirtualTime(bay, MORNING, VirtualTime.WallBend.NONE);
        ports =
                new RunLoop.Ports(
                        time,
                        List.of(
                                source("contacts", World::drainContacts),
                                source("pulses", World::drainPulses),
                                source("scale", World::drainScale),
                                source("controller", World::drainController),
                                source("temperature", World::drainTemperature)),
                        new StandInPorts.OutputTap(bay, time),
                        new StandInPorts.PulseTap(bay, time),
                        new StandInPorts.PersonTap(bay, time));
    }

    private RunLoop.NamedSource source(String name, StandInPorts.Drain drain) {
        return new RunLoop.NamedSource(name, new StandInPorts.Tap(bay, time, drain));
    }

    /** The next catch of the day. The first one has the faults of the day's own case. */
    public CatchRun play(RunSetup setup, List<Fault> faults) {
        if (begun) {
            world().nextCatch(faults);
        }
        begun = true;
        world().set(setup.asked().speed());
        return CatchRun.on(this, new Scenario(usual.name(), setup, usual.options().with(faults)));
    }

    /** Time passes, with nobody doing anything but what was last asked. */
    public void pass(long nanos) {
        time.sleepUntil(time.monotonicNanos() + nanos);
    }

    /** Somebody opens the tank's drain, and shuts it after so long. */
    public void drain(long nanos) {
        try {
            ports.outputs().perform(new BayCommand.Drain(true));
            pass(nanos);
            ports.outputs().perform(new BayCommand.Drain(false));
        } catch (PortException broken) {
            throw new AssertionError("the stand-in bay's outputs never fail", broken);
        }
    }

    /** Somebody is asked to do something between catches. */
    public void ask(SweepTask task) {
        ports.operator().ask(task);
    }

    /** The bay's world as it is now. */
    public World world() {
        return bay.at(time.monotonicNanos());
    }

    RunLoop.Ports ports() {
        return ports;
    }

    /** The bay's monotonic time, ns. */
    public long nowNanos() {
        return time.monotonicNanos();
    }
}

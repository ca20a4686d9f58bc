package catchbay.hardware.relay;

import catchbay.hardware.clock.LoopHealth;
import catchbay.hardware.clock.ProgramEnd;
import catchbay.port.Outputs;
import catchbay.port.PortException;
import catchbay.run.BayCommand;

import com.pi4j.context.Context;
import com.pi4j.exception.Pi4JException;
import com.pi4j.io.gpio.digital.DigitalOutput;

import java.util.EnumMap;
import java.util.Map;

/**
 * The bay's relays. They are at their safe levels when it is made, after every run, when it is
 * closed, and when the program ends before that; where a level cannot be set, the heartbeat ends,
 * and the hard-wired relay drops them all.
 */
final class Relays implements Outputs {

    private final Context context;
    private final Map<Relay, DigitalOutput> wired;
    private final LoopHealth health;
    private final Heartbeat heartbeat;
    private final ProgramEnd end = new ProgramEnd("relays at the end", this::atEnd);
    private PortException trouble;
    private boolean lit;

    /**
     * @param wired the relays that have a line, all off, without the heartbeat
     * @param health what the heartbeat goes by
     */
    Relays(
            Context context,
            Map<Relay, DigitalOutput> wired,
            LoopHealth health,
            Heartbeat heartbeat) {
        this.context = context;
        this.wired = new EnumMap<>(wired);
        this.health = health;
        this.heartbeat = heartbeat;
    }

    /** Begins to beat, and to look after the end of the program. */
    void start() {
        heartbeat.start();
        end.watch();
    }

    @Override
    public synchronized void perform(BayCommand.Switched command) throws PortException {
        switch (command) {
            case BayCommand.Divert(BayCommand.Way way) ->
                    set(Relay.DIVERTER, way == BayCommand.Way.TANK);
            case BayCommand.Drain(boolean open) -> set(Relay.DRAIN, open);
            case BayCommand.Supply(boolean on) -> set(Relay.SUPPLY, on);
        }
    }

    @Override
    public synchronized void turn() throws PortException {
        health.turned();
        if (heartbeat.failure() != null) {
            throw broken(Relay.HEARTBEAT, heartbeat.failure());
        }
        if (trouble != null) {
            throw trouble;
        }
        if (!lit) {
            lit = true;
            set(Relay.LIGHT, true);
        }
    }

    private void set(Relay relay, boolean on) throws PortException {
        if (on && trouble != null) {
            throw trouble;
        }
        DigitalOutput output = wired.get(relay);
        if (output == null) {
            // The light is the only one that a bay may lack and its commands need not know of.
            if (on && relay != Relay.LIGHT) {
                throw new PortException(
                        PortException.Kind.MISSING,
                        "No line is wired for the bay's "
                                + relay.key()
                                + "; name "
                                + relay.key()
                                + "_line under [port.outputs].");
            }
            return;
        }
        try {
            output.setState(on == output.config().onState().isHigh());
        } catch (Pi4JException failure) {
            throw broken(relay, failure);
        }
    }

    private static PortException broken(Relay relay, Throwable failure) {
        Throwable cause = failure.getCause() == null ? failure : failure.getCause();
        return new PortException(
                PortException.Kind.GONE,
                "The bay's "
                        + relay.key()
                        + " could not be set: "
                        + cause.getMessage()
                        + " The watchdog relay drops the outputs until it is reset.",
                failure);
    }

    @Override
    public synchronized void makeSafe() {
        for (Relay relay : wired.keySet()) {
            try {
                set(relay, false);
            } catch (PortException failure) {
                trouble = failure;
                heartbeat.end();
            }
        }
        lit = false;
        health.idle();
    }

    @Override
    public synchronized void letGo() {
        heartbeat.end();
    }

    @Override
    public void close() {
        makeSafe();
        heartbeat.close();
        context.shutdown();
        end.closed();
    }

    private synchronized void atEnd() {
        makeSafe();
        trouble =
                new PortException(
                        PortException.Kind.GONE,
                        "The program is ending, and the outputs stay at their safe levels.");
        heartbeat.end();
    }

    /** The end of the program, for tests to bring about. */
    ProgramEnd end() {
        return end;
    }
}

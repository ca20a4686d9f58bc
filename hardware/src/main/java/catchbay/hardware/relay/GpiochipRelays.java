package catchbay.hardware.relay;

import catchbay.hardware.clock.LoopHealth;
import catchbay.hardware.clock.RealClock;
import catchbay.hardware.gpiochip.Chip;
import catchbay.hardware.gpiochip.LineNumbers;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.run.RunSetup;

import com.pi4j.context.Context;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalState;

import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalInt;

/** Opens relays on a GPIO chip: {@code outputs = "gpiochip"}. Settings: docs/settings.md. */
public final class GpiochipRelays implements PortProvider {

    private static final int BEAT_MILLIS_MAX = 500;

    /** Common practice, no source: five beats within the second after which a relay may let go. */
    private static final int BEAT_MILLIS = 100;

    /**
     * How one relay is wired.
     *
     * @param on the level of the line that energizes it
     */
    record Wire(int line, DigitalState on) {}

    @Override
    public PortKind kind() {
        return PortKind.OUTPUTS;
    }

    @Override
    public String name() {
        return "gpiochip";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        PortSettings settings = opening.settings();
        String label = settings.text("chip");
        Map<Relay, Wire> wires = wires(settings);
        refuseUnwired(settings, opening.setup(), wires);
        long beatMillis = settings.whole("heartbeat_ms", 10, BEAT_MILLIS_MAX, BEAT_MILLIS);
        RealClock.behind(opening, "GPIO chip " + label, kind());
        Chip chip = Chip.find(label);
        if (chip.simulated()) {
            opening.markSimulated();
        }
        Relays relays = relays(chip, wires, beatMillis * 1_000_000);
        relays.start();
        return relays;
    }

    /** All of them at their safe levels, and nothing begun yet. */
    static Relays relays(Chip chip, Map<Relay, Wire> wires, long beatNanos) throws PortException {
        Map<Relay, DigitalOutput> outputs = new EnumMap<>(Relay.class);
        Context context =
                Wiring.of(
                        new ChipOutputs(chip),
                        with ->
                                wires.forEach((relay, wire) ->
                                        outputs.put(relay, output(with, relay, wire))));
        LoopHealth health = new LoopHealth();
        Heartbeat heartbeat = new Heartbeat(outputs.remove(Relay.HEARTBEAT), health, beatNanos);
        return new Relays(context, outputs, health, heartbeat);
    }

    /** A line that is off from the first moment. */
    static DigitalOutput output(Context context, Relay relay, Wire wire) {
        return context.create(
                DigitalOutput.newConfigBuilder(context)
                        .id(relay.key())
                        .address(wire.line)
                        .onState(wire.on)
                        .initial(DigitalState.getInverseState(wire.on))
                        .build());
    }

    private static Map<Relay, Wire> wires(PortSettings settings) {
        Map<Relay, Wire> wires = new EnumMap<>(Relay.class);
        LineNumbers numbers = new LineNumbers(settings);
        for (Relay relay : Relay.values()) {
            OptionalInt line = numbers.at(relay.key() + "_line");
            if (line.isPresent()) {
                boolean activeLow = settings.flag(relay.key() + "_active_low", false);
                wires.put(
                        relay,
                        new Wire(
                                line.getAsInt(), activeLow ? DigitalState.LOW : DigitalState.HIGH));
            }
        }
        if (!wires.containsKey(Relay.HEARTBEAT)) {
            throw settings.refused(
                    "heartbeat_line",
                    "name the line of the watchdog relay; nothing else drops the outputs when the"
                            + " program dies");
        }
        return wires;
    }

    private static void refuseUnwired(
            PortSettings settings, RunSetup setup, Map<Relay, Wire> wires) {
        if (setup.diverter().isPresent()) {
            refuseUnwired(settings, wires, Relay.DIVERTER, "[diverter] is described");
        }
        if (setup.plan().drainNanos() > 0) {
            refuseUnwired(settings, wires, Relay.DRAIN, "catch.drain_seconds is above 0");
        }
        if (setup.plan().flowBy() == RunSetup.FlowBy.SUPPLY) {
            refuseUnwired(settings, wires, Relay.SUPPLY, "catch.flow_by is supply");
        }
    }

    private static void refuseUnwired(
            PortSettings settings, Map<Relay, Wire> wires, Relay relay, String because) {
        if (!wires.containsKey(relay)) {
            throw settings.refused(relay.key() + "_line", because + "; name the line of its relay");
        }
    }
}

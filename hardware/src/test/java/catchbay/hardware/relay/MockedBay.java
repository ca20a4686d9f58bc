package catchbay.hardware.relay;

import catchbay.hardware.clock.LoopHealth;
import catchbay.port.PortException;

import com.pi4j.context.Context;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalOutputProviderImpl;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;

/** Relays on Pi4J's own mock lines, numbered as the enum has them; the drain is active low. */
final class MockedBay implements AutoCloseable {

    static final long BEAT_NANOS = 20_000_000;

    final LoopHealth health = new LoopHealth();
    final Map<Relay, DigitalOutput> lines = new EnumMap<>(Relay.class);

    /** When the heartbeat's level changed, ns. */
    final List<Long> beats = new CopyOnWriteArrayList<>();

    final Relays relays;

    MockedBay(Relay... fitted) throws PortException {
        Context context =
                Wiring.of(
                        new MockDigitalOutputProviderImpl(),
                        with -> {
                            for (Relay relay : fitted) {
                                DigitalState on =
                                        relay == Relay.DRAIN ? DigitalState.LOW : DigitalState.HIGH;
                                lines.put(
                                        relay,
                                        GpiochipRelays.output(
                                                with,
                                                relay,
                                                new GpiochipRelays.Wire(relay.ordinal(), on)));
                            }
                        });
        DigitalOutput beating = lines.get(Relay.HEARTBEAT);
        beating.addListener(event -> beats.add(System.nanoTime()));
        Map<Relay, DigitalOutput> others = new EnumMap<>(lines);
        others.remove(Relay.HEARTBEAT);
        relays = new Relays(context, others, health, new Heartbeat(beating, health, BEAT_NANOS));
        relays.start();
    }

    /** The level at which the line of this relay stands. */
    DigitalState level(Relay relay) {
        return lines.get(relay).state();
    }

    boolean allSafe() {
        return lines.entrySet().stream()
                .filter(line -> line.getKey() != Relay.HEARTBEAT)
                .noneMatch(line -> line.getValue().isOn());
    }

    @Override
    public void close() {
        relays.close();
    }
}

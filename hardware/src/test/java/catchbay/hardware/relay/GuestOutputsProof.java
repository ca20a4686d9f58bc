package catchbay.hardware.relay;

import catchbay.hardware.gpiochip.Chip;
import catchbay.port.PortException;
import catchbay.run.BayCommand;

import com.pi4j.io.gpio.digital.DigitalState;

import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;

/**
 * The shipped relays on a chip of the kernel, as a process that somebody outside ends in several
 * ways while looking at the levels. Run in the kernel guest only: lines 1 to 5 are diverter, drain
 * (active low), supply, light and heartbeat. It says {@code safe} once it holds the lines, and
 * {@code on} once all of them are on.
 */
final class GuestOutputsProof {

    private static final long BEAT_NANOS = 100_000_000;

    /** How long the process stays after its hooks, so that its levels can be looked at, s. */
    private static final long LOOK_SECONDS = 4;

    private GuestOutputsProof() {}

    /**
     * @param arguments the label of the chip, and what then happens: {@code close}; {@code throw},
     *     an exception that nobody catches; {@code exit}; {@code wait}, for a signal
     */
    public static void main(String[] arguments) throws Exception {
        Relays relays = relays(Chip.find(arguments[0]));
        Runtime.getRuntime().addShutdownHook(new Thread(GuestOutputsProof::stay));
        relays.start();
        System.out.println("safe");
        TimeUnit.SECONDS.sleep(1);
        relays.turn();
        relays.perform(new BayCommand.Divert(BayCommand.Way.TANK));
        relays.perform(new BayCommand.Drain(true));
        relays.perform(new BayCommand.Supply(true));
        System.out.println("on");
        TimeUnit.SECONDS.sleep(1);
        switch (arguments[1]) {
            case "close" -> relays.close();
            case "throw" -> throw new IllegalStateException("as a bug would");
            case "exit" -> System.exit(3);
            case "wait" -> TimeUnit.HOURS.sleep(1);
            default -> throw new IllegalArgumentException(arguments[1]);
        }
    }

    private static Relays relays(Chip chip) throws PortException {
        Map<Relay, GpiochipRelays.Wire> wires = new EnumMap<>(Relay.class);
        for (Relay relay : Relay.values()) {
            DigitalState on = relay == Relay.DRAIN ? DigitalState.LOW : DigitalState.HIGH;
            wires.put(relay, new GpiochipRelays.Wire(relay.ordinal() + 1, on));
        }
        return GpiochipRelays.relays(chip, wires, BEAT_NANOS);
    }

    private static void stay() {
        try {
            TimeUnit.SECONDS.sleep(LOOK_SECONDS);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}

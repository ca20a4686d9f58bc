package catchbay.hardware.relay;

import catchbay.hardware.gpiochip.Chip;
import catchbay.port.PortException;
import catchbay.run.BayCommand;

import com.pi4j.io.gpio.digital.DigitalState;

import java.io.IOException;
import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;

/**
 * The shipped relays on a chip of the kernel, as a process that somebody outside ends in several
 * ways while looking at the levels. Run in the kernel guest only: lines 1 to 5 are diverter, drain
 * (active low), supply, light and heartbeat. It says {@code safe} once it holds the lines, and
 * {@code on} once all of them are on; after each it waits for a line of input. However it ends, it
 * holds its lines until its input is closed.
 */
final class GuestRelays {

    private static final long BEAT_NANOS = 100_000_000;

    private GuestRelays() {}

    /**
     * @param arguments the label of the chip, and what then happens: {@code stop}, as at the end of
     *     a run; {@code throw}, an exception that nobody catches; {@code wait}, for a signal
     */
    public static void main(String[] arguments) throws Exception {
        Relays relays = relays(Chip.find(arguments[0]));
        Runtime.getRuntime().addShutdownHook(new Thread(GuestRelays::stay));
        relays.start();
        System.out.println("safe");
        await('\n');
        relays.turn();
        relays.perform(new BayCommand.Divert(BayCommand.Way.TANK));
        relays.perform(new BayCommand.Drain(true));
        relays.perform(new BayCommand.Supply(true));
        System.out.println("on");
        Thread loop = Thread.ofPlatform().daemon().start(() -> turn(relays));
        await('\n');
        loop.interrupt();
        loop.join();
        switch (arguments[1]) {
            case "stop" -> {
                relays.makeSafe();
                await(-1);
                relays.close();
            }
            case "throw" -> throw new IllegalStateException("as a bug would");
            case "wait" -> TimeUnit.HOURS.sleep(1);
            default -> throw new IllegalArgumentException(arguments[1]);
        }
    }

    /** A healthy loop, without which the heartbeat would end. */
    private static void turn(Relays relays) {
        try {
            while (true) {
                relays.turn();
                TimeUnit.MILLISECONDS.sleep(10);
            }
        } catch (InterruptedException ended) {
            Thread.currentThread().interrupt();
        } catch (PortException failure) {
            throw new IllegalStateException(failure);
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

    private static void await(int wanted) throws IOException {
        int read;
        do {
            read = System.in.read();
        } while (read != wanted && read >= 0);
    }

    private static void stay() {
        try {
            await(-1);
        } catch (IOException closed) {
            // As good as its end.
        }
    }
}

package catchbay.sim.device;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Consumer;
import java.util.function.DoubleConsumer;
import java.util.function.Supplier;

/** Lets a person, or a test, steer a stand-in device by lines of text. */
final class DeviceConsole {

    /** Something done to the device's plug. */
    interface Plug {
        void move() throws IOException;
    }

    private static final double HERTZ_MAX = 1000;

    /** Beyond any tank and any pump. */
    private static final double AMOUNT_MAX = 1e6;

    private final Map<String, Consumer<String>> orders = new LinkedHashMap<>();
    private final Supplier<Path> path;
    private Supplier<String> truth = () -> "";
    private final Plug unplug;
    private final Plug replug;

    DeviceConsole(Supplier<Path> path, Consumer<LineFault> fault, Plug unplug, Plug replug) {
        this.path = path;
        this.unplug = unplug;
        this.replug = replug;
        orders.put("fault", name -> fault.accept(LineFault.called(name)));
    }

    /** The period of a rate; fails with a sentence when there is none. */
    static long periodNanos(double hertz) {
        if (!(hertz > 0) || hertz > HERTZ_MAX) {
            throw new IllegalArgumentException(
                    "the rate must be above 0 and at most " + HERTZ_MAX + " Hz, was " + hertz);
        }
        return (long) (1e9 / hertz);
    }

    /** Knows one more order, with a number. */
    DeviceConsole number(String order, DoubleConsumer effect) {
        orders.put(order, word -> effect.accept(amount(order, word)));
        return this;
    }

    /** Knows one more order, with a word. */
    DeviceConsole text(String order, Consumer<String> effect) {
        orders.put(order, effect);
        return this;
    }

    /** What the order {@code show} tells: the truth behind what the device says, with its unit. */
    DeviceConsole shows(Supplier<String> whatIsTrue) {
        truth = whatIsTrue;
        return this;
    }

    /**
     * Says where the device is, and obeys line after line until told to quit or the input ends;
     * answers 0.
     */
    int obey(InputStream in, PrintWriter out, PrintWriter err) throws IOException {
        BufferedReader lines =
                new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
        ready(out);
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
            String[] words = line.strip().split("\\s+", 2);
            switch (words[0]) {
                case "" -> {}
                case "quit" -> {
                    return 0;
                }
                case "unplug" -> {
                    unplug.move();
                    out.println("unplugged");
                    out.flush();
                }
                case "replug" -> {
                    replug.move();
                    ready(out);
                }
                case "show" -> {
                    out.println(truth.get());
                    out.flush();
                }
                default -> order(words, err);
            }
        }
        return 0;
    }

    private void order(String[] words, PrintWriter err) {
        Consumer<String> order = orders.get(words[0]);
        if (order == null) {
            err.println(
                    "unknown order '"
                            + words[0]
                            + "'; use "
                            + String.join(", ", orders.keySet())
                            + ", show, unplug, replug or quit");
        } else {
            try {
                order.accept(words.length == 2 ? words[1] : "");
            } catch (IllegalArgumentException refusal) {
                err.println(refusal.getMessage());
            }
        }
        err.flush();
    }

    private void ready(PrintWriter out) {
        out.println("ready " + path.get());
        out.flush();
    }

    private static double amount(String order, String word) {
        try {
            double amount = Double.parseDouble(word);
            if (Math.abs(amount) <= AMOUNT_MAX) {
                return amount;
            }
        } catch (NumberFormatException notANumber) {
            // Falls through to the same sentence.
        }
        throw new IllegalArgumentException(
                order
                        + " must be followed by a number up to "
                        + AMOUNT_MAX
                        + ", was '"
                        + word
                        + "'");
    }
}

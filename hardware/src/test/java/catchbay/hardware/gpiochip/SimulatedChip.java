package catchbay.hardware.gpiochip;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * A chip of the kernel's own simulation, whose lines a test drives and looks at. Only where the
 * driver gpio-sim is loaded and we are root: in the kernel guest. Source: the kernel's
 * admin-guide/gpio/gpio-sim.
 */
final class SimulatedChip implements AutoCloseable {

    private static final Path ALL = Path.of("/sys/kernel/config/gpio-sim");

    private final Path config;
    private Path lines;
    private boolean live;

    SimulatedChip(String name, String label, int lineCount) throws IOException {
        config = ALL.resolve(name);
        Path bank = Files.createDirectories(config.resolve("bank0"));
        write(bank.resolve("num_lines"), Integer.toString(lineCount));
        write(bank.resolve("label"), label);
        plugIn();
    }

    void plugIn() throws IOException {
        write(config.resolve("live"), "1");
        live = true;
        lines =
                Path.of("/sys/devices/platform")
                        .resolve(read(config.resolve("dev_name")))
                        .resolve(read(config.resolve("bank0/chip_name")));
    }

    void pullOut() throws IOException {
        write(config.resolve("live"), "0");
        live = false;
    }

    Path device() throws IOException {
        return Path.of("/dev").resolve(read(config.resolve("bank0/chip_name")));
    }

    /** Drives a line from outside. */
    void drive(int line, boolean high) throws IOException {
        write(lines.resolve("sim_gpio" + line + "/pull"), high ? "pull-up" : "pull-down");
    }

    /** The level on the line's wire, whoever drives it. */
    boolean high(int line) throws IOException {
        return read(lines.resolve("sim_gpio" + line + "/value")).equals("1");
    }

    /** Begins to make rising edges on a line, by a process of its own. */
    Process pulses(int line, int count, int periodMicros) throws IOException {
        return new ProcessBuilder(
                        "/bin/toggle",
                        lines.resolve("sim_gpio" + line + "/pull").toString(),
                        Integer.toString(count),
                        Integer.toString(periodMicros))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
    }

    /** Makes rising edges on a line, and answers how many ms they took. */
    long pulse(int line, int count, int periodMicros) throws IOException, InterruptedException {
        Process toggling = pulses(line, count, periodMicros);
        String[] said =
                new String(toggling.getInputStream().readAllBytes(), StandardCharsets.US_ASCII)
                        .strip()
                        .split(" ");
        if (toggling.waitFor() != 0 || !said[0].equals(Integer.toString(count))) {
            throw new IOException("the line was not driven");
        }
        return Long.parseLong(said[1]);
    }

    @Override
    public void close() throws IOException {
        if (live) {
            pullOut();
        }
        Files.delete(config.resolve("bank0"));
        Files.delete(config);
    }

    private static void write(Path file, String text) throws IOException {
        Files.writeString(file, text);
    }

    private static String read(Path file) throws IOException {
        return Files.readString(file).strip();
    }
}

package catchbay.hardware.pwm;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/**
 * One channel as the kernel shows it: the files period, duty_cycle (both ns) and enable (Linux
 * documentation, Pulse Width Modulation interface). For one thread at a time.
 */
final class PwmChannel {

    private final Path folder;

    PwmChannel(Path folder) {
        this.folder = folder;
    }

    /** Sends pulses that are high for half of their period, ns. */
    void send(long periodNanos) throws IOException {
        long half = periodNanos / 2;
        // The kernel refuses a period shorter than the time for which it is high.
        if (Long.parseLong(Files.readString(folder.resolve("duty_cycle")).strip()) > periodNanos) {
            write("duty_cycle", half);
        }
        write("period", periodNanos);
        write("duty_cycle", half);
        write("enable", 1);
    }

    /** No pulses, and the line low, which a driver need not do for a channel that is only off. */
    void stop() throws IOException {
        try {
            write("duty_cycle", 0);
        } finally {
            write("enable", 0);
        }
    }

    /** Whether it sends: what nobody of this program has asked of it yet, somebody else did. */
    boolean isEnabled() throws IOException {
        return !Files.readString(folder.resolve("enable")).strip().equals("0");
    }

    private void write(String file, long value) throws IOException {
        Files.writeString(
                folder.resolve(file),
                Long.toString(value),
                StandardOpenOption.WRITE,
                StandardOpenOption.TRUNCATE_EXISTING);
    }

    @Override
    public String toString() {
        return folder.toString();
    }
}

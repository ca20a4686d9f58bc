package catchbay.hardware.gpiochip;

import static java.lang.foreign.ValueLayout.JAVA_INT;
import static java.lang.foreign.ValueLayout.JAVA_LONG;

import catchbay.port.PortException;

import java.io.IOException;
import java.lang.foreign.Arena;
import java.lang.foreign.MemorySegment;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/**
 * One GPIO chip of this computer, found by the label that its driver gives it. Never by number: the
 * number of a chip changes with the order in which drivers start. Immutable; may be used by any
 * thread.
 *
 * @param device the path of its device
 * @param label its label, as in {@code pinctrl-rp1}
 * @param lines how many lines it has, numbered from 0
 */
public record Chip(Path device, String label, int lines) {

    private static final Path DEVICES = Path.of("/dev");
    private static final Path DRIVERS = Path.of("/sys/bus/gpio/devices");

    /**
     * The chip with this label.
     *
     * @throws PortException when there is none, several, or none that may be used; the sentence
     *     lists what there is
     */
    public static Chip find(String label) throws PortException {
        Set<String> labels = new TreeSet<>();
        Set<Path> forbidden = new TreeSet<>();
        List<Chip> chips = new ArrayList<>();
        for (Path device : devices()) {
            Chip chip = read(device, forbidden);
            if (chip != null) {
                chips.add(chip);
                labels.add(chip.label);
            }
        }
        List<Chip> found = chips.stream().filter(chip -> chip.label.equals(label)).toList();
        if (found.size() == 1) {
            return found.getFirst();
        }
        if (found.size() > 1) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    found.size()
                            + " GPIO chips are labelled '"
                            + label
                            + "' ("
                            + listed(found.stream().map(Chip::device).toList())
                            + "), and which one is meant cannot be told; take one of them away.");
        }
        if (!forbidden.isEmpty()) {
            throw forbidden(forbidden.iterator().next());
        }
        throw new PortException(
                PortException.Kind.MISSING,
                "There is no GPIO chip labelled '"
                        + label
                        + "'; "
                        + (labels.isEmpty()
                                ? "this computer has none at all: switch its driver on, or"
                                        + " start the program on the bay's own computer."
                                : "name one of those that exist: " + listed(labels) + "."));
    }

    /** Each chip once, though old names of it may remain as links. */
    private static Set<Path> devices() throws PortException {
        Set<Path> devices = new TreeSet<>();
        try (DirectoryStream<Path> paths = Files.newDirectoryStream(DEVICES, "gpiochip*")) {
            for (Path path : paths) {
                devices.add(path.toRealPath());
            }
        } catch (IOException failure) {
            throw new PortException(
                    PortException.Kind.GONE,
                    "The devices under " + DEVICES + " changed while they were read; try again.",
                    failure);
        }
        return devices;
    }

    /** The chip behind a device; null when it is none any more, or we may not ask it. */
    private static Chip read(Path device, Set<Path> forbidden) {
        Kernel kernel = new Kernel();
        int descriptor = kernel.open(device.toString());
        if (descriptor == -Kernel.FORBIDDEN || descriptor == -Kernel.FORBIDDEN_FOR_ROOT) {
            forbidden.add(device);
        }
        if (descriptor < 0) {
            return null;
        }
        try (Arena arena = Arena.ofConfined()) {
            MemorySegment info = arena.allocate(Uapi.CHIP_INFO_BYTES, Long.BYTES);
            if (kernel.ioctl(descriptor, Uapi.GET_CHIP_INFO, info) < 0) {
                return null;
            }
            return new Chip(
                    device, name(info, Uapi.CHIP_LABEL), info.get(JAVA_INT, Uapi.CHIP_LINES));
        } finally {
            kernel.close(descriptor);
        }
    }

    /** Whether the kernel only simulates it (the driver gpio-sim). */
    public boolean simulated() {
        try {
            Path driver = DRIVERS.resolve(device.getFileName()).toRealPath();
            return driver.toString().contains("/gpio-sim.");
        } catch (IOException gone) {
            return false;
        }
    }

    /**
     * Takes one line for its rising edges, with no debounce of the kernel's, whose stamps would be
     * late.
     *
     * <p>An idle line is held beside it: only in a request of several lines does the kernel number
     * edges where they interrupt, so that edges which its interrupt thread merges later leave a gap
     * (gpiolib-cdev.c, edge_irq_handler and edge_irq_thread). Its own edges are not asked for, so
     * noise on it cannot use up a number.
     *
     * @param consumer who takes it, shown to whoever finds it busy; cut at 31 bytes
     * @param line the line's number on this chip
     * @param companion a line of the same chip that is used for nothing else
     * @throws PortException when a line is taken (by whom), is not there, or may not be used
     */
    public LineRequest edges(String consumer, int line, int companion, Bias bias)
            throws PortException {
        return LineRequest.open(
                this,
                consumer,
                new int[] {line, companion},
                Uapi.FLAG_INPUT | Uapi.FLAG_EDGE_RISING | bias.flag(),
                new Attribute(Uapi.ATTRIBUTE_FLAGS, Uapi.FLAG_INPUT, 0b10));
    }

    /** Takes one line with a contact on it; as {@link #contacts}. */
    public ContactLine contact(String consumer, int line, Bias bias, int debounceMicros)
            throws PortException {
        return new ContactLine(contacts(consumer, new int[] {line}, bias, debounceMicros));
    }

    /**
     * Takes lines with contacts on them, for both their edges, which the kernel holds back until
     * the contact has been steady.
     *
     * @param lines numbers on this chip, 1 to 64 of them
     * @param debounceMicros how long a contact must be steady, us; 0 = no debounce
     */
    LineRequest contacts(String consumer, int[] lines, Bias bias, int debounceMicros)
            throws PortException {
        long flags = Uapi.FLAG_INPUT | Uapi.FLAG_EDGE_RISING | Uapi.FLAG_EDGE_FALLING | bias.flag();
        if (debounceMicros == 0) {
            return LineRequest.open(this, consumer, lines, flags);
        }
        return LineRequest.open(
                this,
                consumer,
                lines,
                flags,
                new Attribute(Uapi.ATTRIBUTE_DEBOUNCE, debounceMicros, all(lines)));
    }

    /**
     * Takes lines as outputs; they have their first levels from the moment at which they drive.
     *
     * @param lines numbers on this chip, 1 to 64 of them
     * @param levels the first level of each line, in the same order
     */
    public OutputLines outputs(String consumer, int[] lines, boolean[] levels)
            throws PortException {
        if (lines.length != levels.length) {
            throw new IllegalArgumentException("every output needs its first level");
        }
        long bits = 0;
        for (int i = 0; i < levels.length; i++) {
            bits |= levels[i] ? 1L << i : 0;
        }
        LineRequest request =
                LineRequest.open(
                        this,
                        consumer,
                        lines,
                        Uapi.FLAG_OUTPUT,
                        new Attribute(Uapi.ATTRIBUTE_OUTPUT_VALUES, bits, all(lines)));
        return new OutputLines(request, lines);
    }

    /**
     * What differs from the request's own configuration.
     *
     * @param mask one bit for each line it holds for, by its place in the request
     */
    record Attribute(int id, long value, long mask) {}

    /** Which of these lines is taken, and by whom, as a sentence's end; empty when none is. */
    String takenBy(Kernel kernel, int descriptor, int[] wanted) {
        for (int line : wanted) {
            try (Arena arena = Arena.ofConfined()) {
                MemorySegment info = arena.allocate(Uapi.LINE_INFO_BYTES, Long.BYTES);
                info.set(JAVA_INT, Uapi.INFO_OFFSET, line);
                if (kernel.ioctl(descriptor, Uapi.GET_LINE_INFO, info) < 0
                        || (info.get(JAVA_LONG, Uapi.INFO_FLAGS) & Uapi.FLAG_USED) == 0) {
                    continue;
                }
                String consumer = name(info, Uapi.INFO_CONSUMER);
                return "line "
                        + line
                        + " is held by "
                        + (consumer.isEmpty() ? "somebody without a name" : "'" + consumer + "'");
            }
        }
        return "";
    }

    static PortException forbidden(Path device) {
        String group;
        try {
            group = Files.readAttributes(device, PosixFileAttributes.class).group().getName();
        } catch (IOException gone) {
            group = "that owns it";
        }
        return new PortException(
                PortException.Kind.FORBIDDEN,
                "This user may not use the GPIO chip "
                        + device
                        + "; add the user to the group "
                        + group
                        + " and log in again.");
    }

    @Override
    public String toString() {
        return label + " (" + device + ")";
    }

    private static long all(int[] lines) {
        return lines.length == Uapi.LINES_MAX ? -1L : (1L << lines.length) - 1;
    }

    /** A name of the kernel's: at most 31 bytes and a zero. */
    private static String name(MemorySegment from, int at) {
        return from.asSlice(at, Uapi.NAME_BYTES).getString(0);
    }

    private static String listed(Iterable<?> things) {
        StringBuilder listed = new StringBuilder();
        for (Object thing : things) {
            listed.append(listed.isEmpty() ? "" : ", ").append(thing);
        }
        return listed.toString();
    }
}

package catchbay.hardware.gpiochip;

import static java.lang.foreign.ValueLayout.JAVA_BYTE;
import static java.lang.foreign.ValueLayout.JAVA_INT;
import static java.lang.foreign.ValueLayout.JAVA_LONG;

import catchbay.port.PortException;

import java.lang.foreign.Arena;
import java.lang.foreign.MemorySegment;
import java.nio.charset.StandardCharsets;

/**
 * Lines of one chip that we hold, nobody else, until they are closed. For one thread at a time.
 *
 * <p>Events are read in batches into a buffer outside the heap that is used again and again: {@link
 * #await} fills it, the other methods look at it. Reading allocates nothing.
 */
public final class LineRequest implements AutoCloseable {

    private final String name;
    private final int descriptor;
    private final Kernel kernel;
    private final MemorySegment buffer =
            Arena.ofAuto().allocate((long) Uapi.EVENT_BUFFER_MAX * Uapi.EVENT_BYTES, Long.BYTES);
    private final MemorySegment values =
            Arena.ofAuto().allocate(Uapi.LINE_VALUES_BYTES, Long.BYTES);
    private boolean closed;

    /** Events from a descriptor that is read like a request's. */
    LineRequest(String name, int descriptor, Kernel kernel) {
        this.name = name;
        this.descriptor = descriptor;
        this.kernel = kernel;
    }

    static LineRequest open(
            Chip chip, String consumer, int[] lines, long flags, Chip.Attribute... attributes)
            throws PortException {
        refuseAbsent(chip, lines);
        Kernel kernel = new Kernel();
        int device = kernel.open(chip.device().toString());
        if (device < 0) {
            throw refusal(chip, -device, "");
        }
        try (Arena arena = Arena.ofConfined()) {
            MemorySegment request = arena.allocate(Uapi.LINE_REQUEST_BYTES, Long.BYTES);
            MemorySegment.copy(lines, 0, request, JAVA_INT, 0, lines.length);
            byte[] named = consumer.getBytes(StandardCharsets.UTF_8);
            int length = Math.min(named.length, Uapi.NAME_BYTES - 1);
            MemorySegment.copy(named, 0, request, JAVA_BYTE, Uapi.REQUEST_CONSUMER, length);
            request.set(JAVA_LONG, Uapi.REQUEST_FLAGS, flags);
            request.set(JAVA_INT, Uapi.REQUEST_ATTRIBUTE_COUNT, attributes.length);
            for (int i = 0; i < attributes.length; i++) {
                int at = Uapi.REQUEST_ATTRIBUTES + i * Uapi.ATTRIBUTE_BYTES;
                request.set(JAVA_INT, at, attributes[i].id());
                request.set(JAVA_LONG, at + Uapi.ATTRIBUTE_VALUE, attributes[i].value());
                request.set(JAVA_LONG, at + Uapi.ATTRIBUTE_MASK, attributes[i].mask());
            }
            request.set(JAVA_INT, Uapi.REQUEST_LINE_COUNT, lines.length);
            request.set(JAVA_INT, Uapi.REQUEST_EVENT_BUFFER, Uapi.EVENT_BUFFER_MAX);
            int granted = kernel.ioctl(device, Uapi.GET_LINE, request);
            if (granted < 0) {
                throw refusal(chip, -granted, chip.takenBy(kernel, device, lines));
            }
            String name = "line " + lines[0] + " of " + chip;
            return new LineRequest(name, request.get(JAVA_INT, Uapi.REQUEST_DESCRIPTOR), kernel);
        } finally {
            kernel.close(device);
        }
    }

    private static void refuseAbsent(Chip chip, int[] lines) throws PortException {
        if (lines.length == 0 || lines.length > Uapi.LINES_MAX) {
            throw new IllegalArgumentException("a request holds 1 to 64 lines");
        }
        for (int line : lines) {
            if (line < 0 || line >= chip.lines()) {
                throw new PortException(
                        PortException.Kind.MISSING,
                        "There is no line "
                                + line
                                + " on the GPIO chip "
                                + chip
                                + "; it has lines 0 to "
                                + (chip.lines() - 1)
                                + ".");
            }
        }
    }

    private static PortException refusal(Chip chip, int error, String taken) {
        return switch (error) {
            case Kernel.BUSY ->
                    new PortException(
                            PortException.Kind.BUSY,
                            "On the GPIO chip "
                                    + chip
                                    + " "
                                    + (taken.isEmpty() ? "a line was held a moment ago" : taken)
                                    + "; stop that program, or wire to another line.");
            case Kernel.FORBIDDEN, Kernel.FORBIDDEN_FOR_ROOT -> Chip.forbidden(chip.device());
            case Kernel.NO_ENTRY, Kernel.NO_DEVICE ->
                    new PortException(
                            PortException.Kind.GONE,
                            "The GPIO chip " + chip + " has gone; check its plug and its driver.");
            default ->
                    new PortException(
                            PortException.Kind.UNFIT,
                            "The GPIO chip "
                                    + chip
                                    + " cannot be used as asked (error "
                                    + error
                                    + " of the kernel); check that it can do edges and bias, and"
                                    + " that the kernel is 5.10 or newer.");
        };
    }

    /**
     * Waits for events and reads all that fit the buffer.
     *
     * @param waitMillis how long to wait for the first, ms
     * @return how many; 0 when the time was up
     * @throws PortException when the chip has gone
     */
    public int await(int waitMillis) throws PortException {
        int found = kernel.poll(descriptor, waitMillis);
        if (found == 0 || found == -Kernel.INTERRUPTED) {
            return 0;
        }
        if (found < 0 || (found & Kernel.READY) == 0) {
            throw gone(found < 0 ? -found : Kernel.NO_DEVICE);
        }
        int bytes = kernel.read(descriptor, buffer);
        if (bytes == -Kernel.INTERRUPTED) {
            return 0;
        }
        if (bytes <= 0) {
            throw gone(bytes == 0 ? Kernel.NO_DEVICE : -bytes);
        }
        return bytes / Uapi.EVENT_BYTES;
    }

    /** When an event came, ns of the monotonic clock. */
    public long stampNanos(int event) {
        return buffer.get(JAVA_LONG, at(event, 0));
    }

    /** Whether its line became active; else it became inactive. */
    public boolean rising(int event) {
        return buffer.get(JAVA_INT, at(event, Uapi.EVENT_ID)) == Uapi.EVENT_RISING;
    }

    /** The number of its line on the chip. */
    public int line(int event) {
        return buffer.get(JAVA_INT, at(event, Uapi.EVENT_OFFSET));
    }

    /** Its number among all events of the request, 32 bits, from 1. */
    int sequence(int event) {
        return buffer.get(JAVA_INT, at(event, Uapi.EVENT_SEQUENCE));
    }

    /** Its number among the events of its line, 32 bits, from 1. */
    int lineSequence(int event) {
        return buffer.get(JAVA_INT, at(event, Uapi.EVENT_LINE_SEQUENCE));
    }

    private static long at(int event, int field) {
        return (long) event * Uapi.EVENT_BYTES + field;
    }

    /** The levels now: a bit for each line, by its place in the request. */
    public long levels() throws PortException {
        values.set(JAVA_LONG, 0, 0);
        values.set(JAVA_LONG, Uapi.VALUES_MASK, -1L);
        return asked(Uapi.GET_VALUES);
    }

    /** Sets the levels of the lines in the mask. */
    void set(long bits, long mask) throws PortException {
        values.set(JAVA_LONG, 0, bits);
        values.set(JAVA_LONG, Uapi.VALUES_MASK, mask);
        asked(Uapi.SET_VALUES);
    }

    private long asked(long request) throws PortException {
        int result = kernel.ioctl(descriptor, request, values);
        if (result < 0) {
            throw gone(-result);
        }
        return values.get(JAVA_LONG, 0);
    }

    private PortException gone(int error) {
        return new PortException(
                error == Kernel.NO_DEVICE ? PortException.Kind.GONE : PortException.Kind.UNFIT,
                error == Kernel.NO_DEVICE
                        ? "The GPIO chip of " + name + " has gone; check its plug and its driver."
                        : "The " + name + " failed (error " + error + " of the kernel).");
    }

    /** Lets the lines go. */
    @Override
    public void close() {
        if (!closed) {
            closed = true;
            kernel.close(descriptor);
        }
    }

    @Override
    public String toString() {
        return name;
    }
}

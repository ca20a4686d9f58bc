package catchbay.hardware.gpiochip;

import catchbay.port.PortException;

/**
 * Output lines of one chip that we hold. What a line does once it is let go, or once the process
 * has died, is the driver's affair and not promised here. For one thread at a time.
 */
public final class OutputLines implements AutoCloseable {

    private final LineRequest request;
    private final int[] lines;

    OutputLines(LineRequest request, int[] lines) {
        this.request = request;
        this.lines = lines.clone();
    }

    /**
     * Sets one line; it drives the new level when this returns.
     *
     * @param line its number on the chip, one of those asked for
     * @throws PortException when the chip has gone
     */
    public void set(int line, boolean active) throws PortException {
        long mask = mask(line);
        request.set(active ? mask : 0, mask);
    }

    /**
     * Sets all lines in one call.
     *
     * @param levels one for each line, in the order in which they were asked for
     */
    public void setAll(boolean[] levels) throws PortException {
        if (levels.length != lines.length) {
            throw new IllegalArgumentException("every output needs a level");
        }
        long bits = 0;
        long mask = 0;
        for (int i = 0; i < lines.length; i++) {
            mask |= 1L << i;
            bits |= levels[i] ? 1L << i : 0;
        }
        request.set(bits, mask);
    }

    /** Whether the line is set active, as the kernel tells it. */
    public boolean active(int line) throws PortException {
        return (request.levels() & mask(line)) != 0;
    }

    private long mask(int line) {
        for (int i = 0; i < lines.length; i++) {
            if (lines[i] == line) {
                return 1L << i;
            }
        }
        throw new IllegalArgumentException("line " + line + " is none of the outputs held");
    }

    /** Lets the lines go as they are. */
    @Override
    public void close() {
        request.close();
    }
}

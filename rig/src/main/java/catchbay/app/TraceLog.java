package catchbay.app;

import catchbay.port.Source;

/**
 * Where a run's trace lines go. Its {@link #drain} tells what has become durable ({@link
 * catchbay.run.RunInput.TraceDurable}) and what could not be written ({@link
 * catchbay.run.RunInput.TraceFailed}).
 */
public interface TraceLog extends Source {

    /**
     * Takes one or more whole lines; returns at once. A full queue shows itself at the next drain.
     *
     * @param bytes a buffer that the caller goes on using
     * @param from where the lines begin in it
     * @param length how many bytes they are
     * @param atNanos the stamp up to which the trace is told by these lines
     */
    void append(byte[] bytes, int from, int length, long atNanos);

    /** Brings everything appended so far onto the medium soon, without waiting for it. */
    void requestSync();
}

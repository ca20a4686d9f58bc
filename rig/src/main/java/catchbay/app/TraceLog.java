package catchbay.app;

import catchbay.port.Source;
import catchbay.store.ClosedTrace;

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

    /**
     * Ends the trace with its closing line and waits until all of it is on the medium under its
     * closed name: only for when the outputs are safe and nothing else is to be done.
     *
     * @param atNanos when the run ended
     * @param end its outcome's name
     * @param reason its outcome's reason
     */
    End seal(long atNanos, String end, String reason);

    /** How a trace ended. */
    sealed interface End {
        /** It is whole and on the medium. */
        record Closed(ClosedTrace trace) implements End {}

        /**
         * It could not be written to its end and will be found as an open one; the sentence says
         * why.
         */
        record Lost(String sentence) implements End {}
    }

    /** Lets the file go; a trace that was not sealed stays an open one. */
    @Override
    void close();
}

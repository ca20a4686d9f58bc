package catchbay.app;

import java.io.IOException;

/** What is said of a trace that cannot be written. */
final class TraceFailure {

    private TraceFailure() {}

    static String write(IOException cause) {
        return "The trace cannot be written ("
                + cause
                + "); check that the disk is there and not full, and begin again.";
    }

    static String full(int bytesMax) {
        return "The trace's queue of "
                + bytesMax
                + " bytes is full: the disk is too slow; use a faster disk or lower "
                + "the pulse rates, and begin again.";
    }
}

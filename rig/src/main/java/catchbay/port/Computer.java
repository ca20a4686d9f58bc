package catchbay.port;

import catchbay.run.BayComputer;

/** The bay's own computer: its supply and its clock. */
public interface Computer extends AutoCloseable {

    /** What it said of itself last, seconds ago at most; returns at once. */
    BayComputer state();

    @Override
    void close();
}

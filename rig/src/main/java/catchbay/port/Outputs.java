package catchbay.port;

import catchbay.run.BayCommand;

/**
 * The bay's outputs that are on or off. Safe levels: diverter to bypass, drain shut, supply off.
 */
public interface Outputs extends AutoCloseable {

    /** Does it now; returns when it was sent out, not when a valve has moved. */
    void perform(BayCommand.Switched command) throws PortException;

    /**
     * The loop went round, with a run under way; returns at once. Whatever watches the program by a
     * heartbeat, or tells people of the run, learns it from here.
     */
    void turn() throws PortException;

    /**
     * Sets every output to its safe level; no run is under way from now on. Never throws: what
     * cannot be set is for the hard-wired relay.
     */
    void makeSafe();

    /**
     * Something else that the bay drives cannot be stopped: whatever holds the hard-wired relay
     * lets it go, for good.
     */
    void letGo();

    /** Safe levels, then lets the lines go. */
    @Override
    void close();
}

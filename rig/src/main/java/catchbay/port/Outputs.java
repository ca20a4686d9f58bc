package catchbay.port;

import catchbay.run.BayCommand;

/**
 * The bay's outputs. Safe levels: diverter to bypass, drain shut, supply off, speed and feeder
 * pulses at 0 Hz.
 */
public interface Outputs extends AutoCloseable {

    /** Does it now; returns when it was sent out, not when a valve has moved. */
    void perform(BayCommand.Output command) throws PortException;

    /**
     * Sets every output to its safe level. Never throws: what cannot be set is for the hard-wired
     * relay.
     */
    void makeSafe();

    /** Safe levels, then lets the lines go. */
    @Override
    void close();
}

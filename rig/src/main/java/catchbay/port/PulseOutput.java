package catchbay.port;

import catchbay.run.BayCommand;

/**
 * The bay's pulses to a truck's controller, which takes them for those of its own sensors. Every
 * rate that is sent, also on the way to the one asked for, comes back as an input, so that a run
 * knows what the truck was shown: {@link catchbay.run.RunInput.PulsesSent}.
 */
public interface PulseOutput extends Source {

    /**
     * Asks for a rate. A lower one is sent when this returns; a higher one may be risen to from
     * drain to drain.
     *
     * @throws PortException when the rate cannot be reached, or not be set; a rate that cannot be
     *     set leaves no pulses
     */
    void perform(BayCommand.Pulses command) throws PortException;

    /**
     * No pulses, at once. Never throws: what cannot be set is for the hard-wired relay.
     *
     * @return whether none are sent any more
     */
    boolean makeSafe();

    /** No pulses, then lets the outputs go. */
    @Override
    void close();
}

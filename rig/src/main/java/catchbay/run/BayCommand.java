package catchbay.run;

/** What a step wants done. The loop performs it; nothing here has happened yet. */
public sealed interface BayCommand {

    /** A command to an output of the bay. */
    sealed interface Output extends BayCommand {}

    /** A command to what is on or off. */
    sealed interface Switched extends Output {}

    /** A command to what sends pulses to the truck's controller. */
    sealed interface Pulses extends Output {
        /** Pulses/s, finite and >= 0; 0 = none, at once. */
        double hertz();
    }

    /** Where the diverter sends the liquid. */
    enum Way {
        /** Back to storage: the open path that always stays. */
        BYPASS,
        /** Into the catch tank. */
        TANK
    }

    /** Move the diverter. */
    record Divert(Way way) implements Switched {}

    /** Open or shut the catch tank's drain. */
    record Drain(boolean open) implements Switched {}

    /** Enable or cut the bay's own supply. */
    record Supply(boolean on) implements Switched {}

    /**
     * Send ground-speed pulses to the truck's controller.
     *
     * @param hertz pulses/s, finite and >= 0; 0 = none, at once
     */
    record GroundSpeed(double hertz) implements Pulses {
        public GroundSpeed {
            atLeastZero("ground-speed", hertz);
        }
    }

    /**
     * Send feeder pulses to the truck's controller.
     *
     * @param hertz pulses/s, finite and >= 0; 0 = none, at once
     */
    record Feeder(double hertz) implements Pulses {
        public Feeder {
            atLeastZero("feeder", hertz);
        }
    }

    /** Put a question to the operator. */
    record Ask(Question question) implements BayCommand {}

    /**
     * Bring every trace line so far onto the medium; {@link RunInput.TraceDurable} tells when that
     * is done.
     */
    record SecureTrace() implements BayCommand {}

    private static void atLeastZero(String what, double hertz) {
        if (!Double.isFinite(hertz) || hertz < 0) {
            throw new IllegalArgumentException(
                    what + " pulses must be finite and >= 0 Hz, were " + hertz);
        }
    }
}

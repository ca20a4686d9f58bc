package catchbay.run;

import catchbay.run.Outcome.Cause;

/** What ends an evaluation early; it never leaves this package. */
final class Unfit extends Exception {

    private static final long serialVersionUID = 1L;

    private final transient Outcome.Void outcome;

    /**
     * @param reason as a whole sentence
     */
    Unfit(Cause cause, String reason) {
        super(reason, null, false, false);
        this.outcome = new Outcome.Void(cause, reason);
    }

    /** The run's end that it makes. */
    Outcome.Void outcome() {
        return outcome;
    }
}

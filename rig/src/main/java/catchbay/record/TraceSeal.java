package catchbay.record;

/** Whether a trace is whole and as it was written. */
public sealed interface TraceSeal {

    /**
     * The closing line is last and complete, and its count and hash agree with what came before.
     *
     * @param closing the closing line
     * @param sha256 of the whole text, closing line included; what a record keeps
     */
    record Sealed(TraceLine.Closing closing, String sha256) implements TraceSeal {}

    /**
     * There is nothing to hold the trace against, for the reason given as a sentence. Never
     * accepted.
     */
    record Unsealed(String reason) implements TraceSeal {}

    /** The closing line contradicts what came before, as the sentence says. Never accepted. */
    record Damaged(String reason) implements TraceSeal {}
}

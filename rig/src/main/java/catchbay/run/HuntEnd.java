package catchbay.run;

/** How a hunt ended. */
public sealed interface HuntEnd {
    /** It came to its end. */
    record Reached(HuntResult result) implements HuntEnd {}

    /** Nobody confirmed its cautions: nothing has moved, and nothing is kept of it. */
    record NotBegun(String reason) implements HuntEnd {}

    /** An interlock, a person or a failure broke it off: it has found nothing. */
    record BrokenOff(String reason) implements HuntEnd {}
}

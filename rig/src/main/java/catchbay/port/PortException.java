package catchbay.port;

/** A broken wire: what failed and what to do, as a sentence for a person. */
public final class PortException extends Exception {

    private static final long serialVersionUID = 1L;

    /** What kind of trouble it is. */
    public enum Kind {
        /** The thing named does not exist. */
        MISSING,
        /** Somebody else holds it. */
        BUSY,
        /** We may not use it. */
        FORBIDDEN,
        /** It was there and is gone. */
        GONE,
        /** It cannot do what was asked. */
        UNFIT,
        /** Its buffer was full and something was lost. */
        OVERFLOW
    }

    private final Kind kind;

    /**
     * @param kind the kind of trouble
     * @param sentence what, with which value, and what to do
     */
    public PortException(Kind kind, String sentence) {
        super(sentence);
        this.kind = kind;
    }

    /** As {@link #PortException(Kind, String)}, with the cause below it. */
    public PortException(Kind kind, String sentence, Throwable cause) {
        super(sentence, cause);
        this.kind = kind;
    }

    /** The kind of trouble. */
    public Kind kind() {
        return kind;
    }
}

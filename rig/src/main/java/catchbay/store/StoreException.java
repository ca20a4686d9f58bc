package catchbay.store;

/**
 * The data folder, its records or a trace's file cannot be used: what and what to do, as a sentence
 * for a person.
 */
public final class StoreException extends Exception {

    private static final long serialVersionUID = 1L;

    /** A refusal with its sentence. */
    public StoreException(String sentence) {
        super(sentence);
    }

    /** As {@link #StoreException(String)}, with the cause below it. */
    public StoreException(String sentence, Throwable cause) {
        super(sentence, cause);
    }
}

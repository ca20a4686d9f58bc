package catchbay.record;

/**
 * A document (settings, trace, record) cannot be read: where, which value, and what to do, as one
 * sentence.
 */
public final class DocumentException extends RuntimeException {

    private static final long serialVersionUID = 1L;

    /** A refusal with its sentence. */
    public DocumentException(String sentence) {
        super(sentence);
    }
}

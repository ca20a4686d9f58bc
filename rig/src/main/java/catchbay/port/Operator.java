package catchbay.port;

import catchbay.run.Question;

/** The person at the bay. Answers come back as inputs through {@link Source#drain}. */
public interface Operator extends Source {

    /** Puts a question; returns at once. A newer question replaces one still open. */
    void ask(Question question);
}

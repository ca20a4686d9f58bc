package catchbay.app;

import catchbay.record.DocumentException;

/** A sentence that is told where Ctrl-C or a signal ends the program before something is done. */
final class LastWord implements AutoCloseable {

    private final String sentence;
    private final Thread hook;

    private LastWord(String sentence) {
        this.sentence = sentence;
        this.hook = Thread.ofPlatform().name("last word").unstarted(this::tell);
    }

    /** Listens from now on. */
    static LastWord of(String sentence) {
        LastWord word = new LastWord(sentence);
        Runtime.getRuntime().addShutdownHook(word.hook);
        return word;
    }

    /** Below what a question has begun and a person has not ended. */
    void tell() {
        System.err.println();
        System.err.println("catchbay: " + sentence);
    }

    /**
     * It is done, and the sentence would be wrong from now on.
     *
     * @throws DocumentException where it was told already, so that it stays true
     */
    @Override
    public void close() {
        try {
            Runtime.getRuntime().removeShutdownHook(hook);
        } catch (IllegalStateException ending) {
            throw new DocumentException(sentence);
        }
    }
}

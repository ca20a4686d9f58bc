package catchbay.port;

/**
 * Whoever started the program as a service, and ends it when it hangs. It is told that the program
 * is alive only as long as the loop goes round.
 */
public interface Supervisor extends AutoCloseable {

    /**
     * The loop went round; returns at once. The first one says that the program is ready.
     *
     * @param status what the run is doing, in words
     */
    void turn(String status);

    /** Whether anybody is told at all. */
    boolean isTold();

    /** No run is under way: the loop does not go round, and need not. */
    void idle();

    @Override
    void close();
}

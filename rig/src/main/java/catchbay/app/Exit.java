package catchbay.app;

/** What the program's exit code says. */
public final class Exit {

    /** Done; a catch was measured. */
    public static final int DONE = 0;

    /**
     * The catch or trace gave no result (void, stopped, refused, interrupted or damaged), or a
     * check of the bay or its scale failed.
     */
    public static final int NO_RESULT = 1;

    /** The command line, the settings or a file were refused. */
    public static final int USAGE = 2;

    /** A port, the disk or the program itself failed. */
    public static final int FAILED = 3;

    private Exit() {}
}

package catchbay.record;

/**
 * What a bay is tried by, and how often where its schedule does not say: common practice, no
 * source.
 */
public enum BayTest {
    /** Every line, port, sensor and output, with zero counts and the loop-back. */
    CHECKUP(7),
    /** The scale against check weights. */
    WEIGHTS(30),
    /** What the hose carries of the tank. */
    SHUNT(90),
    /** By how much longer liquid runs into the tank than a window lasts. */
    TIMING(180),
    /** Whether anything comes or goes with everything shut. */
    LEAK(30),
    /** The reference meters against the scale, and against each other. */
    COMPARE(30);

    /** The longest pause between two tests: ten years. */
    static final int DAYS_MAX = 3650;

    private final int daysUsual;

    BayTest(int daysUsual) {
        this.daysUsual = daysUsual;
    }

    int daysUsual() {
        return daysUsual;
    }

    /** How settings, files and commands call it. */
    public String key() {
        return Fields.spelt(this);
    }
}

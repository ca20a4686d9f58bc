package catchbay.sim;

/**
 * The catch tank with the chute above it. The chute holds some liquid back and lets it run after (a
 * linear reservoir, illustrative), so that a tank weighed at once is weighed too early.
 */
final class CatchTank {

    private final double chutePart;
    private final double drainLitresPerSecond;
    private double arrivingLitres;
    private double chuteLitres;
    private double tankLitres;
    private double drainedLitres;
    private boolean draining;

    /**
     * @param stepSeconds the world's step
     * @param chuteSeconds how long a drop stays in the chute on average
     * @param drainLitresPerSecond what the open drain takes
     */
    CatchTank(double stepSeconds, double chuteSeconds, double drainLitresPerSecond) {
        this.chutePart = 1 - StrictMath.exp(-stepSeconds / chuteSeconds);
        this.drainLitresPerSecond = drainLitresPerSecond;
    }

    void arrive(double litres) {
        arrivingLitres += litres;
    }

    void drain(boolean open) {
        draining = open;
    }

    boolean draining() {
        return draining;
    }

    void step(double stepSeconds) {
        double leaving = (chuteLitres + arrivingLitres) * chutePart;
        chuteLitres += arrivingLitres - leaving;
        arrivingLitres = 0;
        double drained =
                draining ? Math.min(tankLitres + leaving, drainLitresPerSecond * stepSeconds) : 0;
        tankLitres += leaving - drained;
        drainedLitres += drained;
    }

    double tankLitres() {
        return tankLitres;
    }

    /** In the chute, not yet in the tank. */
    double chuteLitres() {
        return chuteLitres + arrivingLitres;
    }

    double drainedLitres() {
        return drainedLitres;
    }
}

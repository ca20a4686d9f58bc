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
    private double fullestLitres;
    private boolean drainStuck;
    private double leakLitresPerSecond;

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
        double opening = (draining && !drainStuck ? drainLitresPerSecond : 0) + leakLitresPerSecond;
        double drained = Math.min(tankLitres + leaving, opening * stepSeconds);
        tankLitres += leaving - drained;
        fullestLitres = Math.max(fullestLitres, tankLitres);
        drainedLitres += drained;
    }

    /** The drain stays shut, whatever it is told. */
    void drainStuck(boolean stuck) {
        drainStuck = stuck;
    }

    /** It loses so much beside its drain, L/s. */
    void leak(double litresPerSecond) {
        leakLitresPerSecond = litresPerSecond;
    }

    /** Liquid that came neither through the chute nor past a meter. */
    void pour(double litres) {
        tankLitres += litres;
    }

    double tankLitres() {
        return tankLitres;
    }

    /** The most that it ever held. */
    double fullestLitres() {
        return fullestLitres;
    }

    /** In the chute, not yet in the tank. */
    double chuteLitres() {
        return chuteLitres + arrivingLitres;
    }

    double drainedLitres() {
        return drainedLitres;
    }
}

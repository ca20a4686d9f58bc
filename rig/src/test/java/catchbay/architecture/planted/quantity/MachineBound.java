package catchbay.architecture.planted.quantity;

/** Planted: asks the machine and its maths library. */
final class MachineBound {

    private MachineBound() {}

    static double decay(double seconds) {
        return Math.exp(-seconds) * Math.abs(seconds);
    }

    static String home() {
        return System.getProperty("user.home");
    }
}

package catchbay.quantity;

/**
 * Volume per time.
 *
 * @param litresPerSecond L/s, finite and >= 0
 */
public record FlowRate(double litresPerSecond) implements Comparable<FlowRate> {

    /** Seconds in a minute. */
    private static final double SECONDS_PER_MINUTE = 60.0;

    public FlowRate {
        litresPerSecond = Finite.atLeastZero("flow", litresPerSecond, "L/s");
    }

    /** A flow of so many of the volume unit in a minute. */
    public static FlowRate perMinute(double amount, VolumeUnit unit) {
        return new FlowRate(
                Finite.atLeastZero("flow", amount, unit.symbol() + "/min")
                        * unit.litres()
                        / SECONDS_PER_MINUTE);
    }

    /** This flow in the volume unit per minute. */
    public double perMinute(VolumeUnit unit) {
        return litresPerSecond / unit.litres() * SECONDS_PER_MINUTE;
    }

    /** What passes in so many nanoseconds at this flow. */
    public Volume during(double nanos) {
        return new Volume(litresPerSecond * nanos / 1e9);
    }

    @Override
    public int compareTo(FlowRate other) {
        return Double.compare(litresPerSecond, other.litresPerSecond);
    }
}

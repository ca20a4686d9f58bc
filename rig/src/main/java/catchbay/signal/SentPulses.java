package catchbay.signal;

import java.util.OptionalDouble;

/**
 * Pulses that the bay sends at rates it knows: how many of them a window holds is each rate times
 * how long it was sent. Constant-size; immutable. Stamps are nanoseconds of the monotonic clock.
 *
 * @param sinceNanos since when the present rate is sent; {@link Tally#NONE} before any is told
 * @param hertz the present rate, pulses/s, >= 0
 * @param rising whether it is on the way to a higher one
 * @param openNanos when the window opened; {@link Tally#NONE} before
 * @param closeNanos when it closed; {@link Tally#NONE} before
 * @param pulses in the window, up to {@code sinceNanos} or to its end, whichever came first
 * @param whole whether the rate was known throughout the window
 */
public record SentPulses(
        long sinceNanos,
        double hertz,
        boolean rising,
        long openNanos,
        long closeNanos,
        double pulses,
        boolean whole) {

    /** Nothing is told of any pulses. */
    public static final SentPulses UNTOLD =
            new SentPulses(Tally.NONE, 0, false, Tally.NONE, Tally.NONE, 0, false);

    /** Whether the bay tells what it sends. */
    public boolean told() {
        return sinceNanos != Tally.NONE;
    }

    /** This rate from here on. */
    public SentPulses take(long atNanos, double newHertz, boolean stillRising) {
        // What is told late was sent late, as far as anybody knows.
        long at = Math.max(atNanos, sinceNanos);
        boolean open = openNanos != Tally.NONE && closeNanos == Tally.NONE;
        return new SentPulses(
                at,
                newHertz,
                stillRising,
                openNanos,
                closeNanos,
                open ? pulses + until(at) : pulses,
                whole);
    }

    /** The window opened. A rate that has changed between this stamp and now is not known at it. */
    public SentPulses open(long nanos) {
        return new SentPulses(
                sinceNanos, hertz, rising, nanos, Tally.NONE, 0, told() && nanos >= sinceNanos);
    }

    /** The window closed; the same holds for its end. */
    public SentPulses close(long nanos) {
        boolean known = whole && nanos >= sinceNanos && nanos >= openNanos;
        return new SentPulses(
                sinceNanos,
                hertz,
                rising,
                openNanos,
                nanos,
                known ? pulses + until(nanos) : 0,
                known);
    }

    /** Of the closed window, where every rate in it is known. */
    public OptionalDouble inWindow() {
        return whole && closeNanos != Tally.NONE
                ? OptionalDouble.of(pulses)
                : OptionalDouble.empty();
    }

    private double until(long nanos) {
        return hertz * (nanos - Math.max(sinceNanos, openNanos)) / 1e9;
    }
}

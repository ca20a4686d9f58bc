package catchbay.sim;

/** Pulses that the bay itself sends: even, at a rate that changes at once when it is told to. */
final class SteadyTrain {

    private final Door door;
    private double hertz;
    private long sinceNanos;
    private double phaseThen;
    private long pulses;

    /**
     * @param door where the pulses are looped back to; null when they are not
     */
    SteadyTrain(Door door, long startNanos) {
        this.door = door;
        this.sinceNanos = startNanos;
    }

    void rate(long nowNanos, double newHertz) {
        run(nowNanos);
        phaseThen = phase(nowNanos);
        sinceNanos = nowNanos;
        hertz = newHertz;
    }

    double hertz() {
        return hertz;
    }

    /**
     * Sends what is due up to now. Each pulse is placed from the last change of rate, so nothing
     * adds up.
     */
    void run(long nowNanos) {
        if (hertz == 0) {
            return;
        }
        long stamp = stampOf(pulses + 1);
        while (stamp <= nowNanos) {
            pulses++;
            if (door != null) {
                door.pulse(stamp);
            }
            stamp = stampOf(pulses + 1);
        }
    }

    double phase(long nowNanos) {
        return phaseThen + hertz * (nowNanos - sinceNanos) / 1e9;
    }

    private long stampOf(long pulse) {
        return sinceNanos + (long) Math.rint((pulse - phaseThen) / hertz * 1e9);
    }
}

package catchbay.hardware.pwm;

import catchbay.port.PortException;

/**
 * Which rates a timer reaches that counts whole ticks of its clock in 32 bits.
 *
 * @param clockHertz ticks/s, above 0
 * @param errorMaxPercent how far a rate may be from the one asked for, % of it
 */
record PulseDivider(double clockHertz, double errorMaxPercent) {

    private static final double NANOS_PER_SECOND = 1e9;
    private static final double TICKS_MAX = 0xFFFF_FFFFL;

    private static final double DIVISION_NANOS = 1e-3;

    /** Fewer ticks have no half, and a pulse is high for half of its period. */
    private static final double TICKS_MIN = 2;

    /**
     * A period that the timer can make.
     *
     * @param nanos as the kernel is told it, ns
     * @param hertz pulses/s that come of it, by the stated clock
     */
    record Period(long nanos, double hertz) {}

    /**
     * The period nearest to a rate.
     *
     * @param wanted pulses/s, above 0
     * @throws PortException when the timer does not come near enough
     */
    Period period(double wanted) throws PortException {
        double ticks = Math.rint(clockHertz / wanted);
        double errorPercent = Math.abs(clockHertz / ticks / wanted - 1) * 100;
        // Written so that a rate without a number is refused, too.
        if (!(inRange(ticks) && errorPercent <= errorMaxPercent)) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The pulse output cannot send "
                            + wanted
                            + " pulses/s to within "
                            + errorMaxPercent
                            + " % with a clock of "
                            + clockHertz
                            + " Hz; ask for another speed, or state a larger error_max_percent.");
        }
        return of(ticks);
    }

    /**
     * The period nearest to a rate that the timer makes, however far from it: on the way to the
     * rate that was asked for, any will do that is known.
     *
     * @param about pulses/s, above 0
     */
    Period onTheWay(double about) {
        return of(Math.clamp(Math.rint(clockHertz / about), TICKS_MIN, TICKS_MAX));
    }

    private static boolean inRange(double ticks) {
        return ticks >= TICKS_MIN && ticks <= TICKS_MAX;
    }

    private Period of(double ticks) {
        // A driver rounds what it is told down to whole ticks, so the period is told rounded up,
        // but for what a division leaves of a whole number.
        double nanos = ticks * NANOS_PER_SECOND / clockHertz;
        return new Period((long) Math.ceil(nanos - DIVISION_NANOS), clockHertz / ticks);
    }
}

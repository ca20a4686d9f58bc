package catchbay.run;

import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.Plan;
import catchbay.run.RunSetup.Window;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseGate;
import catchbay.signal.Tally;

import java.util.List;
import java.util.Optional;

/** The pulses of a line in the window, and how good their count is. */
final class Counting {

    /** Half-width of a count to the whole pulse. */
    private static final double ONE_PULSE = 1;

    /** An even spread of half-width 1 as a standard uncertainty: 1 / sqrt 3. */
    static final double EVEN = 0.5773502691896258;

    /**
     * Variance of the two ends of a window over that of the spacing, as {@link Tally#scatter()}
     * tells it from its second differences. Where each pulse is displaced by itself, as by uneven
     * blades, two displaced pulses make 2 d^2, and second differences scatter by 6 d^2, of which
     * the tally takes half. Where each spacing scatters by itself, as in a flickering flow, an end
     * cuts its spacing anywhere, which makes a third of it at either end. Both come to 2/3.
     */
    private static final double ENDS = 2.0 / 3;

    /**
     * Fewest pulses from whose spacings a scatter may be learned. Common practice, no source: with
     * ten it is itself uncertain by a quarter (JCGM 100:2008, table E.1).
     */
    private static final int SCATTER_PULSES_MIN = 10;

    private final Plan plan;
    private final List<String> notes;

    /**
     * @param notes to which is added what a reader must know
     */
    Counting(Plan plan, List<String> notes) {
        this.plan = plan;
        this.notes = notes;
    }

    /** The count of a line that the comparison cannot do without. */
    PulseCount needed(PulseGate gate, String whose) throws Unfit {
        return switch (of(gate)) {
            case PulseCount.DoubleTimed timed -> timed;
            case PulseCount.Whole whole -> {
                notes.add("The " + whose + " was read to the whole pulse: " + whole.why() + ".");
                yield whole;
            }
            case PulseCount.EdgesLost(long seen, long missing) ->
                    throw new Unfit(Cause.EDGES_LOST, Interlocks.edgesLostSentence(missing));
            case PulseCount.Leaping(long seen, long leaps) ->
                    throw new Unfit(
                            Cause.PULSES_LEAP,
                            "The "
                                    + whose
                                    + "'s pulse spacing leaps "
                                    + leaps
                                    + " times in an otherwise even train of "
                                    + seen
                                    + " pulses: a pulse was missed or added; check its wire, shield"
                                    + " and pull-up, and look for air.");
            case PulseCount.Unusable(String reason) ->
                    throw new Unfit(
                            Cause.WINDOW_UNUSABLE, Interlocks.unusableSentence(whose, reason));
        };
    }

    /**
     * The count of a side line, where it gave any pulses. Those that came and cannot be counted are
     * not passed over in silence.
     */
    Optional<PulseCount> ofSideLine(PulseGate gate, String which) {
        if (gate.inside().pulses() == 0 || gate.closeNanos() == Tally.NONE) {
            return Optional.empty();
        }
        return switch (of(gate)) {
            case PulseCount.DoubleTimed timed -> Optional.of(timed);
            case PulseCount.Whole whole -> Optional.of(whole);
            case PulseCount.EdgesLost(long seen, long missing) ->
                    unused(which, "some were lost on the way to the program");
            case PulseCount.Leaping(long seen, long leaps) ->
                    unused(which, "their spacing leaps, so some were missed or added");
            case PulseCount.Unusable(String reason) -> unused(which, reason);
        };
    }

    private Optional<PulseCount> unused(String which, String why) {
        notes.add("The " + which + " were not used for the asked amount: " + why + ".");
        return Optional.empty();
    }

    /** The count of a line by the plan's window, whether it stands or not. */
    PulseCount of(PulseGate gate) {
        return plan.window() == Window.FLYING
                ? gate.flyingCount()
                : gate.standingCount(plan.silenceNanos());
    }

    /** The pulses of a count that stands. */
    static double pulses(PulseCount count) {
        return switch (count) {
            case PulseCount.DoubleTimed timed -> timed.pulses();
            case PulseCount.Whole whole -> whole.counted();
            case PulseCount.EdgesLost lost -> throw new AssertionError(lost);
            case PulseCount.Leaping leaping -> throw new AssertionError(leaping);
            case PulseCount.Unusable unusable -> throw new AssertionError(unusable);
        };
    }

    /** Standard uncertainty of a count that stands, in pulses. */
    double standard(PulseCount count) {
        return switch (count) {
            case PulseCount.DoubleTimed timed ->
                    timed.counted() < SCATTER_PULSES_MIN ? ONE_PULSE * EVEN : endsStandard(timed);
            case PulseCount.Whole whole ->
                    plan.window() == Window.FLYING
                            ? Math.sqrt(
                                    ONE_PULSE * ONE_PULSE / 3
                                            + ENDS * whole.scatter() * whole.scatter())
                            : ONE_PULSE * EVEN;
            case PulseCount.EdgesLost lost -> throw new AssertionError(lost);
            case PulseCount.Leaping leaping -> throw new AssertionError(leaping);
            case PulseCount.Unusable unusable -> throw new AssertionError(unusable);
        };
    }

    /**
     * What uneven spacing does to the two ends. Double timing carries the mean rate into its ends,
     * where a flow that changed within the window ran at another: how far the bracketed count lies
     * off shows it, as far as that is more than the uneven spacing does to it.
     */
    private static double endsStandard(PulseCount.DoubleTimed timed) {
        double uneven = ENDS * timed.scatter() * timed.scatter();
        double apart = timed.pulses() - timed.bracketed();
        return Math.sqrt(uneven + Math.max(0, apart * apart - uneven) / 3);
    }

    /**
     * Mean pulse rate at which the reference's constant is taken: of a standing window, that inside
     * its range.
     */
    double meanRate(PulseCount count) throws Unfit {
        if (count instanceof PulseCount.DoubleTimed timed) {
            return timed.pulses() * 1e9 / timed.gateNanos();
        }
        PulseCount.Whole whole = (PulseCount.Whole) count;
        if (plan.window() == Window.FLYING) {
            return whole.counted() * 1e9 / whole.gateNanos();
        }
        long spacings = whole.counted() - 1 - whole.slowPulses() - whole.fastPulses();
        long nanos = whole.flowNanos() - whole.slowNanos() - whole.fastNanos();
        if (spacings <= 0 || nanos <= 0) {
            throw new Unfit(
                    Cause.OUT_OF_RANGE,
                    "The flow never came into the reference's certified range during the window;"
                            + " choose another flow or another reference.");
        }
        return spacings * 1e9 / nanos;
    }
}

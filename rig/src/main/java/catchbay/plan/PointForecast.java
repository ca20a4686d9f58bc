package catchbay.plan;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup;

import java.util.List;
import java.util.Optional;

/**
 * What one point of a plan will achieve.
 *
 * @param point the point
 * @param way by what it is measured; where nothing can, the bay's settings as they are
 * @param flow asked for there
 * @param speed at which the set rate asks for it
 * @param caught volume of one catch
 * @param drawn from the truck for one catch: purge, settling, bypass and catch
 * @param pulses of the reference in one catch, where one is fitted that is certified there
 * @param single expanded uncertainty, 95 %, of the meter error of one catch; empty where it must
 *     fail
 * @param mean that of the mean of the repeats; empty likewise
 * @param repeats how many catches it will take: the fewest, of those allowed, that meet what is
 *     wanted, or as many as would for their scatter alone; of a verification as many as planned
 * @param met whether the uncertainty wanted is met with them
 * @param time of one catch
 * @param refusals why it cannot be caught so, each a sentence
 * @param warnings what a reader must know, each a sentence but for the flow that it begins with
 */
public record PointForecast(
        TestPlan.Point point,
        Ways.Way way,
        FlowRate flow,
        Speed speed,
        Volume caught,
        Volume drawn,
        Optional<Double> pulses,
        Optional<Ratio> single,
        Optional<Ratio> mean,
        int repeats,
        boolean met,
        CatchTime time,
        List<String> refusals,
        List<String> warnings) {

    /**
     * A truck may give so much more than it is asked, or than it has given before. Common practice,
     * no source.
     */
    static final double MORE_RATIO = 1.05;

    /**
     * Where a person ends a standing catch by hand it may be so much longer than the one before.
     * Common practice, no source.
     */
    static final double MORE_BY_HAND_RATIO = 1.3;

    public PointForecast {
        refusals = List.copyOf(refusals);
        warnings = List.copyOf(warnings);
    }

    /**
     * Whether the tank must be emptied before a catch, for what may come.
     *
     * @param inTank what it holds, L
     * @param given what the truck has given at most of what it was asked; 1 = just that
     */
    boolean overfills(double inTank, Volume room, double given) {
        return inTank > 0 && inTank + caught.litres() * given * more() > room.litres();
    }

    private double more() {
        RunSetup.Plan plan = way.setup().plan();
        boolean byHand =
                plan.window() == RunSetup.Window.STANDING
                        && plan.flowBy() == RunSetup.FlowBy.OPERATOR;
        return byHand ? MORE_BY_HAND_RATIO : MORE_RATIO;
    }

    /**
     * How long one catch takes, in its parts, ns.
     *
     * @param purgeNanos to the bypass
     * @param settleNanos until flow and scale are steady
     * @param travelNanos of the diverter, both ways
     * @param catchNanos caught
     * @param dripNanos of the tank before it is weighed
     * @param restNanos until the scale is read, and flow proven to have stopped
     * @param answerNanos of a person
     */
    public record CatchTime(
            long purgeNanos,
            long settleNanos,
            long travelNanos,
            long catchNanos,
            long dripNanos,
            long restNanos,
            long answerNanos) {

        /** All of it; draining is a step of its own. */
        public long nanos() {
            return purgeNanos
                    + settleNanos
                    + travelNanos
                    + catchNanos
                    + dripNanos
                    + restNanos
                    + answerNanos;
        }
    }
}

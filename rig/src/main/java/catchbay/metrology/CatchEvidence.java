package catchbay.metrology;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Pressure;
import catchbay.quantity.Speed;

import java.util.Optional;

/**
 * What one measured catch tells of a truck, besides its point of the curve.
 *
 * @param run which catch it was
 * @param flow the measured flow, above zero
 * @param comparison the three amounts
 * @param control how the controller sets its flow
 * @param disturbance why the catch carries no constant (air, unsteady flow), as a sentence's part;
 *     empty where it was steady
 * @param speedPlayed whether the bay played the truck's speed sensor
 * @param speed what the controller showed of the speed, where somebody wrote it down
 * @param coupler gauge pressure at the bay's coupler, where somebody wrote it down
 * @param strainerDrop drop over the bay's strainer, likewise
 */
public record CatchEvidence(
        String run,
        FlowRate flow,
        Comparison comparison,
        ConstantAdvice.Control control,
        Optional<String> disturbance,
        boolean speedPlayed,
        Optional<ShownSpeed> speed,
        Optional<Pressure> coupler,
        Optional<Pressure> strainerDrop) {

    /**
     * The speed that the controller showed while the bay played another.
     *
     * @param shown what it showed, above zero
     * @param played what the bay played, above zero
     * @param pulsesPerMile the speed constant by which the bay played it
     */
    public record ShownSpeed(Speed shown, Speed played, double pulsesPerMile) {
        public ShownSpeed {
            if (shown.metresPerSecond() <= 0 || played.metresPerSecond() <= 0) {
                throw new IllegalArgumentException(
                        "a shown speed can be judged above 0 mph only, was "
                                + shown.milesPerHour()
                                + " where "
                                + played.milesPerHour()
                                + " mph was played");
            }
        }

        /** Shown over played. */
        double ratio() {
            return shown.metresPerSecond() / played.metresPerSecond();
        }
    }

    public CatchEvidence {
        if (flow.litresPerSecond() <= 0) {
            throw new IllegalArgumentException("a catch's evidence needs a flow above 0 L/s");
        }
    }

    /** Whether the truck's meter gave nothing while liquid came. */
    public boolean silent() {
        return comparison.reported().volume().litres() == 0;
    }

    /** The flow that the controller reported. */
    FlowRate reportedFlow() {
        return new FlowRate(
                flow.litresPerSecond()
                        * comparison.reported().volume().litres()
                        / comparison.measured().volume().litres());
    }

    /** The flow that was asked for. */
    FlowRate askedFlow() {
        return new FlowRate(
                flow.litresPerSecond()
                        * comparison.asked().volume().litres()
                        / comparison.measured().volume().litres());
    }
}

package catchbay.metrology;

import catchbay.quantity.FlowRate;

import java.util.List;

/**
 * The shop's own mix of work, for which one constant is to be best.
 *
 * @param fit what "best" means
 * @param duties what the trucks do; empty where the shop has not said: then every tested flow
 *     counts the same
 */
public record FlowMix(Fit fit, List<Duty> duties) {

    /** What makes a constant the best one. */
    public enum Fit {
        /** The weighted sum of the squared errors is smallest. */
        LEAST_SQUARES("least-squares"),
        /** The largest error is smallest, whatever the weights. */
        MINIMAX("minimax");

        private final String key;

        Fit(String key) {
            this.key = key;
        }

        /** How settings and documents call this fit. */
        public String key() {
            return key;
        }

        /** The fit called so; fails with a sentence that lists the known ones. */
        public static Fit ofKey(String key) {
            for (Fit fit : values()) {
                if (fit.key.equals(key)) {
                    return fit;
                }
            }
            throw new IllegalArgumentException(
                    "unknown fit '" + key + "'; use least-squares or minimax");
        }
    }

    /**
     * One kind of work.
     *
     * @param label what it is, for a person
     * @param flow the flow that it needs, above zero
     * @param weight how much of it is done, in any measure that is the same for all; > 0
     */
    public record Duty(String label, FlowRate flow, double weight) {
        public Duty {
            if (flow.litresPerSecond() <= 0) {
                throw new IllegalArgumentException(
                        "'" + label + "' needs no flow; leave it out, or correct its rate");
            }
            if (!Double.isFinite(weight) || weight <= 0) {
                throw new IllegalArgumentException(
                        "weight of '" + label + "' must be finite and > 0, was " + weight);
            }
        }
    }

    /** No mix told: every tested flow counts the same. */
    public static final FlowMix EVEN = new FlowMix(Fit.LEAST_SQUARES, List.of());

    public FlowMix {
        duties = List.copyOf(duties);
    }

    /** The work that a curve is judged by. */
    List<Duty> over(TruckCurve curve) {
        return duties.isEmpty()
                ? curve.stations().stream()
                        .map(station -> new Duty("tested flow", station.flow(), 1))
                        .toList()
                : duties;
    }
}

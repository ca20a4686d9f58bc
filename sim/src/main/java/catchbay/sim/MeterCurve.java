package catchbay.sim;

/**
 * What a flow meter truly does: pulses for a litre by flow, straight lines between points and flat
 * outside them, and a flow below which it stands still.
 */
final class MeterCurve {

    private final double[] litresPerSecond;
    private final double[] pulsesPerLitre;
    private final double cutOffLitresPerSecond;

    /**
     * @param litresPerSecond flows of the points, rising, at least one
     * @param pulsesPerLitre the constant at each point
     * @param cutOffLitresPerSecond the flow below which there is no pulse
     */
    MeterCurve(double[] litresPerSecond, double[] pulsesPerLitre, double cutOffLitresPerSecond) {
        this.litresPerSecond = litresPerSecond.clone();
        this.pulsesPerLitre = pulsesPerLitre.clone();
        this.cutOffLitresPerSecond = cutOffLitresPerSecond;
    }

    double pulsesPerSecond(double flow) {
        return flow < cutOffLitresPerSecond || flow <= 0 ? 0 : flow * constantAt(flow);
    }

    double constantAt(double flow) {
        int last = litresPerSecond.length - 1;
        if (flow <= litresPerSecond[0]) {
            return pulsesPerLitre[0];
        }
        if (flow >= litresPerSecond[last]) {
            return pulsesPerLitre[last];
        }
        int high = 1;
        while (litresPerSecond[high] < flow) {
            high++;
        }
        double part =
                (flow - litresPerSecond[high - 1])
                        / (litresPerSecond[high] - litresPerSecond[high - 1]);
        return pulsesPerLitre[high - 1] + part * (pulsesPerLitre[high] - pulsesPerLitre[high - 1]);
    }
}

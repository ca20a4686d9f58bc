package catchbay.sim;

import catchbay.metrology.ReferenceCurve;

import java.util.List;

/** One of the bay's own meters with the truth behind it: what pulses it makes of the flow. */
final class ReferenceMeter {

    private final PulseTrain train;
    private final MeterCurve curve;
    private final double shiftRatio;
    private final double damped;
    private final double ghostPulsesPerSecond;

    /** What its output makes of the flow, L/s. */
    private double shownFlow;

    /**
     * @param certified its curve as its certificate has it
     * @param bay how far it is from that
     * @param train where its pulses go
     * @param askedFlow what a run asks for, of which ghost pulses are a share, L/s
     */
    ReferenceMeter(
            ReferenceCurve certified, SimOptions.Bay bay, PulseTrain train, double askedFlow) {
        this.train = train;
        this.curve = curve(certified, bay);
        this.shiftRatio = bay.referenceShiftRatio();
        this.damped =
                bay.referenceLagSeconds() == 0
                        ? 0
                        : StrictMath.exp(-World.STEP_SECONDS / bay.referenceLagSeconds());
        this.ghostPulsesPerSecond = curve.pulsesPerSecond(askedFlow);
    }

    private static MeterCurve curve(ReferenceCurve certified, SimOptions.Bay bay) {
        List<ReferenceCurve.Point> points = certified.points();
        double[] flows = new double[points.size() + 1];
        double[] constants = new double[points.size() + 1];
        flows[0] =
                Math.min(
                        bay.referenceCutOffLitresPerSecond(),
                        certified.lowest().litresPerSecond() / 2);
        for (int i = 0; i < points.size(); i++) {
            flows[i + 1] = points.get(i).flow().litresPerSecond();
            constants[i + 1] =
                    points.get(i).constant().pulsesPerLitre() * (1 + bay.referenceErrorRatio());
        }
        constants[0] = constants[1] * (1 - bay.referenceLowFlowLossRatio());
        return new MeterCurve(flows, constants, flows[0]);
    }

    /**
     * Turns for one step of the world.
     *
     * @param flow at the end of the step, L/s at the truck's meter
     * @param ratio what its pulses are multiplied by
     * @param ghosts pulses of a flow that is none, as a share of those of the asked flow
     */
    void turn(long startNanos, double flow, double ratio, double ghosts) {
        double before = shownFlow;
        shownFlow = flow + (shownFlow - flow) * damped;
        train.turn(
                startNanos,
                World.STEP_SECONDS,
                pulses(before, ratio, ghosts),
                pulses(shownFlow, ratio, ghosts));
    }

    private double pulses(double flow, double ratio, double ghosts) {
        return curve.pulsesPerSecond(flow) * ratio + ghosts * ghostPulsesPerSecond;
    }

    /** Its pulses are spaced more unevenly by so much. */
    void uneven(double extraShiftRatio) {
        train.shiftRatio(shiftRatio + extraShiftRatio);
    }
}

package catchbay.sim;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Temperature;
import catchbay.run.Doubts;
import catchbay.run.RunSetup;

import java.util.List;
import java.util.random.RandomGenerator;

/**
 * Everything about a stand-in bay that its setup does not know: the truth behind each instrument,
 * and what goes wrong. Ratios are plain relative numbers; what has no source beside it is
 * illustrative.
 *
 * @param seed from which every chance in the world follows
 * @param truck the truck
 * @param bay reference meter, diverter and tank
 * @param scale the scale
 * @param person the person at the bay
 * @param warmth how warm it is
 * @param faults what goes wrong
 */
public record SimOptions(
        long seed,
        Truck truck,
        Bay bay,
        Scale scale,
        Person person,
        Warmth warmth,
        List<Fault> faults) {

    public SimOptions {
        faults = List.copyOf(faults);
    }

    /**
     * The options that a seed draws for a setup: each instrument off by no more than its
     * certificate allows, the truck off by some per cent, no fault. Spans are illustrative.
     */
    public static SimOptions drawn(long seed, RunSetup setup) {
        return drawn(seed, setup, TruckSystem.flowAsked(setup.asked()));
    }

    /**
     * The same for a run at another flow than the bay's usual one: the truck's meter is that of all
     * its runs.
     *
     * @param usual the flow that the bay's settings ask for, L/s
     */
    static SimOptions drawn(long seed, RunSetup setup, double usual) {
        RandomGenerator random = new Streams(seed).of(Streams.Subsystem.OPTIONS);
        double asked = TruckSystem.flowAsked(setup.asked());
        Truck truck =
                new Truck(
                        between(random, -0.06, 0.08),
                        between(random, 0, 0.03),
                        usual * between(random, 0.05, 0.15),
                        between(random, 0, 0.03),
                        asked * between(random, 1.3, 2),
                        between(random, -0.08, 0.08),
                        between(random, 0.0005, 0.003),
                        between(random, 0.1, 0.3),
                        between(random, 0.2, 0.5),
                        between(random, 0.2, 0.6),
                        between(random, 0.5, 0.9),
                        setup.reported().lagNanos() / 1e9 * random.nextDouble(),
                        0,
                        between(random, 0.2, 0.5),
                        usual);
        double referenceUncertainty =
                setup.reference()
                        .map(meter -> meter.certificate().relativeExpandedUncertainty())
                        .orElse(0.0);
        double lowest =
                setup.reference()
                        .map(meter -> meter.curve().lowest().litresPerSecond())
                        .orElse(1.0);
        double density = setup.liquid().density().kilogramsPerCubicMetre();
        double roomLitres =
                setup.scale()
                        .map(scale -> scale.capacity().kilograms() * 0.9 / density * 1000)
                        .orElse(ROOM_LITRES);
        Bay bay =
                new Bay(
                        within(random, referenceUncertainty),
                        between(random, 0, 0.02),
                        LOW_FLOW_LOSS_RATIO,
                        lowest * between(random, 0.1, 0.25),
                        0,
                        within(random, setup.liquid().densityRelativeUncertainty()),
                        between(random, 0.02, 0.1),
                        between(random, 0.08, 0.3),
                        0,
                        between(random, 0.3, 1),
                        between(random, 1, 3),
                        roomLitres);
        double step = setup.scale().map(scale -> scale.resolution().kilograms()).orElse(0.01);
        double spanUncertainty =
                setup.scale()
                        .map(scale -> scale.certificate().relativeExpandedUncertainty())
                        .orElse(0.0);
        Scale scale =
                new Scale(
                        within(random, spanUncertainty),
                        step * between(random, 0.05, 0.3),
                        step * between(random, 0.1, 1),
                        density * roomLitres / 1000 * between(random, 0.01, 0.04),
                        between(random, 0.2, 0.5),
                        0.1,
                        0);
        Person person = new Person("stand-in operator", 2, between(random, 3, 8));
        return new SimOptions(seed, truck, bay, scale, person, warmth(seed, setup), List.of());
    }

    /** What is typed is so; places differ only where the setup has thermometers that tell it. */
    private static Warmth warmth(long seed, RunSetup setup) {
        Doubts.Temperatures known = setup.doubts().temperatures();
        RandomGenerator random = new Streams(seed).of(Streams.Subsystem.WARMTH);
        double liquid = between(random, -2, 20);
        double over = between(random, -3, 3);
        double room = between(random, 5, 25);
        boolean told = !known.sensors().places().isEmpty();
        double truckOver =
                known.truckMeter().isPresent() && known.reference().isPresent()
                        ? known.truckMeter().get().minus(known.reference().get())
                        : told ? over : 0;
        return new Warmth(
                known.reference().map(Temperature::celsius).orElse(liquid),
                truckOver,
                known.room().map(Temperature::celsius).orElse(room),
                THERMOMETER_NOISE_KELVIN);
    }

    private static final double THERMOMETER_NOISE_KELVIN = 0.02;

    /** What a reference loses below its certified flows (illustrative). */
    private static final double LOW_FLOW_LOSS_RATIO = 0.05;

    /** Room in a tank without a scale, L (illustrative). */
    private static final double ROOM_LITRES = 1000;

    private static double between(RandomGenerator random, double least, double most) {
        return least + (most - least) * random.nextDouble();
    }

    /**
     * An error that a stated expanded uncertainty (k = 2) covers: bell-shaped, cut off at its ends.
     */
    private static double within(RandomGenerator random, double expanded) {
        return Math.clamp(Streams.bell(random) / 2, -1, 1) * expanded;
    }

    /** The seed and everything drawn from it, as a settings section would say it. */
    public String banner() {
        return OptionSheet.banner(this);
    }

    /** These options with another bay. */
    SimOptions with(Bay other) {
        return new SimOptions(seed, truck, other, scale, person, warmth, faults);
    }

    /** These options with other faults. */
    public SimOptions with(List<Fault> others) {
        return new SimOptions(seed, truck, bay, scale, person, warmth, others);
    }

    /**
     * The truck.
     *
     * @param overReadingRatio how much its meter and constant over-read from its nominal flow on;
     *     0.05 = reports 5 % more than flows
     * @param lowFlowLossRatio how much of its pulses the meter loses at its cut-off, less and less
     *     up to its nominal flow; nothing where that is not above the cut-off
     * @param cutOffLitresPerSecond flow below which its meter stands still
     * @param shiftRatio unevenness of its pulses, standard deviation over spacing
     * @param pumpLitresPerSecond the most its pump can give
     * @param openLoopErrorRatio how far off a flow set by hand is
     * @param flowNoiseRatio standard deviation of its flow's slow wander
     * @param deadSeconds from a change of its valve's signal until the flow begins to follow
     * @param lagSeconds time constant with which the flow follows then
     * @param speedLagSeconds time constant with which its controller follows the ground speed
     * @param gainPerSecond how fast its controller corrects its flow
     * @param totalLagSeconds how far its shown total lags behind its meter, at most {@link
     *     #TOTAL_LAG_SECONDS_MAX}
     * @param totalAtStartLitres what its total shows before the first liquid runs
     * @param lineSeconds how often it sends its total over its line
     * @param nominalLitresPerSecond flow from which on its meter loses nothing; its curve is the
     *     same whatever a run asks for
     */
    public record Truck(
            double overReadingRatio,
            double lowFlowLossRatio,
            double cutOffLitresPerSecond,
            double shiftRatio,
            double pumpLitresPerSecond,
            double openLoopErrorRatio,
            double flowNoiseRatio,
            double deadSeconds,
            double lagSeconds,
            double speedLagSeconds,
            double gainPerSecond,
            double totalLagSeconds,
            double totalAtStartLitres,
            double lineSeconds,
            double nominalLitresPerSecond) {}

    /** The longest lag of a truck's total that a world keeps in mind, faults included. */
    public static final double TOTAL_LAG_SECONDS_MAX = 12;

    /**
     * Reference meter, diverter and tank.
     *
     * @param referenceErrorRatio how much the reference over-reads against its certificate
     * @param referenceShiftRatio unevenness of its pulses, standard deviation over spacing
     * @param referenceLowFlowLossRatio how much of its pulses it loses between its lowest certified
     *     flow and its cut-off, more and more; below 0 where it makes too many
     * @param referenceCutOffLitresPerSecond flow below which it stands still
     * @param referenceLagSeconds time constant with which its output follows the flow; 0 = at once
     * @param densityErrorRatio how much denser the liquid is than the setup says
     * @param diverterDelaySeconds from its command until the flap moves
     * @param diverterTravelSeconds from end to end
     * @param diverterAsymmetrySeconds by how much longer liquid runs into the tank than the
     *     trigger's stamps say
     * @param chuteSeconds how long a drop stays in the chute on average
     * @param drainLitresPerSecond what the open drain takes
     * @param floatLitres how full the tank is when its float comes up
     */
    public record Bay(
            double referenceErrorRatio,
            double referenceShiftRatio,
            double referenceLowFlowLossRatio,
            double referenceCutOffLitresPerSecond,
            double referenceLagSeconds,
            double densityErrorRatio,
            double diverterDelaySeconds,
            double diverterTravelSeconds,
            double diverterAsymmetrySeconds,
            double chuteSeconds,
            double drainLitresPerSecond,
            double floatLitres) {

        /** The same with a drain that takes so much. */
        Bay drainedBy(FlowRate drain) {
            return new Bay(
                    referenceErrorRatio,
                    referenceShiftRatio,
                    referenceLowFlowLossRatio,
                    referenceCutOffLitresPerSecond,
                    referenceLagSeconds,
                    densityErrorRatio,
                    diverterDelaySeconds,
                    diverterTravelSeconds,
                    diverterAsymmetrySeconds,
                    chuteSeconds,
                    drain.litresPerSecond(),
                    floatLitres);
        }
    }

    /**
     * The scale.
     *
     * @param spanErrorRatio how much it shows too much, in proportion
     * @param noiseKilograms standard deviation of what it shows before rounding
     * @param jetKilograms standard deviation that each L/s of inflow adds
     * @param emptyKilograms what it shows with the tank empty
     * @param lagSeconds time constant with which its indication settles
     * @param periodSeconds how often it sends a frame
     * @param hoseKilograms what the hose pulls the tank down by, or up when below 0, as it hangs in
     *     a catch
     */
    public record Scale(
            double spanErrorRatio,
            double noiseKilograms,
            double jetKilograms,
            double emptyKilograms,
            double lagSeconds,
            double periodSeconds,
            double hoseKilograms) {}

    /**
     * How warm it is.
     *
     * @param liquidCelsius the liquid at the bay: reference meter and tank
     * @param truckOverKelvin by how much it is warmer at the truck's meter
     * @param roomCelsius around the scale
     * @param noiseKelvin standard deviation of what thermometers show before rounding
     */
    public record Warmth(
            double liquidCelsius, double truckOverKelvin, double roomCelsius, double noiseKelvin) {}

    /**
     * The person at the bay.
     *
     * @param name by which the checklist is confirmed
     * @param answerSecondsLeast the quickest answer
     * @param answerSecondsMost the slowest answer
     */
    public record Person(String name, double answerSecondsLeast, double answerSecondsMost) {}
}

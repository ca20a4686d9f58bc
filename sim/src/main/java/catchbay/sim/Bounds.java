package catchbay.sim;

import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Window;

/**
 * How far a right measurement of a scenario may lie from the truth: the sum of what its own meter,
 * its scale and their resolution allow, each at its worst. Ratios of the measured amount.
 *
 * @param reference for the reference meter; 0 where there is none
 * @param scale for the scale; 0 where there is none
 * @param measured for the instrument that gives the measured volume
 * @param crossCheck a disagreement of the two that the cross-check cannot miss
 */
public record Bounds(double reference, double scale, double measured, double crossCheck) {

    /** A drawn spread ends at so many standard deviations ({@link Streams#bell}). */
    private static final double BELL_ENDS = 3.47;

    /** A truck may deliver so much less than was asked, and all that is fixed then weighs more. */
    private static final double LEAST_OF_ASKED = 0.85;

    /**
     * Bounds for the least that a scenario's catch may come to when nothing goes wrong with the
     * flow.
     */
    static Bounds planned(Scenario scenario) {
        return of(scenario, scenario.planned().times(LEAST_OF_ASKED));
    }

    /** Bounds for a catch of so much. */
    public static Bounds of(Scenario scenario, Volume caught) {
        double litres = caught.litres();
        RunSetup setup = scenario.setup();
        SimOptions options = scenario.options();
        double reference =
                setup.reference()
                        .map(meter ->
                                warmth(scenario)
                                        + reference(meter, setup.plan().window(), options, litres))
                        .orElse(0.0);
        double scale =
                setup.scale()
                        .map(cell -> warmth(scenario) + scale(cell, scenario, litres))
                        .orElse(0.0);
        double measured = setup.plan().measureBy() == MeasureBy.REFERENCE ? reference : scale;
        // What the run allows on top of its limit are two standard deviations of both resolutions,
        // below these terms.
        double crossCheck = setup.plan().crossCheckMax().value() + 2 * (reference + scale);
        return new Bounds(reference, scale, measured, crossCheck);
    }

    /** What two thermometers may misread of their difference: half a step and the noise each. */
    private static double warmth(Scenario scenario) {
        if (scenario.setup().doubts().temperatures().sensors().places().isEmpty()) {
            return 0;
        }
        double each =
                StandInThermometers.STEP_KELVIN / 2
                        + BELL_ENDS * scenario.options().warmth().noiseKelvin();
        return 2 * each * Math.abs(World.expansionPerKelvin(scenario.setup()));
    }

    private static double reference(
            RunSetup.Reference meter, Window window, SimOptions options, double litres) {
        ReferenceCurve curve = meter.curve();
        double least = Double.MAX_VALUE;
        double most = 0;
        for (ReferenceCurve.Point point : curve.points()) {
            least = Math.min(least, point.constant().pulsesPerLitre());
            most = Math.max(most, point.constant().pulsesPerLitre());
        }
        double certificate = meter.certificate().relativeExpandedUncertainty();
        // A flow that changes is read at its mean, where the curve may lie as far away as its
        // points are apart.
        double bend = (most - least) / least;
        return certificate
                + bend
                + count(options) / (litres * least)
                + (window == Window.FLYING ? 0 : ramps(curve, options) / litres);
    }

    /** Pulses that a window may hold too many or too few for no other reason than its moments. */
    private static double count(SimOptions options) {
        return 1 + 2 * BELL_ENDS * options.bay().referenceShiftRatio();
    }

    /**
     * Litres that may be misread while a standing window's flow rises and falls through what lies
     * below the certified range: all that flows below the meter's cut-off, and the part that the
     * meter loses between cut-off and range. The flow falls with the truck's time constant; it
     * rises within {@link #RISE_SECONDS} at most.
     */
    private static double ramps(ReferenceCurve curve, SimOptions options) {
        double lag = options.truck().lagSeconds();
        double lowest = curve.lowest().litresPerSecond();
        double cutOff = Math.min(options.bay().referenceCutOffLitresPerSecond(), lowest / 2);
        double lost = Math.abs(options.bay().referenceLowFlowLossRatio()) * (lowest - cutOff);
        return (lag + RISE_SECONDS) * (cutOff + lost);
    }

    /**
     * A controller's start passes the flows below the range in less than this, its speed input's
     * lag included.
     */
    private static final double RISE_SECONDS = 0.15;

    private static double scale(RunSetup.Scale cell, Scenario scenario, double litres) {
        RunSetup.Liquid liquid = scenario.setup().liquid();
        SimOptions options = scenario.options();
        double kilograms = litres * liquid.density().kilogramsPerCubicMetre() / 1000;
        double reading = reading(cell, options);
        double certificate = cell.certificate().relativeExpandedUncertainty();
        return certificate
                + liquid.densityRelativeUncertainty()
                + 2 * reading / kilograms
                + leftInChute(scenario) / litres;
    }

    /** How far off one reading of a scale at rest may be that is right otherwise, kg. */
    private static double reading(RunSetup.Scale cell, SimOptions options) {
        return 0.5 * cell.resolution().kilograms() + BELL_ENDS * options.scale().noiseKilograms();
    }

    /**
     * How far two catches may lie from each other by what counting and reading cannot resolve, with
     * everything else alike; a ratio of the measured amount.
     */
    public static double repeated(Scenario scenario, Volume caught) {
        RunSetup setup = scenario.setup();
        if (setup.plan().measureBy() == MeasureBy.REFERENCE) {
            double pulsesPerLitre =
                    setup.reference()
                            .orElseThrow()
                            .curve()
                            .points()
                            .getFirst()
                            .constant()
                            .pulsesPerLitre();
            return 2 * count(scenario.options()) / (caught.litres() * pulsesPerLitre);
        }
        double kilograms =
                caught.litres() * setup.liquid().density().kilogramsPerCubicMetre() / 1000;
        return 4 * reading(setup.scale().orElseThrow(), scenario.options()) / kilograms;
    }

    /**
     * How far a right report of so much may lie from what the controller counted: two steps, a
     * pulse at both ends, and for a running total cut out of running flow its stated lag times the
     * flow, and what a changing flow makes of the pause between totals.
     */
    public static Volume reported(Scenario scenario, Volume caught) {
        RunSetup setup = scenario.setup();
        double step = setup.reported().step().litres();
        double pulse = 1 / setup.truck().constant().pulses().orElseThrow().pulsesPerLitre();
        double pause = scenario.options().truck().lineSeconds();
        double unsure = setup.reported().lagNanos() / 1e9 + pause;
        boolean cut = setup.reported() instanceof RunSetup.Reported.RunningLine;
        double flow = FLOW_RISE * caught.litres() / (setup.plan().catchNanos() / 1e9);
        return new Volume(2 * step + 2 * pulse + (cut ? unsure * flow : 0));
    }

    /** A truck whose meter died may pump so much more at a window's end than on its mean. */
    private static final double FLOW_RISE = 2;

    /** Litres still in the chute when the tank may be weighed. */
    private static double leftInChute(Scenario scenario) {
        double seconds = scenario.options().bay().chuteSeconds();
        double flow = TruckSystem.flowAsked(scenario.setup().asked());
        double drips = scenario.setup().plan().dripNanos() / 1e9;
        return flow * seconds * StrictMath.exp(-drips / seconds);
    }

    /**
     * Whether the catch is large enough for the bound to be promised to stay within half a per
     * cent.
     */
    public static boolean promised(Volume caught) {
        return caught.usGallons() >= 5;
    }
}

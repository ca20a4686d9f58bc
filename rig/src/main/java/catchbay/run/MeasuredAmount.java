package catchbay.run;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.Certificate;
import catchbay.metrology.Input;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.ModelSketch;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.Feedback;
import catchbay.run.RunSetup.Plan;
import catchbay.run.RunSetup.Window;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseGate;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * The volume that the bay's own instruments say ran through the window, in litres at the truck
 * meter's temperature, as a model of what was read and of what is known of the instruments. Its
 * formulas stand in {@code src/docs/method.md}.
 */
final class MeasuredAmount {

    private final Sensed sensed;
    private final RunSetup setup;
    private final Plan plan;
    private final Counting counting;
    private final ModelSketch sketch;
    private final Quantity warmer;
    private final Quantity expansion;
    private final Quantity stored;

    MeasuredAmount(Sensed sensed, Counting counting, ModelSketch sketch) {
        this.sensed = sensed;
        this.setup = sensed.setup();
        this.plan = sensed.plan();
        this.counting = counting;
        this.sketch = sketch;
        Doubts.Temperatures warmth = setup.doubts().temperatures();
        this.warmer =
                sketch.even(
                        "temperature, truck meter against reference",
                        warmth.truckOverReference(),
                        warmth.halfWidthKelvin(),
                        Scope.BAY);
        double best = expansionPerKelvin();
        this.expansion =
                sketch.even(
                        "temperature, expansion of the liquid",
                        best,
                        Math.abs(best) * (expansionIsKnown() ? 0.1 : 0.5),
                        Scope.BAY);
        Doubts.Line line = setup.doubts().line();
        Quantity warming =
                sketch.even(
                        "line to the bay, change of temperature",
                        0,
                        line.kelvin() * Math.abs(expansionPerKelvin()) * line.stored().litres(),
                        Scope.RUN);
        Quantity swelling =
                sketch.even(
                        "line to the bay, swelling and air", 0, line.swell().litres(), Scope.RUN);
        this.stored = x -> warming.at(x) + swelling.at(x);
    }

    // Reference meter
    // -----------------------------------------------------------------------------------------------

    /** By the reference meter: {@code N / K}, K at the flow that ran. */
    Quantity byReference(RunSetup.Reference reference, PulseCount count) throws Unfit {
        ReferenceCurve.Reading.InRange certified =
                certified(reference.curve(), counting.meanRate(count));
        double litresPerPulse = 1 / certified.constant().pulsesPerLitre();
        double expanded =
                certified
                        .expanded()
                        .map(Ratio::value)
                        .orElse(reference.certificate().relativeExpandedUncertainty());
        Doubts.Reference doubts = setup.doubts().reference();
        Quantity pulses =
                sketch.normal(
                        "reference meter, pulse count",
                        Counting.pulses(count),
                        counting.standard(count),
                        Scope.RUN);
        Quantity constant =
                sketch.normal(
                        "reference meter, certificate",
                        0,
                        expanded / Certificate.COVERAGE,
                        Scope.BAY);
        Quantity bend =
                sketch.even(
                        "reference meter, between its certified flows",
                        0,
                        certified.bend().value(),
                        Scope.BAY);
        Quantity drift =
                sketch.even(
                        "reference meter, drift since its certificate",
                        0,
                        doubts.driftPerYear().value()
                                * reference.certificate().yearsOn(setup.day()),
                        Scope.BAY);
        Quantity liquid =
                sketch.even(
                        "reference meter, liquid of another viscosity",
                        0,
                        sameLiquid(reference) ? 0 : doubts.otherLiquid().value(),
                        Scope.BAY);
        Quantity lag =
                sketch.even(
                        "reference meter, lag of its output",
                        0,
                        doubts.dampingNanos()
                                / 1e9
                                * certified.flow().litresPerSecond()
                                * sensed.lines().steadiness().watchedSpread(),
                        Scope.RUN);
        Quantity ramps = ramps(count, litresPerPulse);
        return x ->
                pulses.at(x)
                                * litresPerPulse
                                / (1 + constant.at(x) + bend.at(x) + drift.at(x) + liquid.at(x))
                                * (1 + expansion.at(x) * warmer.at(x))
                        + lag.at(x)
                        + ramps.at(x)
                        + stored.at(x);
    }

    /** Whether it was calibrated with what flows now. */
    private boolean sameLiquid(RunSetup.Reference reference) {
        return reference
                .certificate()
                .conditions()
                .liquid()
                .filter(setup.liquid().name()::equals)
                .isPresent();
    }

    private boolean expansionIsKnown() {
        return setup.doubts().temperatures().expansionPerKelvin().isPresent()
                || bySlope().isPresent();
    }

    private double expansionPerKelvin() {
        return setup.doubts()
                .temperatures()
                .expansionPerKelvin()
                .or(this::bySlope)
                .orElse(Doubts.Temperatures.EXPANSION_USUAL);
    }

    private Optional<Double> bySlope() {
        return setup.liquid()
                .basis()
                .flatMap(basis ->
                        basis.slopePerCelsius()
                                .map(slope -> -slope / basis.density().kilogramsPerCubicMetre()));
    }

    /**
     * The pulses of a standing window that came outside the certified range: slow ones are liquid
     * of which the meter tells wrongly how much, fast ones may be bounces.
     */
    private Quantity ramps(PulseCount count, double litresPerPulse) throws Unfit {
        if (plan.window() == Window.FLYING || !(count instanceof PulseCount.Whole whole)) {
            return ModelSketch.exactly(0);
        }
        long outside = whole.slowPulses() + whole.fastPulses();
        double share = (double) outside / whole.counted();
        if (share > plan.rampShareMax()) {
            throw new Unfit(
                    Cause.OUT_OF_RANGE,
                    String.format(
                            Locale.ROOT,
                            "%.1f %% of the pulses came at a flow outside the reference's certified"
                                + " range, more than the %.1f %% allowed for starting and stopping;"
                                + " lengthen the catch or choose another flow.",
                            share * 100,
                            plan.rampShareMax() * 100));
        }
        Quantity slow =
                sketch.even(
                        "reference meter, ramps below its range",
                        0,
                        whole.slowPulses() * litresPerPulse * plan.rampErrorRatio(),
                        Scope.RUN);
        Quantity fast =
                sketch.even(
                        "reference meter, pulses too fast for its range",
                        0,
                        whole.fastPulses() * litresPerPulse,
                        Scope.RUN);
        return x -> slow.at(x) + fast.at(x);
    }

    private static ReferenceCurve.Reading.InRange certified(
            ReferenceCurve curve, double pulsesPerSecond) throws Unfit {
        return switch (curve.at(pulsesPerSecond)) {
            case ReferenceCurve.Reading.InRange in -> in;
            case ReferenceCurve.Reading.OutOfRange(String reason) ->
                    throw new Unfit(
                            Cause.OUT_OF_RANGE, "The flow cannot be measured: " + reason + ".");
        };
    }

    // Scale
    // -----------------------------------------------------------------------------------------------------

    /**
     * By the scale: the true mass behind the net reading over the density, less what the diverter
     * added or withheld, {@code t / (t + error)}.
     */
    Quantity byScale(RunSetup.Scale scale, Mass net) throws Unfit {
        refuseTooLittle(scale, net);
        RunSetup.Liquid liquid = setup.liquid();
        Quantity reading = reading(scale, net);
        Quantity span = span(scale);
        Quantity density = density(liquid);
        Quantity air =
                sketch.even(
                        "buoyancy, density of the air",
                        liquid.air().kilogramsPerCubicMetre(),
                        0.05 * liquid.air().kilogramsPerCubicMetre(),
                        Scope.DAY);
        double apart = referenceOverDensity();
        Quantity timing = timing();
        Quantity split = split();
        return x -> {
            Mass shown = new Mass(reading.at(x) * (1 + span.at(x)));
            Density inTank = new Density(density.at(x));
            Mass mass = Buoyancy.trueMass(shown, inTank, new Density(air.at(x)));
            double litres = 1000 * mass.kilograms() / inTank.kilogramsPerCubicMetre();
            double warmth = 1 + expansion.at(x) * (warmer.at(x) + apart);
            return litres * warmth * timing.at(x) * (1 + split.at(x)) + stored.at(x);
        };
    }

    /**
     * By how many kelvin the liquid at the reference is warmer than that of which the density
     * speaks; a density typed is that of the catch.
     */
    private double referenceOverDensity() {
        return setup.doubts()
                .temperatures()
                .reference()
                .flatMap(there ->
                        setup.liquid().basis().map(basis -> there.minus(basis.temperature())))
                .orElse(0.0);
    }

    /**
     * Each thing that makes a density uncertain is an input of its own, as far as they are told.
     */
    private Quantity density(RunSetup.Liquid liquid) {
        double best = liquid.density().kilogramsPerCubicMetre();
        if (liquid.basis().isEmpty()) {
            return sketch.normal(
                    "density of the liquid",
                    best,
                    best * liquid.densityRelativeUncertainty() / Certificate.COVERAGE,
                    Scope.BAY);
        }
        List<Quantity> parts =
                liquid.basis().get().terms().stream()
                        .map(term ->
                                sketch.input(
                                        new Input(
                                                "density, " + term.name(),
                                                0,
                                                term.standardKilogramsPerCubicMetre(),
                                                Double.POSITIVE_INFINITY,
                                                term.shape(),
                                                scope(term.part()))))
                        .toList();
        return x -> {
            double sum = best;
            for (Quantity part : parts) {
                sum += part.at(x);
            }
            return sum;
        };
    }

    /** A table and a hydrometer are as wrong tomorrow; strength and warmth are found each day. */
    private static Scope scope(LiquidDensity.Part part) {
        return switch (part) {
            case MODEL, READING -> Scope.BAY;
            case STRENGTH, TEMPERATURE -> Scope.DAY;
        };
    }

    private void refuseTooLittle(RunSetup.Scale scale, Mass net) throws Unfit {
        // Two readings of one value may differ by the rounding of their means: that is no catch.
        if (net.kilograms() < scale.resolution().kilograms()) {
            throw new Unfit(
                    Cause.WINDOW_UNUSABLE,
                    String.format(
                            Locale.ROOT,
                            "The scale shows %.3f kg caught; nothing was caught or the tank leaks.",
                            net.kilograms()));
        }
        double least = setup.doubts().scale().smallestNet().kilograms();
        if (net.kilograms() < least) {
            throw new Unfit(
                    Cause.OUT_OF_RANGE,
                    String.format(
                            Locale.ROOT,
                            "The catch of %.3f kg is below the %.3f kg that the scale may weigh at"
                                    + " least; lengthen the catch or use a finer scale.",
                            net.kilograms(),
                            least));
        }
    }

    /** The net reading in kilograms, with all that adds to it or takes from it. */
    private Quantity reading(RunSetup.Scale scale, Mass net) {
        Doubts.Scale doubts = setup.doubts().scale();
        Quantity shown =
                sketch.twoEven(
                        "scale, resolution of two readings",
                        net.kilograms(),
                        scale.resolution().kilograms() / 2,
                        Scope.RUN);
        Quantity scatter =
                sketch.normal(
                        "scale, repeatability of two readings",
                        0,
                        Math.sqrt(2) * doubts.repeatability().kilograms(),
                        Scope.RUN);
        Quantity linearity = kilograms("scale, linearity", doubts.linearity(), Scope.BAY);
        Quantity eccentricity =
                kilograms("scale, eccentric load", doubts.eccentricity(), Scope.BAY);
        Quantity creep = kilograms("scale, creep", doubts.creep(), Scope.BAY);
        Quantity zero = kilograms("scale, drift of its zero", doubts.zeroDrift(), Scope.RUN);
        Quantity certified =
                sketch.normal(
                        "scale, certificate at any load",
                        0,
                        Math.sqrt(2) * doubts.certifiedBase().kilograms() / Certificate.COVERAGE,
                        Scope.BAY);
        Quantity hose = kilograms("scale, hose at the tank", doubts.hose(), Scope.BAY);
        Quantity drip = kilograms("tank, drip and residue", doubts.drip(), Scope.RUN);
        return x ->
                shown.at(x)
                        + scatter.at(x)
                        + linearity.at(x)
                        + eccentricity.at(x)
                        + creep.at(x)
                        + zero.at(x)
                        + certified.at(x)
                        + hose.at(x)
                        + drip.at(x);
    }

    private Quantity kilograms(String name, Mass halfWidth, Scope scope) {
        return sketch.even(name, 0, halfWidth.kilograms(), scope);
    }

    private Quantity span(RunSetup.Scale scale) {
        Doubts.Scale doubts = setup.doubts().scale();
        Quantity certificate =
                sketch.normal(
                        "scale, certificate",
                        0,
                        scale.certificate().relativeExpandedUncertainty() / Certificate.COVERAGE,
                        Scope.BAY);
        Quantity drift =
                sketch.even(
                        "scale, drift since its certificate",
                        0,
                        doubts.driftPerYear().value() * scale.certificate().yearsOn(setup.day()),
                        Scope.BAY);
        Optional<Double> kelvin =
                scale.certificate()
                        .conditions()
                        .temperature()
                        .flatMap(then ->
                                setup.doubts().temperatures().room().map(now -> now.minus(then)));
        Quantity warmth =
                sketch.even(
                        "scale, temperature",
                        0,
                        doubts.perKelvin().value() * Math.abs(kelvin.orElse(0.0)),
                        Scope.DAY);
        return x -> certificate.at(x) + drift.at(x) + warmth.at(x);
    }

    /**
     * The diverter's long or short run: what was caught belongs to {@code t + error}, and {@code t}
     * is wanted. The meters are gated by the stamps themselves and know nothing of it.
     */
    private Quantity timing() {
        if (plan.window() == Window.STANDING) {
            return ModelSketch.exactly(1);
        }
        double seconds = windowNanos() / 1e9;
        Doubts.Diverter doubts = setup.doubts().diverter();
        Quantity error =
                sketch.even(
                        "diverter, timing error",
                        doubts.timingErrorSeconds(),
                        doubts.timingHalfWidthSeconds(),
                        Scope.BAY);
        return x -> seconds / (seconds + error.at(x));
    }

    /**
     * Where only the end switches are seen, the stream may cross anywhere between them, evenly
     * spread; the flap crosses it at the same place both ways, so that what the one end adds the
     * other adds again.
     */
    private Quantity split() {
        boolean betweenEnds =
                plan.window() == Window.FLYING
                        && setup.diverter().orElseThrow().feedback() == Feedback.ENDS;
        Ledger ledger = sensed.ledger();
        double share =
                betweenEnds
                        ? (ledger.openTravelNanos() + ledger.closeTravelNanos())
                                / 2.0
                                / windowNanos()
                        : 0;
        return sketch.even("diverter, split between its end switches", 0, share, Scope.BAY);
    }

    private long windowNanos() {
        PulseGate window = sensed.lines().reference();
        return window.closeNanos() - window.openNanos();
    }
}

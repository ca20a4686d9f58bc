package catchbay.run;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.Estimate;
import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.Distance;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Plan;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseGate;
import catchbay.signal.RunningTotal;
import catchbay.signal.Tally;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * From what a finished catch has sensed to its outcome: the counts, the three amounts, their
 * errors, the advice.
 */
final class Evaluation {

    /** Half a width of 1 spread evenly, as a standard uncertainty: 1 / (2 sqrt 3). */
    private static final double STEP = 0.28867513459481287;

    /** Standard uncertainty of a count good to +-1 pulse, spread evenly: 1 / sqrt 3. */
    private static final double ONE_PULSE = 0.5773502691896258;

    /**
     * Fewest pulses from whose spacings a scatter may be learned. Common practice, no source: with
     * ten it is itself uncertain by a quarter (JCGM 100:2008, table E.1).
     */
    private static final int SCATTER_PULSES_MIN = 10;

    /** Common practice, no source: beyond this an amount is not compared. */
    private static final double IMPLAUSIBLE_TIMES = 1000;

    private final Sensed sensed;
    private final RunSetup setup;
    private final Plan plan;
    private final List<String> notes = new ArrayList<>();

    private Evaluation(Sensed sensed) {
        this.sensed = sensed;
        this.setup = sensed.setup();
        this.plan = sensed.plan();
    }

    /** What ends an evaluation early. Stays inside this class. */
    private static final class Unfit extends Exception {
        private static final long serialVersionUID = 1L;
        private final transient Outcome outcome;

        Unfit(Cause cause, String reason) {
            super(reason, null, false, false);
            this.outcome = new Outcome.Void(cause, reason);
        }
    }

    /** The outcome of a catch whose window is closed and whose readings are all taken. */
    static Outcome of(Sensed sensed) {
        try {
            return new Outcome.Measured(new Evaluation(sensed).result());
        } catch (Unfit unfit) {
            return unfit.outcome;
        }
    }

    /**
     * A volume and the way to it.
     *
     * @param basis in words
     */
    record Asked(Volume volume, String basis) {}

    /**
     * The asked volume as far as it is known: also before the window is closed, from what is set.
     */
    static Asked asked(Sensed sensed) {
        return new Evaluation(sensed).asked();
    }

    private CatchResult result() throws Unfit {
        long windowNanos =
                sensed.lines().reference().closeNanos() - sensed.lines().reference().openNanos();
        if (windowNanos <= 0) {
            throw new Unfit(
                    Cause.WINDOW_UNUSABLE,
                    "The window was never both opened and closed; repeat the catch.");
        }
        Optional<PulseCount> count = Optional.empty();
        Optional<Estimate> byReference = Optional.empty();
        if (setup.reference().isPresent()) {
            PulseCount pulses = count(sensed.lines().reference(), "reference meter");
            count = Optional.of(pulses);
            byReference = byReferenceWhereItCan(setup.reference().get(), pulses);
        }
        Optional<Mass> net =
                sensed.ledger()
                        .gross()
                        .map(gross -> gross.minus(sensed.ledger().tare().orElseThrow()));
        Optional<Estimate> byScale = Optional.empty();
        if (net.isPresent()) {
            byScale = Optional.of(byScale(setup.scale().orElseThrow(), net.get()));
        }
        Optional<Ratio> disagreement = disagreement(byReference, byScale);
        Estimate measured =
                (plan.measureBy() == MeasureBy.REFERENCE ? byReference : byScale).orElseThrow();
        Asked asked = asked();
        FlowRate flow =
                new FlowRate(measured.volume().litres() / (flowNanos(count, windowNanos) / 1e9));
        Estimate reported = reported(flow);
        plausible("reported", reported.volume(), measured.volume());
        plausible("asked", asked.volume(), measured.volume());
        Comparison comparison = new Comparison(asked.volume(), reported, measured);
        Optional<String> misread = misread(comparison);
        Optional<String> disturbance = misread.isPresent() ? Optional.empty() : disturbance(count);
        ConstantAdvice advice =
                ConstantAdvice.after(
                        comparison,
                        setup.truck().constant(),
                        setup.truck().control(),
                        misread.or(() -> disturbance.map(how -> how + "; find the cause"))
                                .map(why -> why + " and repeat the catch")
                                .orElse(null));
        return new CatchResult(
                comparison,
                byReference,
                byScale,
                disagreement,
                count,
                net,
                flow,
                windowNanos,
                travel(),
                asked.basis(),
                reportedBasis(),
                disturbance,
                advice,
                List.copyOf(notes));
    }

    /**
     * An amount a thousand times the one measured is a slip of a unit or a figure, not an error.
     */
    private static void plausible(String what, Volume volume, Volume measured) throws Unfit {
        if (volume.litres() > IMPLAUSIBLE_TIMES * measured.litres()) {
            throw new Unfit(
                    Cause.REPORT_UNUSABLE,
                    String.format(
                            Locale.ROOT,
                            "The %s amount of %.4g US gal is more than %.0f times the %.4g US gal"
                                + " measured; check its figures and units and repeat the catch.",
                            what,
                            volume.usGallons(),
                            IMPLAUSIBLE_TIMES,
                            measured.usGallons()));
        }
    }

    private Optional<CatchResult.Travel> travel() {
        Ledger ledger = sensed.ledger();
        return ledger.closeTravelNanos() == Ledger.NONE
                ? Optional.empty()
                : Optional.of(
                        new CatchResult.Travel(
                                ledger.openTravelNanos(), ledger.closeTravelNanos()));
    }

    /** How long liquid flowed in the window, as well as it is known. */
    private double flowNanos(Optional<PulseCount> count, long windowNanos) {
        if (plan.window() == Window.FLYING) {
            return windowNanos;
        }
        if (count.isPresent()
                && count.get() instanceof PulseCount.Whole whole
                && whole.flowNanos() > 0) {
            return whole.flowNanos();
        }
        return sensed.ledger().flowOffNanos() - sensed.ledger().flowOnNanos();
    }

    // Counts
    // ---------------------------------------------------------------------------------------------------------

    private PulseCount count(PulseGate gate, String whose) throws Unfit {
        PulseCount count =
                plan.window() == Window.FLYING
                        ? gate.flyingCount()
                        : gate.standingCount(plan.silenceNanos());
        return switch (count) {
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

    private static double pulses(PulseCount count) {
        return switch (count) {
            case PulseCount.DoubleTimed timed -> timed.pulses();
            case PulseCount.Whole whole -> whole.counted();
            case PulseCount.EdgesLost lost -> throw new AssertionError(lost);
            case PulseCount.Leaping leaping -> throw new AssertionError(leaping);
            case PulseCount.Unusable unusable -> throw new AssertionError(unusable);
        };
    }

    /** Standard uncertainty of a count, in pulses. */
    private double countUncertainty(PulseCount count) {
        return switch (count) {
            case PulseCount.DoubleTimed timed ->
                    timed.counted() < SCATTER_PULSES_MIN ? ONE_PULSE : endsUncertainty(timed);
            case PulseCount.Whole whole ->
                    plan.window() == Window.FLYING
                            ? Math.sqrt(
                                    ONE_PULSE * ONE_PULSE + 2 * whole.scatter() * whole.scatter())
                            : ONE_PULSE;
            case PulseCount.EdgesLost lost -> throw new AssertionError(lost);
            case PulseCount.Leaping leaping -> throw new AssertionError(leaping);
            case PulseCount.Unusable unusable -> throw new AssertionError(unusable);
        };
    }

    /**
     * Each end of a double-timed window is as uncertain as one spacing scatters; the two ends are
     * independent. Double timing carries the mean rate into its ends, where a flow that changed
     * within the window ran at another: how far the bracketed count lies off shows it.
     */
    private static double endsUncertainty(PulseCount.DoubleTimed timed) {
        double apart = ONE_PULSE * (timed.pulses() - timed.bracketed());
        return Math.sqrt(2 * timed.scatter() * timed.scatter() + apart * apart);
    }

    // Measured
    // -------------------------------------------------------------------------------------------------------

    /** A flow that the reference cannot measure is no matter where the scale measures. */
    private Optional<Estimate> byReferenceWhereItCan(RunSetup.Reference reference, PulseCount count)
            throws Unfit {
        try {
            return Optional.of(byReference(reference, count));
        } catch (Unfit unfit) {
            boolean outside =
                    unfit.outcome instanceof Outcome.Void(Cause cause, String reason)
                            && cause == Cause.OUT_OF_RANGE;
            if (!outside || plan.measureBy() == MeasureBy.REFERENCE) {
                throw unfit;
            }
            notes.add("The scale was not checked against the reference. " + unfit.getMessage());
            return Optional.empty();
        }
    }

    private Estimate byReference(RunSetup.Reference reference, PulseCount count) throws Unfit {
        PulseConstant constant = constantAt(reference.curve(), meanRate(count));
        Volume volume = constant.volumeOf(pulses(count));
        double certified =
                reference.certificate().relativeExpandedUncertainty() / Estimate.COVERAGE;
        Estimate estimate =
                new Estimate(volume, List.of())
                        .with("reference meter, certificate", volume.litres() * certified)
                        .with(
                                "reference meter, pulse count",
                                countUncertainty(count) / constant.pulsesPerLitre());
        if (plan.window() == Window.FLYING || !(count instanceof PulseCount.Whole whole)) {
            return estimate;
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
        // Slow pulses are liquid of which the meter tells wrongly how much; fast ones may be
        // bounces.
        return estimate.with(
                        "reference meter, ramps below its range",
                        whole.slowPulses()
                                / constant.pulsesPerLitre()
                                * plan.rampErrorRatio()
                                * ONE_PULSE)
                .with(
                        "reference meter, pulses too fast for its range",
                        whole.fastPulses() / constant.pulsesPerLitre() * ONE_PULSE);
    }

    /**
     * Mean pulse rate at which the reference's constant is taken: of a standing window, that inside
     * its range.
     */
    private double meanRate(PulseCount count) throws Unfit {
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

    private static PulseConstant constantAt(ReferenceCurve curve, double pulsesPerSecond)
            throws Unfit {
        return switch (curve.at(pulsesPerSecond)) {
            case ReferenceCurve.Reading.InRange(FlowRate flow, PulseConstant constant) -> constant;
            case ReferenceCurve.Reading.OutOfRange(String reason) ->
                    throw new Unfit(
                            Cause.OUT_OF_RANGE, "The flow cannot be measured: " + reason + ".");
        };
    }

    private Estimate byScale(RunSetup.Scale scale, Mass net) throws Unfit {
        // Two readings of one value may differ by the rounding of their means: that is no catch.
        if (net.kilograms() < scale.resolution().kilograms()) {
            throw new Unfit(
                    Cause.WINDOW_UNUSABLE,
                    String.format(
                            Locale.ROOT,
                            "The scale shows %.3f kg caught; nothing was caught or the tank leaks.",
                            net.kilograms()));
        }
        RunSetup.Liquid liquid = setup.liquid();
        Volume volume =
                liquid.density().volumeOf(Buoyancy.trueMass(net, liquid.density(), liquid.air()));
        double litresPerKilogram = volume.litres() / net.kilograms();
        double certified = scale.certificate().relativeExpandedUncertainty() / Estimate.COVERAGE;
        double density = liquid.densityRelativeUncertainty() / Estimate.COVERAGE;
        return new Estimate(volume, List.of())
                .with("scale, certificate", volume.litres() * certified)
                .with("diverter, split between its end switches", splitLitres(volume))
                .with(
                        "scale, resolution of two readings",
                        Math.sqrt(2) * STEP * scale.resolution().kilograms() * litresPerKilogram)
                .with("density of the liquid", volume.litres() * density);
    }

    /**
     * Where only the end switches are seen, the stream may cross anywhere between them, evenly
     * spread; the flap crosses it at the same place both ways, so that what the one end adds the
     * other adds again. The meters are gated by the stamps themselves and know nothing of it.
     */
    private double splitLitres(Volume caught) {
        boolean betweenEnds =
                plan.window() == Window.FLYING
                        && setup.diverter().orElseThrow().feedback() == RunSetup.Feedback.ENDS;
        if (!betweenEnds) {
            return 0;
        }
        Ledger ledger = sensed.ledger();
        PulseGate window = sensed.lines().reference();
        double share =
                (ledger.openTravelNanos() + ledger.closeTravelNanos())
                        / 2.0
                        / (window.closeNanos() - window.openNanos());
        return caught.litres() * share * ONE_PULSE;
    }

    private Optional<Ratio> disagreement(Optional<Estimate> byReference, Optional<Estimate> byScale)
            throws Unfit {
        if (byReference.isEmpty() || byScale.isEmpty()) {
            return Optional.empty();
        }
        Ratio apart = byReference.get().volume().errorAgainst(byScale.get().volume());
        // Neither the count nor the scale's steps are a disagreement of the instruments: they are
        // allowed for on top.
        double steps = 0;
        for (Estimate estimate : List.of(byReference.get(), byScale.get())) {
            for (Estimate.Term term : estimate.terms()) {
                boolean reading =
                        term.name().contains("resolution") || term.name().contains("count");
                steps += reading ? term.standardLitres() * term.standardLitres() : 0;
            }
        }
        double allowed =
                plan.crossCheckMax().value()
                        + Estimate.COVERAGE * Math.sqrt(steps) / byScale.get().volume().litres();
        if (apart.magnitude().value() > allowed) {
            throw new Unfit(
                    Cause.REFERENCES_DISAGREE,
                    String.format(
                            Locale.ROOT,
                            "Reference meter (%s) and scale (%s) disagree by %.2f %%, more than the"
                                + " %.2f %% allowed; look for air, a leak, lost pulses or a wrong"
                                + " density before trusting either.",
                            Outcome.gallons(byReference.get().volume()),
                            Outcome.gallons(byScale.get().volume()),
                            apart.percent(),
                            allowed * 100));
        }
        return Optional.of(apart);
    }

    // Reported
    // -------------------------------------------------------------------------------------------------------

    private Estimate reported(FlowRate flow) throws Unfit {
        return switch (setup.reported()) {
            case Reported.Display display -> byDisplay(display);
            case Reported.RunningLine line -> byLine(line, flow);
            case Reported.MeterPulses pulses -> byMeterPulses();
        };
    }

    private String reportedBasis() {
        return switch (setup.reported()) {
            case Reported.Display d -> "typed from the truck's display, rest to rest";
            case Reported.RunningLine l ->
                    "the controller's running total, read at the window's stamps";
            case Reported.MeterPulses p ->
                    "the truck meter's pulses, gated by the window's stamps, over its constant";
        };
    }

    private Estimate byDisplay(Reported.Display display) throws Unfit {
        Volume before = sensed.ledger().totalBefore().orElseThrow();
        Volume after = sensed.ledger().totalAfter().orElseThrow();
        if (after.compareTo(before) < 0) {
            throw new Unfit(
                    Cause.REPORT_UNUSABLE,
                    "The display's total after the catch ("
                            + Outcome.gallons(after)
                            + ") is below the one before ("
                            + Outcome.gallons(before)
                            + "); it was reset or misread, repeat the catch.");
        }
        return new Estimate(new Volume(after.litres() - before.litres()), List.of())
                .with("truck display, step of two readings", twoSteps(display));
    }

    private Estimate byLine(Reported.RunningLine line, FlowRate flow) throws Unfit {
        return switch (sensed.total().amount(line.freshNanosMax())) {
            case RunningTotal.Amount.Known(Volume volume, long apart) ->
                    new Estimate(volume, List.of())
                            .with("controller total, step of two readings", twoSteps(line))
                            .with(
                                    "controller total, lag at both ends",
                                    plan.window() == Window.FLYING
                                            ? Math.sqrt(2)
                                                    * ONE_PULSE
                                                    * flow.during(line.lagNanos()).litres()
                                            : 0);
            case RunningTotal.Amount.NotYet n ->
                    throw new Unfit(
                            Cause.REPORT_UNUSABLE,
                            "The controller sent no total after the window closed; check its line"
                                    + " and repeat the catch.");
            case RunningTotal.Amount.Unusable(String reason) ->
                    throw new Unfit(Cause.REPORT_UNUSABLE, upper(reason));
        };
    }

    private Estimate byMeterPulses() throws Unfit {
        PulseCount count = count(sensed.lines().truck(), "truck meter");
        PulseConstant constant = setup.truck().constant().pulses().orElseThrow();
        return new Estimate(constant.volumeOf(pulses(count)), List.of())
                .with(
                        "truck meter, pulse count",
                        countUncertainty(count) / constant.pulsesPerLitre());
    }

    private static double twoSteps(Reported reported) {
        return Math.sqrt(2) * STEP * reported.step().litres();
    }

    // Asked
    // ----------------------------------------------------------------------------------------------------------

    private Asked asked() {
        return switch (setup.asked().application()) {
            case RunSetup.Application.Direct direct -> {
                Length length = length();
                yield new Asked(
                        direct.rate().over(length.distance, direct.lanes()),
                        "set rate x " + length.basis);
            }
            case RunSetup.Application.PreWet preWet -> preWet(preWet);
        };
    }

    private Asked preWet(RunSetup.Application.PreWet preWet) {
        if (sensed.ledger().salt().isPresent()) {
            return new Asked(
                    preWet.rate().on(sensed.ledger().salt().get()),
                    "pre-wet rate x salt that the controller reports");
        }
        Optional<Double> feeder =
                preWet.saltPerFeederPulse().isPresent()
                        ? windowPulses(sensed.lines().feeder(), "feeder pulses")
                        : Optional.empty();
        if (feeder.isPresent()) {
            Mass salt = new Mass(preWet.saltPerFeederPulse().get().kilograms() * feeder.get());
            return new Asked(
                    preWet.rate().on(salt), "pre-wet rate x feeder pulses x their constant");
        }
        Length length = length();
        return new Asked(
                preWet.rate().on(preWet.salt().over(length.distance)),
                "pre-wet rate x set salt rate x " + length.basis);
    }

    private record Length(Distance distance, String basis) {}

    /** The road that the truck believes it covered in the window. */
    private Length length() {
        Optional<Double> delivered =
                setup.asked().pulsesPerMile().isPresent()
                        ? windowPulses(sensed.lines().speed(), "speed pulses")
                        : Optional.empty();
        if (delivered.isPresent()) {
            return new Length(
                    Distance.ofMiles(delivered.get() / setup.asked().pulsesPerMile().get()),
                    "distance from the speed pulses delivered");
        }
        PulseGate window = sensed.lines().reference();
        boolean closed = window.openNanos() != Tally.NONE && window.closeNanos() != Tally.NONE;
        Ledger ledger = sensed.ledger();
        if (plan.window() == Window.FLYING && closed) {
            return new Length(
                    setup.asked().speed().during(window.closeNanos() - window.openNanos()),
                    "set speed x the window's time (speed not counted back)");
        }
        if (ledger.flowOnNanos() != Ledger.NONE && ledger.flowOffNanos() != Ledger.NONE) {
            return new Length(
                    setup.asked().speed().during(ledger.flowOffNanos() - ledger.flowOnNanos()),
                    "set speed x the time from start to stop of the flow (speed not counted back)");
        }
        return new Length(setup.asked().speed().during(plan.catchNanos()), "set speed x set time");
    }

    /**
     * Pulses of a side line in the window, where it gave any. Those that came and cannot be counted
     * are not passed over in silence.
     */
    private Optional<Double> windowPulses(PulseGate gate, String which) {
        if (gate.inside().pulses() == 0 || gate.closeNanos() == Tally.NONE) {
            return Optional.empty();
        }
        PulseCount count =
                plan.window() == Window.FLYING
                        ? gate.flyingCount()
                        : gate.standingCount(plan.silenceNanos());
        return switch (count) {
            case PulseCount.DoubleTimed timed -> Optional.of(timed.pulses());
            case PulseCount.Whole whole -> Optional.of((double) whole.counted());
            case PulseCount.EdgesLost(long seen, long missing) ->
                    unused(which, "some were lost on the way to the program");
            case PulseCount.Leaping(long seen, long leaps) ->
                    unused(which, "their spacing leaps, so some were missed or added");
            case PulseCount.Unusable(String reason) -> unused(which, reason);
        };
    }

    private Optional<Double> unused(String which, String why) {
        notes.add("The " + which + " were not used for the asked amount: " + why + ".");
        return Optional.empty();
    }

    // Advice
    // ---------------------------------------------------------------------------------------------------------

    /** Whether the first of the typed totals, the one typed only once, may be misread. */
    private Optional<String> misread(Comparison comparison) {
        return setup.reported() instanceof Reported.Display display
                        && comparison.controlError().magnitude().value() > display.band().value()
                ? Optional.of(
                        "the typed totals lie far from what was asked; make sure that the first"
                                + " one was read right")
                : Optional.empty();
    }

    /** What kept the flow from being a steady stream of liquid, as far as that was judged. */
    private Optional<String> disturbance(Optional<PulseCount> count) {
        if (plan.window() == Window.STANDING) {
            notes.add("Flow started and stopped inside the window; its steadiness was not judged.");
            return Optional.empty();
        }
        if (count.isPresent() && count.get() instanceof PulseCount.Whole) {
            return Optional.of("the pulse spacing was uneven, as with air in the line");
        }
        if (setup.reported() instanceof Reported.MeterPulses
                && sensed.lines().truck().flyingCount() instanceof PulseCount.Whole) {
            return Optional.of("the truck meter's pulse spacing was uneven");
        }
        if (sensed.lines().steadyBy().isEmpty() || plan.settleSlots() == 0) {
            notes.add("Steadiness of the flow before the catch was not proven.");
        }
        if (sensed.lines().steadiness().highest() == 0) {
            notes.add("Steadiness of the flow during the catch was not judged.");
        }
        double spread = sensed.lines().steadiness().watchedSpread();
        if (spread > plan.unsteadyMax()) {
            return Optional.of(
                    String.format(
                            Locale.ROOT,
                            "the flow was unsteady during the catch (it spread by %.1f %%, limit"
                                    + " %.1f %%)",
                            spread * 100,
                            plan.unsteadyMax() * 100));
        }
        return Optional.empty();
    }

    private static String upper(String sentence) {
        return Character.toUpperCase(sentence.charAt(0)) + sentence.substring(1) + ".";
    }
}

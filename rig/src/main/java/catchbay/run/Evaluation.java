package catchbay.run;

import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.Estimate;
import catchbay.metrology.Input;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Plan;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;
import catchbay.signal.PressureSense;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseGate;
import catchbay.signal.RunningTotal;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * From what a finished catch has sensed to its outcome: the counts, the three amounts, their
 * errors, the advice.
 */
final class Evaluation {

    /** Whole pulses at both ends, and one at a change of rate, which two writes make. */
    private static final double LOOP_PULSES = 3;

    /** Common practice, no source: more than any crystal is off. */
    private static final double LOOP_RATIO = 0.001;

    /** Common practice, no source: beyond this an amount is not compared. */
    private static final double IMPLAUSIBLE_TIMES = 1000;

    /**
     * Pulses that a truck's meter owes before their lack is a meter that stands still; fewer are a
     * catch too short to tell. Common practice, no source.
     */
    private static final double STANDSTILL_PULSES_MIN = 10;

    private final Sensed sensed;
    private final RunSetup setup;
    private final Plan plan;
    private final List<String> notes;
    private final Counting counting;
    private final ModelSketch sketch = new ModelSketch();

    private Evaluation(Sensed sensed, List<String> notes) {
        this.sensed = sensed;
        this.notes = notes;
        this.setup = sensed.setup();
        this.plan = sensed.plan();
        this.counting = new Counting(plan, notes);
    }

    /** The outcome of a catch whose window is closed and whose readings are all taken. */
    static Outcome of(Sensed sensed) {
        try {
            List<String> notes = new ArrayList<>();
            Sensed warm = Warmth.applied(sensed, notes);
            return new Outcome.Measured(new Evaluation(warm, notes).result());
        } catch (Unfit unfit) {
            return unfit.outcome();
        }
    }

    /**
     * The asked volume as far as it is known: also before the window is closed, from what is set.
     */
    static Volume asked(Sensed sensed) {
        return AskedAmount.of(sensed, new Counting(sensed.plan(), new ArrayList<>())).volume();
    }

    private CatchResult result() throws Unfit {
        long windowNanos =
                sensed.lines().reference().closeNanos() - sensed.lines().reference().openNanos();
        if (windowNanos <= 0) {
            throw new Unfit(
                    Cause.WINDOW_UNUSABLE,
                    "The window was never both opened and closed; repeat the catch.");
        }
        notes.addAll(SetupCheck.decided(setup));
        setup.session().overdueSentence().ifPresent(notes::add);
        net(sensed).ifPresent(this::howTheScaleWasTried);
        MeasuredAmount measuring = new MeasuredAmount(sensed, counting, sketch);
        Optional<PulseCount> count = Optional.empty();
        Optional<Quantity> byReference = Optional.empty();
        if (setup.reference().isPresent()) {
            PulseCount pulses = counting.needed(sensed.lines().reference(), "reference meter");
            count = Optional.of(pulses);
            if (sensed.lines().channels().isPresent()) {
                notes.add(
                        Channels.agreement(
                                sensed.lines(), sensed.lines().channels().get(), counting));
            }
            byReference = byReferenceWhereItCan(measuring, pulses);
        }
        Optional<Mass> net = net(sensed);
        Optional<Quantity> byScale = Optional.empty();
        if (net.isPresent()) {
            byScale = Optional.of(measuring.byScale(setup.scale().orElseThrow(), net.get()));
        }
        byReference.ifPresent(volume -> sketch.output(Comparison.BY_REFERENCE, volume));
        byScale.ifPresent(volume -> sketch.output(Comparison.BY_SCALE, volume));
        if (byReference.isPresent() && byScale.isPresent()) {
            Quantity one = byReference.get();
            Quantity other = byScale.get();
            sketch.output(Comparison.BETWEEN_INSTRUMENTS, x -> one.at(x) / other.at(x) - 1);
        }
        Quantity measured =
                (plan.measureBy() == MeasureBy.REFERENCE ? byReference : byScale).orElseThrow();
        Volume measuredVolume = new Volume(sketch.best(measured));
        FlowRate flow =
                new FlowRate(measuredVolume.litres() / (flowNanos(count, windowNanos) / 1e9));
        AskedAmount asked = AskedAmount.of(sensed, counting);
        speedSent(windowNanos);
        Quantity reported = reported(flow, measuredVolume);
        if (sketch.best(reported) == 0 && !ofBayItself()) {
            notes.add(nothingReported(flow));
        }
        plausible("reported", new Volume(sketch.best(reported)), measuredVolume);
        plausible("asked", asked.volume(), measuredVolume);
        Comparison comparison =
                Comparison.of(
                        sketch,
                        asked(asked),
                        reported,
                        measured,
                        scatter(),
                        setup.truck().constant());
        Optional<Ratio> disagreement = disagreement(comparison);
        Optional<String> misread = misread(comparison);
        Optional<String> disturbance = misread.isPresent() ? Optional.empty() : disturbance(count);
        ConstantAdvice advice =
                ConstantAdvice.after(
                        comparison,
                        setup.truck().constant(),
                        setup.truck().control(),
                        ofBayItself()
                                ? "the bay tried itself, and no truck's figure was looked at"
                                : misread.or(() -> disturbance.map(how -> how + "; find the cause"))
                                        .map(why -> why + " and repeat the catch")
                                        .orElse(null));
        return new CatchResult(
                comparison,
                disagreement,
                count,
                sensed.ledger().tare(),
                net,
                flow,
                windowNanos,
                travel(),
                asked.basis(),
                reportedBasis(),
                coupler(),
                rise(),
                disturbance,
                advice,
                ofBayItself() ? Optional.empty() : setup.judgement().verdict(comparison.budget()),
                List.copyOf(notes));
    }

    private boolean ofBayItself() {
        return setup.reported() instanceof Reported.Nothing;
    }

    /** The pressure at the coupler, where a gauge is fitted; its loss costs no amount. */
    private Optional<PressureSense.InWindow> coupler() {
        PressureSense sense = sensed.coupler();
        if (!sense.heard()) {
            return Optional.empty();
        }
        Optional<PressureSense.InWindow> told = sense.inWindow();
        notes.add(
                told.map(pressure ->
                                String.format(
                                        Locale.ROOT,
                                        "The pressure at the coupler was %.1f psi, between %.1f and"
                                                + " %.1f psi.",
                                        pressure.mean().psi(),
                                        pressure.least().psi(),
                                        pressure.most().psi()))
                        .orElse(
                                "The gauge at the coupler did not tell its pressure throughout the"
                                        + " window"
                                        + (sense.missing() == null
                                                ? ""
                                                : " (last: " + sense.missing() + ")")
                                        + "; whether the bay choked the truck is not known."));
        return told;
    }

    private Optional<FlowRise> rise() {
        Optional<FlowRise> rise = FlowRise.of(sensed);
        rise.map(FlowRise::sentence).ifPresent(notes::add);
        return rise;
    }

    /** How many speed pulses the truck was shown, where the bay tells what it sends. */
    private void speedSent(long windowNanos) {
        double sent = sensed.lines().sentSpeed().inWindow().orElse(0);
        if (sent == 0) {
            return;
        }
        String rate =
                plan.window() == Window.FLYING
                        ? String.format(Locale.ROOT, ", %.3f/s", sent * 1e9 / windowNanos)
                        : "";
        PulseGate gate = sensed.lines().speed();
        boolean counted =
                gate.inside().pulses() > 0
                        && switch (counting.of(gate)) {
                            case PulseCount.DoubleTimed _, PulseCount.Whole _ -> true;
                            case PulseCount.EdgesLost _,
                                    PulseCount.Leaping _,
                                    PulseCount.Unusable _ ->
                                    false;
                        };
        if (!counted) {
            notes.add(
                    String.format(
                            Locale.ROOT,
                            "%.1f speed pulses were sent%s, computed from period x time; they were"
                                    + " not counted back.",
                            sent,
                            rate));
            return;
        }
        double back = Counting.pulses(counting.of(gate));
        boolean alike = Math.abs(back - sent) <= LOOP_PULSES + LOOP_RATIO * sent;
        notes.add(
                String.format(
                        Locale.ROOT,
                        "%.1f speed pulses were counted back where %.1f were sent%s%s.",
                        back,
                        sent,
                        rate,
                        alike
                                ? ""
                                : "; look at the loop-back's wire, and whether"
                                        + " port.pulse_output.clock_hertz is the timer's"));
    }

    /** What a result by the scale has to say of how it was tried where it stands. */
    private void howTheScaleWasTried(Mass net) {
        ScaleTests tests = setup.scale().orElseThrow().tests();
        if (!tests.checkedInPlace()) {
            if (setup.doubts().scale().inPlace().isEmpty()) {
                notes.add(
                        "It is not said whether the scale was adjusted, or checked with weights,"
                                + " where it stands (scale.in_place); gravity differs from place to"
                                + " place by up to half a per cent.");
            }
            return;
        }
        Mass heaviest = tests.weights().orElseThrow().heaviest();
        if (net.kilograms() > heaviest.kilograms()) {
            notes.add(
                    String.format(
                            Locale.ROOT,
                            "The scale was checked with weights up to %.3f kg, and this catch"
                                    + " weighs %.3f kg; check it with as much.",
                            heaviest.kilograms(),
                            net.kilograms()));
        }
    }

    private static Optional<Mass> net(Sensed sensed) {
        return sensed.ledger()
                .gross()
                .map(gross -> gross.minus(sensed.ledger().tare().orElseThrow()));
    }

    /** A flow that the reference cannot measure is no matter where the scale measures. */
    private Optional<Quantity> byReferenceWhereItCan(MeasuredAmount measuring, PulseCount count)
            throws Unfit {
        try {
            return Optional.of(measuring.byReference(setup.reference().orElseThrow(), count));
        } catch (Unfit unfit) {
            if (unfit.outcome().cause() != Cause.OUT_OF_RANGE
                    || plan.measureBy() == MeasureBy.REFERENCE) {
                throw unfit;
            }
            notes.add("The scale was not checked against the reference. " + unfit.getMessage());
            return Optional.empty();
        }
    }

    private Quantity asked(AskedAmount asked) {
        Quantity even = sketch.even(asked.doubt(), 0, asked.halfWidth(), Scope.BAY);
        Quantity normal = sketch.normal(asked.doubt() + ", count", 0, asked.standard(), Scope.RUN);
        double litres = asked.volume().litres();
        return x -> litres * (1 + even.at(x) + normal.at(x));
    }

    /**
     * How another catch of the same truck would come out, by what was planned from earlier ones.
     */
    private Quantity scatter() {
        Doubts.Scatter planned = setup.doubts().scatter();
        double standard = planned.run().value();
        // Named even where it is nothing: a series puts what it has found in its place.
        Quantity run =
                sketch.input(
                        standard == 0
                                ? Input.exact(Comparison.RUN_SCATTER, 0)
                                : new Input(
                                        Comparison.RUN_SCATTER,
                                        0,
                                        standard,
                                        planned.runs() - 1,
                                        Input.Shape.STUDENT,
                                        Scope.RUN));
        Quantity day =
                sketch.normal(
                        "scatter from day to day",
                        0,
                        planned.day().value(),
                        planned.days() - 1,
                        Scope.DAY);
        return x -> run.at(x) + day.at(x);
    }

    private String reportedBasis() {
        return switch (setup.reported()) {
            case Reported.Display d -> "typed from the truck's display, rest to rest";
            case Reported.RunningLine l ->
                    "the controller's running total, read at the window's stamps";
            case Reported.MeterPulses p ->
                    "the truck meter's pulses, gated by the window's stamps, over its constant";
            case Reported.Nothing n -> "not looked at: the bay tried itself";
        };
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

    // Both instruments
    // ----------------------------------------------------------------------------------------------

    private Optional<Ratio> disagreement(Comparison comparison) throws Unfit {
        Optional<Estimate> byReference = comparison.by(Comparison.BY_REFERENCE);
        Optional<Estimate> byScale = comparison.by(Comparison.BY_SCALE);
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
                        + 2 * Math.sqrt(steps) / byScale.get().volume().litres();
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
        double explained = comparison.expanded(Comparison.BETWEEN_INSTRUMENTS).value();
        if (apart.magnitude().value() > explained) {
            notes.add(
                    String.format(
                            Locale.ROOT,
                            "Reference meter and scale differ by %.2f %%, more than the %.2f %%"
                                + " that their uncertainties explain; look for the cause, or state"
                                + " them larger.",
                            apart.magnitude().percent(),
                            explained * 100));
        }
        return Optional.of(apart);
    }

    // Reported
    // -------------------------------------------------------------------------------------------------------

    private static String nothingReported(FlowRate flow) {
        return String.format(
                Locale.ROOT,
                "Nothing was reported at a flow of %.3g US gal/min: it lies below the cut-off of"
                    + " the truck's meter, or the meter, its wire or the bay's tap on it is dead."
                    + " Catch at a higher flow: where the meter counts there it was the cut-off,"
                    + " else check supply, wire, tap and rotor.",
                flow.perMinute(VolumeUnit.US_GALLON));
    }

    private Quantity reported(FlowRate flow, Volume measured) throws Unfit {
        return switch (setup.reported()) {
            case Reported.Display display -> byDisplay(display);
            case Reported.RunningLine line -> byLine(line, flow);
            case Reported.MeterPulses pulses -> byMeterPulses(measured);
            case Reported.Nothing nothing -> ModelSketch.exactly(0);
        };
    }

    private Quantity byDisplay(Reported.Display display) throws Unfit {
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
        Quantity read =
                sketch.twoEven(
                        "truck display, step of two readings",
                        after.litres() - before.litres(),
                        display.step().litres() / 2,
                        Scope.RUN);
        Quantity counted = wholePulses(1);
        return x -> read.at(x) + counted.at(x);
    }

    /**
     * A controller's total grows by whole pulses of its meter: each of its two readings is behind
     * the liquid by something from none to one.
     *
     * @param evenedOut how far reading it between two of its messages evens that out, 0 to 1
     */
    private Quantity wholePulses(double evenedOut) {
        return sketch.twoEven(
                "controller total, whole pulses of the truck meter",
                0,
                setup.truck()
                        .constant()
                        .pulses()
                        .map(pulses -> evenedOut / 2 / pulses.pulsesPerLitre())
                        .orElse(0.0),
                Scope.RUN);
    }

    private Quantity byLine(Reported.RunningLine line, FlowRate flow) throws Unfit {
        return switch (sensed.total().amount(line.freshNanosMax())) {
            case RunningTotal.Amount.Known(Volume volume, long apart, double evenedOut) -> {
                Quantity read =
                        sketch.twoEven(
                                "controller total, step of two readings",
                                volume.litres(),
                                evenedOut * line.step().litres() / 2,
                                Scope.RUN);
                // A total is behind the flow by something from nothing to its lag, never ahead of
                // it: what both ends are behind alike cancels, half the lag to either side stays.
                Quantity lag =
                        sketch.twoEven(
                                "controller total, lag at both ends",
                                0,
                                plan.window() == Window.FLYING
                                        ? evenedOut * flow.during(line.lagNanos()).litres() / 2
                                        : 0,
                                Scope.RUN);
                Quantity counted = wholePulses(evenedOut);
                yield x -> read.at(x) + lag.at(x) + counted.at(x);
            }
            case RunningTotal.Amount.NotYet n ->
                    throw new Unfit(
                            Cause.REPORT_UNUSABLE,
                            "The controller sent no total after the window closed; check its line"
                                    + " and repeat the catch.");
            case RunningTotal.Amount.Unusable(String reason) ->
                    throw new Unfit(Cause.REPORT_UNUSABLE, upper(reason));
        };
    }

    private Quantity byMeterPulses(Volume measured) throws Unfit {
        double perLitre = setup.truck().constant().pulses().orElseThrow().pulsesPerLitre();
        PulseGate gate = sensed.lines().truck();
        boolean owed = measured.litres() * perLitre >= STANDSTILL_PULSES_MIN;
        PulseCount count =
                owed && gate.none().isPresent()
                        ? standstill(gate)
                        : counting.needed(gate, "truck meter");
        Quantity pulses =
                sketch.normal(
                        "truck meter, pulse count",
                        Counting.pulses(count),
                        counting.standard(count),
                        Scope.RUN);
        return x -> pulses.at(x) / perLitre;
    }

    /** A meter that never gave a pulse reads nothing; of one that stopped nobody knows when. */
    private static PulseCount standstill(PulseGate gate) throws Unfit {
        if (gate.pulsesSorted() > 0) {
            throw new Unfit(
                    Cause.WINDOW_UNUSABLE,
                    "The truck meter gave "
                            + gate.pulsesSorted()
                            + " pulses before or after the window and none in it, though liquid"
                            + " ran: it stalls at this flow, or its wire or the bay's tap on it"
                            + " fails. Check rotor, wire and tap, or choose a higher flow, and"
                            + " repeat the catch.");
        }
        return gate.none().orElseThrow();
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

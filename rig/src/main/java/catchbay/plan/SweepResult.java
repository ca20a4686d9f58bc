package catchbay.plan;

import catchbay.metrology.Certificate;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.TruckConstant;
import catchbay.metrology.Verdict;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.run.Judgement;
import catchbay.run.RunSetup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * What a sweep has given so far.
 *
 * @param name the sweep's name
 * @param simulated whether any instrument was a stand-in
 * @param sweep all of it
 * @param end why it ended, or what it waits for, as a sentence
 * @param resumable whether it may be gone on with
 * @param legs each leg with what it gave
 * @param advice what to do with the constant; empty while points are left
 * @param closing how the truck's session stands
 * @param reasons why it stands so, each a sentence
 */
public record SweepResult(
        String name,
        boolean simulated,
        Sweep sweep,
        String end,
        boolean resumable,
        List<LegResult> legs,
        Optional<SweepAdvice> advice,
        Closing closing,
        List<String> reasons) {

    /** Why is told with the point itself. */
    private static final String LEFT = "it was left.";

    /** How a truck's session stands. */
    public enum Closing {
        /** It passes as found, or as left and verified. */
        PASSED,
        /** It does not pass, or did not follow what was asked of it. */
        FAILED,
        /** A new constant was found, and nothing has proven yet that it was entered and holds. */
        NOT_VERIFIED,
        /** Something is missing for a judgement. */
        UNFINISHED
    }

    /**
     * What a leg gave.
     *
     * @param progress its catches
     * @param mean of those that count; empty where none does, or the controller reported nothing
     * @param given what flow the truck gave; empty likewise
     * @param verdict by the plan's judgement; empty where it cannot be passed
     * @param proof what shows whether the controller has the new constant, of a verification that
     *     can show it
     */
    public record LegResult(
            Leg leg,
            LegProgress progress,
            Optional<MeanOfCatches> mean,
            Optional<Given> given,
            Optional<Verdict> verdict,
            Optional<Proof> proof) {

        /** An error of its mean. */
        public Optional<Ratio> error(Judgement.On which) {
            return mean.map(known -> new Ratio(known.budget().output(which.error()).value()));
        }

        /** The expanded uncertainty, 95 %, of an error of its mean. */
        public Optional<Ratio> within(Judgement.On which) {
            return mean.map(known -> new Ratio(known.budget().output(which.error()).expanded()));
        }

        /** The meter error of its mean. */
        public Optional<Ratio> meterError() {
            return error(Judgement.On.METER);
        }

        /** The expanded uncertainty, 95 %, of its meter error. */
        public Optional<Ratio> within() {
            return within(Judgement.On.METER);
        }

        /**
         * How it stands, in words: its verdict, or why that one is worth nothing. A meter that is
         * right at a flow that was not asked for passes nowhere, nor does one that still has the
         * old constant. Empty where nothing is known.
         */
        public Optional<String> standing() {
            if (proof.filter(shown -> !shown.holds()).isPresent()) {
                return Optional.of("not entered");
            }
            return missed().isPresent() ? verdict.map(_ -> "did not follow") : graded();
        }

        /** The verdict in words, by the plan's judgement alone; empty where there is none. */
        public Optional<String> graded() {
            return verdict.map(known ->
                    switch (known) {
                        case Verdict.Decided decided -> decided.grade().words();
                        case Verdict.NoRoom _ -> "no room";
                    });
        }

        /** That the truck did not follow what was asked of it, as a sentence. */
        public Optional<String> missed() {
            return given.filter(flow -> !flow.followed()).map(Given::missed);
        }

        boolean passes() {
            return verdict.filter(Verdict::passes).isPresent();
        }
    }

    /**
     * What shows that a constant was entered, or that it was not.
     *
     * @param elsewhere whether it is of a flow that was not caught as found: then it shows that the
     *     controller still has the constant, and not by itself that it was entered
     * @param what which error
     * @param expected what it should be by what was found before
     * @param found what it is
     * @param within how far apart they may lie where the controller has it; no tolerance of the
     *     truck's
     */
    public record Proof(
            boolean elsewhere, Judgement.On what, Ratio expected, Ratio found, Ratio within) {
        /** Whether the controller has the constant. */
        public boolean holds() {
            return near(expected.value(), within.value());
        }

        private boolean near(double error, double most) {
            return Math.abs(found.value() - error) <= most;
        }

        /**
         * This one, where it shows either constant to be there. What is far from what both would
         * give has another cause, and tells of neither.
         *
         * @param unentered what the error would be by the constant as found
         */
        Optional<Proof> unlessNeither(double unentered) {
            double half = Math.abs(expected.value() - unentered) / 2;
            return holds() || near(unentered, Math.max(half, within.value()))
                    ? Optional.of(this)
                    : Optional.empty();
        }
    }

    /**
     * A measuring instrument.
     *
     * @param by which kind of instrument it is
     * @param measured whether it gave the measured volume; else it stood beside it as a check
     */
    public record Instrument(RunSetup.MeasureBy by, Certificate certificate, boolean measured) {}

    /**
     * What catches were made with.
     *
     * @param legs by their numbers, in order: those with a catch that counts and was made with it
     */
    public record Used<T>(T what, List<Integer> legs) {
        public Used {
            legs = List.copyOf(legs);
        }
    }

    /**
     * What a point gave on the way down less what it gave on the way up, where a plan goes both
     * ways.
     *
     * @param up on the way up
     * @param downLessUp of the meter errors
     * @param within expanded uncertainty, 95 %, of the difference by the scatter of the catches
     *     alone: all that the bay is off by is in both; empty where no scatter is known
     */
    public record Hysteresis(Leg up, Ratio downLessUp, Optional<Ratio> within) {
        /** Whether chance does not explain it. */
        public boolean stands() {
            return within.filter(most -> Math.abs(downLessUp.value()) > most.value()).isPresent();
        }

        private static Hysteresis of(LegResult up, LegResult down) {
            MeanOfCatches one = up.mean().orElseThrow();
            MeanOfCatches other = down.mean().orElseThrow();
            return new Hysteresis(
                    up.leg(),
                    new Ratio(
                            down.meterError().orElseThrow().value()
                                    - up.meterError().orElseThrow().value()),
                    one.differsBy(other));
        }
    }

    public SweepResult {
        legs = List.copyOf(legs);
        reasons = List.copyOf(reasons);
    }

    /**
     * The result of a sweep that has come so far.
     *
     * @param end why it ended, or what it waits for, as a sentence
     * @param resumable whether it may be gone on with
     */
    public static SweepResult of(
            String name, boolean simulated, Sweep sweep, String end, boolean resumable) {
        List<LegResult> legs = results(sweep);
        boolean found =
                legs.stream()
                        .filter(leg -> !leg.leg().verifying())
                        .allMatch(leg -> leg.progress().over());
        Optional<SweepAdvice> advice =
                found ? Optional.of(SweepAdvice.after(sweep)) : Optional.empty();
        List<String> reasons = new ArrayList<>();
        Closing closing = closing(sweep, legs, advice, reasons);
        // What is so on the way up is so on the way down.
        List<String> once = reasons.stream().distinct().toList();
        return new SweepResult(name, simulated, sweep, end, resumable, legs, advice, closing, once);
    }

    private static List<LegResult> results(Sweep sweep) {
        List<LegResult> legs = new ArrayList<>();
        for (Leg leg : sweep.legs()) {
            legs.add(result(sweep, leg, legs));
        }
        return legs;
    }

    /** The instruments of the catches that count; one that did both is there twice. */
    public List<Used<Instrument>> instruments() {
        return used(SweepResult::instruments);
    }

    /** What ran in the catches that count. */
    public List<Used<RunSetup.Liquid>> liquids() {
        return used(setup -> List.of(setup.liquid()));
    }

    private static List<Instrument> instruments(RunSetup setup) {
        RunSetup.MeasureBy measured = setup.plan().measureBy();
        List<Instrument> all = new ArrayList<>();
        for (RunSetup.MeasureBy by : RunSetup.MeasureBy.values()) {
            certificate(setup, by)
                    .map(known -> new Instrument(by, known, by == measured))
                    .ifPresent(all::add);
        }
        return all;
    }

    private static Optional<Certificate> certificate(RunSetup setup, RunSetup.MeasureBy by) {
        return switch (by) {
            case REFERENCE -> setup.reference().map(RunSetup.Reference::certificate);
            case SCALE -> setup.scale().map(RunSetup.Scale::certificate);
        };
    }

    private <T> List<Used<T>> used(Function<RunSetup, List<T>> what) {
        Map<T, SortedSet<Integer>> legsOf = new LinkedHashMap<>();
        for (SweepEvent event : sweep.events()) {
            if (event instanceof SweepEvent.Caught(int leg, boolean _, var run, var setup)
                    && run.result().isPresent()) {
                setup.map(what)
                        .orElse(List.of())
                        .forEach(one -> legsOf.computeIfAbsent(one, _ -> new TreeSet<>()).add(leg));
            }
        }
        return legsOf.entrySet().stream()
                .map(entry -> new Used<>(entry.getKey(), List.copyOf(entry.getValue())))
                .toList();
    }

    /**
     * Whether a leg verifies a constant, and there is none to be entered. Where points were left
     * nobody knows.
     */
    public boolean unneeded(Leg leg) {
        return leg.verifying()
                && sweep.entered().isEmpty()
                && advice.filter(SweepAdvice.Keep.class::isInstance).isPresent()
                && legs.stream().noneMatch(one -> one.progress().skipped().isPresent());
    }

    /** Whether it passes with a new constant, and did not with the one that it came in with. */
    public boolean corrected() {
        return closing == Closing.PASSED
                && sweep.entered().isPresent()
                && legs.stream()
                        .anyMatch(leg ->
                                !leg.leg().verifying()
                                        && leg.verdict().isPresent()
                                        && (!leg.passes() || leg.missed().isPresent()));
    }

    /** The calendar days of its catches, in order; before the first one its day of today. */
    public List<LocalDate> days() {
        List<LocalDate> days =
                sweep.events().stream()
                        .filter(SweepEvent.Caught.class::isInstance)
                        .map(event -> ((SweepEvent.Caught) event).run().day())
                        .distinct()
                        .sorted()
                        .toList();
        return days.isEmpty() ? List.of(sweep.forecast().setup().day()) : days;
    }

    /** How each point that was caught on both ways differs, in the order of the way up. */
    public List<Hysteresis> hysteresis() {
        if (!(sweep.forecast().plan().order() instanceof TestPlan.Order.UpAndDown)) {
            return List.of();
        }
        List<Hysteresis> both = new ArrayList<>();
        List<LegResult> caught =
                legs.stream()
                        .filter(leg -> !leg.leg().verifying() && leg.mean().isPresent())
                        .toList();
        for (int i = 0; i < caught.size(); i++) {
            LegResult up = caught.get(i);
            caught.subList(i + 1, caught.size()).stream()
                    .filter(down -> Planner.same(up.leg().point(), down.leg().point()))
                    .findFirst()
                    .ifPresent(down -> both.add(Hysteresis.of(up, down)));
        }
        return both;
    }

    /** That a truck did not follow what was asked of it at a leg so far, as a sentence. */
    public static Optional<String> missed(Sweep sweep, Leg leg) {
        return results(sweep).get(leg.number() - 1).missed();
    }

    /**
     * A controller that was never given the new number follows by the old one: what it then falls
     * short of says that the number was not entered, and nothing of the truck.
     */
    private static LegResult result(Sweep sweep, Leg leg, List<LegResult> before) {
        LegResult one = proven(sweep, byItself(sweep, leg), before);
        if (one.missed().isEmpty() || !leg.verifying() || sweep.entered().isEmpty()) {
            return one;
        }
        RunSetup setup = sweep.forecast().setup();
        return one.given
                .flatMap(given ->
                        given.byOldConstant(
                                setup,
                                sweep.entered().get(),
                                one.mean.orElseThrow(),
                                sweep.follow()))
                .map(given ->
                        proven(
                                sweep,
                                new LegResult(
                                        leg,
                                        one.progress,
                                        one.mean,
                                        Optional.of(given),
                                        one.verdict,
                                        Optional.empty()),
                                before))
                .filter(other -> other.proof.filter(proof -> !proof.holds()).isPresent())
                .orElse(one);
    }

    private static LegResult proven(Sweep sweep, LegResult one, List<LegResult> before) {
        Leg leg = one.leg;
        RunSetup setup = sweep.forecast().setup();
        List<LegResult> found = asFound(leg, before);
        Optional<Proof> proof =
                sweep.entered()
                        .filter(_ -> leg.verifying())
                        .flatMap(entered ->
                                found.isEmpty()
                                        ? elsewhere(setup, entered, before, one)
                                        : proof(setup, entered, found, one));
        return new LegResult(leg, one.progress, one.mean, one.given, one.verdict, proof);
    }

    /** What a leg gave by itself, without what other legs make of it. */
    private static LegResult byItself(Sweep sweep, Leg leg) {
        LegProgress progress = sweep.progress(leg);
        RunSetup setup = sweep.forecast().setup();
        Optional<MeanOfCatches> mean = progress.series().mean(setup.doubts().scatter());
        Optional<Verdict> verdict =
                mean.filter(_ -> progress.over() && progress.skipped().isEmpty())
                        .flatMap(known -> setup.judgement().verdict(known.budget()));
        Optional<Given> given =
                mean.map(known -> Given.of(leg, progress.series(), known, setup, sweep.follow()));
        return new LegResult(leg, progress, mean, given, verdict, Optional.empty());
    }

    /** The legs as found that a verification repeats: on the way up, and on the way down. */
    private static List<LegResult> asFound(Leg verification, List<LegResult> before) {
        return before.stream()
                .filter(leg ->
                        !leg.leg().verifying()
                                && Planner.same(leg.leg().point(), verification.point()))
                .toList();
    }

    /**
     * By a total of the controller's own it is the meter error that shows it. Pulses of its meter
     * do not tell by what they are divided: then the real flow shows it, where the controller holds
     * its own figure and followed, and where it does not nothing does.
     */
    private static Optional<Proof> proof(
            RunSetup setup, TruckConstant entered, List<LegResult> legs, LegResult now) {
        List<LegResult> found = legs.stream().filter(leg -> leg.mean().isPresent()).toList();
        if (found.isEmpty() || now.mean().isEmpty()) {
            return Optional.empty();
        }
        TruckConstant constant = setup.truck().constant();
        if (!(setup.reported() instanceof RunSetup.Reported.MeterPulses)) {
            double error = mean(found, leg -> leg.meterError().orElseThrow());
            double right = constant.curing(new Volume(1 + error), new Volume(1));
            // As found and as left are measured by the same bay: each has its own scatter.
            return new Proof(
                            false,
                            Judgement.On.METER,
                            constant.errorWith(entered.value(), right),
                            now.meterError().orElseThrow(),
                            new Ratio(Math.sqrt(2) * now.within().orElseThrow().value()))
                    .unlessNeither(error);
        }
        if (setup.truck().control() == ConstantAdvice.Control.OPEN_LOOP
                || found.stream().anyMatch(leg -> leg.missed().isPresent())
                || now.missed().isPresent()) {
            return Optional.empty();
        }
        double before = mean(found, leg -> leg.given().orElseThrow().application());
        // What one number says of a flow, the other says of more or less: the flow follows that.
        double change = 1 + constant.errorWith(constant.value(), entered.value()).value();
        double expected = (1 + before) * change - 1;
        return new Proof(
                        false,
                        Judgement.On.APPLICATION,
                        new Ratio(expected),
                        now.given().orElseThrow().application(),
                        new Ratio(Math.abs(expected - before) / 2))
                .unlessNeither(before);
    }

    /**
     * Whether the controller still divides by the new constant at a flow that is none of the plan's
     * points: it holds its own figure, so that its meter's pulses, divided by the constant that it
     * truly has, come to what is asked, as they did before. A controller that was reset in between
     * shows so.
     */
    private static Optional<Proof> elsewhere(
            RunSetup setup, TruckConstant entered, List<LegResult> before, LegResult now) {
        boolean tells =
                setup.reported() instanceof RunSetup.Reported.MeterPulses
                        && setup.truck().control() == ConstantAdvice.Control.CLOSED_ON_METER
                        && now.given().filter(Given::followed).isPresent();
        if (!tells) {
            return Optional.empty();
        }
        double flow = now.leg().point().flow().litresPerSecond();
        Optional<LegResult> nearest =
                before.stream()
                        .filter(leg -> !leg.leg().verifying())
                        .filter(leg -> leg.given().filter(Given::followed).isPresent())
                        .min(
                                Comparator.comparingDouble(leg ->
                                        Math.abs(
                                                leg.leg().point().flow().litresPerSecond()
                                                        - flow)));
        TruckConstant old = setup.truck().constant();
        // What the new number makes of pulses that were divided by the old one.
        double unentered = old.errorWith(entered.value(), old.value()).value();
        return nearest.flatMap(found ->
                new Proof(
                                true,
                                Judgement.On.CONTROL,
                                control(found),
                                control(now),
                                new Ratio(Math.abs(unentered) / 2))
                        .unlessNeither((1 + control(found).value()) * (1 + unentered) - 1));
    }

    private static double mean(List<LegResult> legs, Function<LegResult, Ratio> figure) {
        return legs.stream().mapToDouble(leg -> figure.apply(leg).value()).average().orElseThrow();
    }

    private static Ratio control(LegResult leg) {
        return leg.error(Judgement.On.CONTROL).orElseThrow();
    }

    private static Closing closing(
            Sweep sweep, List<LegResult> legs, Optional<SweepAdvice> advice, List<String> reasons) {
        if (advice.isEmpty()) {
            reasons.add("Points of the plan are still to be caught.");
            return Closing.UNFINISHED;
        }
        List<LegResult> found = legs.stream().filter(leg -> !leg.leg().verifying()).toList();
        if (advice.get() instanceof SweepAdvice.Keep && sweep.entered().isEmpty()) {
            return judged(found, List.of(), reasons);
        }
        List<String> left = left(found);
        if (sweep.entered().isEmpty() && !left.isEmpty()) {
            // That a truck did not follow is known, whatever is missing besides.
            List<String> missed = missed(found, List.of());
            reasons.addAll(missed);
            reasons.addAll(left);
            return missed.isEmpty() ? Closing.UNFINISHED : Closing.FAILED;
        }
        List<LegResult> verified = legs.stream().filter(leg -> leg.leg().verifying()).toList();
        if (sweep.entered().isEmpty()
                || verified.isEmpty()
                || !verified.stream().allMatch(leg -> leg.progress().over())) {
            reasons.add(notVerified(sweep, advice.get(), verified));
            return Closing.NOT_VERIFIED;
        }
        // A point that is gone through twice is verified once, so that both its ways must be there.
        List<LegResult> onlyFound =
                found.stream()
                        .filter(leg ->
                                verified.stream()
                                        .noneMatch(again ->
                                                asFound(again.leg(), found).equals(List.of(leg))))
                        .toList();
        List<String> unproven = unproven(found, verified);
        if (unproven.isEmpty()) {
            return judged(verified, onlyFound, reasons);
        }
        // No constant makes a truck follow: that one fails, whatever is proven of the new one.
        List<String> missed = missed(onlyFound, verified);
        reasons.addAll(missed);
        reasons.addAll(unproven);
        return missed.isEmpty() ? Closing.NOT_VERIFIED : Closing.FAILED;
    }

    private static String notVerified(Sweep sweep, SweepAdvice advice, List<LegResult> verified) {
        if (sweep.entered().isPresent()) {
            return "The new constant is not verified at every point planned for that, so the truck"
                    + " does not pass.";
        }
        return advice instanceof SweepAdvice.Enter(var best, _) && verified.isEmpty()
                ? Sweep.withoutVerification(best)
                : "The new constant is not entered yet: the truck has the one as found, and does"
                        + " not pass.";
    }

    /** Why the verification does not show that the new constant was entered and holds. */
    private static List<String> unproven(List<LegResult> found, List<LegResult> verified) {
        List<LegResult> own = new ArrayList<>();
        List<LegResult> others = new ArrayList<>();
        for (LegResult leg : verified) {
            if (!asFound(leg.leg(), found).isEmpty()) {
                own.add(leg);
            } else if (found.stream()
                    .noneMatch(at -> Planner.sameFlow(at.leg().point(), leg.leg().point()))) {
                others.add(leg);
            }
        }
        List<String> reasons = new ArrayList<>();
        for (LegResult leg : verified) {
            leg.proof()
                    .filter(proof -> !proof.holds())
                    .ifPresent(proof -> reasons.add(notEntered(leg.leg(), proof)));
        }
        if (own.stream().noneMatch(leg -> leg.proof().isPresent())) {
            reasons.add(
                    "Nothing proves that the constant was entered: that takes a verification at one"
                            + " of the plan's own points, and a controller whose own total is read,"
                            + " or that holds its own flow and follows there.");
        }
        if (others.isEmpty()) {
            reasons.add(
                    "No verification was made at a flow that is none of the plan's points, so"
                            + " nothing proves that the constant holds between them.");
        } else {
            notApart(given(own), given(others)).ifPresent(reasons::add);
        }
        return reasons;
    }

    /** That no other flow truly was another, as a sentence about the first of them. */
    private static Optional<String> notApart(List<Given> own, List<Given> others) {
        Optional<String> why = Optional.empty();
        for (Given other : others.reversed()) {
            Optional<Given> alike = own.stream().filter(flow -> !other.apartFrom(flow)).findFirst();
            if (alike.isEmpty()) {
                return Optional.empty();
            }
            why = alike.map(flow -> notApart(flow, other));
        }
        return why;
    }

    private static String notApart(Given own, Given other) {
        return "Asked for "
                + Figures.flow(own.asked())
                + " and for "
                + Figures.flow(other.asked())
                + " the truck gave "
                + Figures.flow(own.measured())
                + " and "
                + Figures.flow(other.measured())
                + " at the verification: less than half as far apart as asked, so nothing proves"
                + " that the constant holds between the points.";
    }

    private static List<Given> given(List<LegResult> legs) {
        return legs.stream().flatMap(leg -> leg.given().stream()).toList();
    }

    private static String notEntered(Leg leg, Proof proof) {
        return String.format(
                Locale.ROOT,
                "At %s the %s is %s %%, and with the new constant %s %% were to be expected,"
                        + " which lie further apart than the %.2f %% that would show it to be"
                        + " %s: see whether it was entered, and saved.",
                Figures.flow(leg.point().flow()),
                proof.what().error(),
                Numeral.signed(proof.found().percent(), 2),
                Numeral.signed(proof.expected().percent(), 2),
                proof.within().percent(),
                proof.elsewhere() ? "still held" : "entered");
    }

    /**
     * @param legs by which the truck is judged
     * @param others which must have been caught, and followed, only
     */
    private static Closing judged(
            List<LegResult> legs, List<LegResult> others, List<String> reasons) {
        List<String> missing = new ArrayList<>(left(others));
        for (LegResult leg : legs) {
            if (leg.verdict().isEmpty()) {
                boolean left = leg.progress().skipped().isPresent();
                missing.add(
                        noVerdict(
                                leg, left ? LEFT : "no uncertainty is stated, or nothing counts."));
            } else if (!leg.passes()) {
                reasons.add("At " + leg.leg().words() + " the truck does not pass.");
            }
        }
        reasons.addAll(missed(others, legs));
        Closing closing =
                !reasons.isEmpty()
                        ? Closing.FAILED
                        : missing.isEmpty() ? Closing.PASSED : Closing.UNFINISHED;
        reasons.addAll(missing);
        return closing;
    }

    private static List<String> missed(List<LegResult> some, List<LegResult> others) {
        return Stream.concat(some.stream(), others.stream())
                .filter(leg -> leg.missed().isPresent())
                .map(leg -> "At " + leg.leg().words() + " the truck did not follow.")
                .toList();
    }

    /** Which points were left, a sentence each. */
    private static List<String> left(List<LegResult> legs) {
        return legs.stream()
                .filter(leg -> leg.progress().skipped().isPresent())
                .map(leg -> noVerdict(leg, LEFT))
                .toList();
    }

    private static String noVerdict(LegResult leg, String why) {
        return "At " + leg.leg().words() + " there is no verdict: " + why;
    }
}

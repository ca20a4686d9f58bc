package catchbay.sim.honesty;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.DecisionRule;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.MonteCarlo;
import catchbay.metrology.Repeatability;
import catchbay.metrology.Scatter;
import catchbay.metrology.Tolerance;
import catchbay.metrology.TruckConstant;
import catchbay.metrology.Verdict;
import catchbay.quantity.Ratio;
import catchbay.run.CatchResult;
import catchbay.run.Doubts;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Catches whose truth is known, each in a bay drawn anew from what it states, and what the program
 * said of them.
 */
final class Study {

    /** The results that are judged, in the order of {@link #truths}. */
    static final List<String> OUTPUTS =
            List.of(
                    Comparison.MEASURED,
                    Comparison.METER_ERROR,
                    Comparison.CONTROL_ERROR,
                    Comparison.APPLICATION_ERROR);

    static final Tolerance TOLERANCE = Tolerance.COMMON_PRACTICE;

    /** Half the width of the even spread of the trucks' errors: twice the tolerance. */
    private static final double ERROR_HALF = 0.04;

    static final List<DecisionRule> RULES =
            List.of(
                    new DecisionRule.SimpleAcceptance(),
                    new DecisionRule.GuardBand(1),
                    new DecisionRule.GuardBand(0.83),
                    new DecisionRule.FourWay(1));

    /** The stopping rule: three runs, more up to ten, until scatter leaves 0.15 %. */
    static final Repeatability.Plan STOPPING = new Repeatability.Plan(3, 10, Ratio.ofPercent(0.15));

    /** One catch and the truth about it. */
    private record Measured(Bay bay, CatchResult result, double[] truths) {
        Budget budget() {
            return result.comparison().budget();
        }
    }

    private final long seed;
    private final Map<String, Map<String, Score>> scores = new LinkedHashMap<>();
    private final Map<String, Integer> unmeasured = new LinkedHashMap<>();
    private int caught;

    Study(long seed) {
        this.seed = seed;
    }

    /** By output, then by stratum. */
    Map<String, Map<String, Score>> scores() {
        return scores;
    }

    Score score(String output, String stratum) {
        return scores.computeIfAbsent(output, _ -> new LinkedHashMap<>())
                .computeIfAbsent(stratum, _ -> new Score());
    }

    /** Catches that ended without a result, by reason. */
    Map<String, Integer> unmeasured() {
        return unmeasured;
    }

    /** How many catches were played. */
    int caught() {
        return caught;
    }

    /** Catches by themselves, each in a bay of its own. */
    void singles(int catches, Decisions decisions, MonteCarloCheck drawing) {
        for (int i = 0; i < catches; i++) {
            Dice dice = dice(1, i);
            Kind kind = Kind.ofNumber(i);
            Bay bay = Bay.of(kind, dice.split(), dice.split());
            double error = dice.even(ERROR_HALF);
            Measured measured = measured(bay, Day.of(bay, dice.split()), error, dice.split());
            if (measured == null) {
                continue;
            }
            for (String stratum : strata(bay)) {
                take(stratum, measured.budget(), measured.truths);
            }
            decisions.take(measured.budget().output(Comparison.METER_ERROR), error);
            drawing.take(measured.result.comparison(), measured.truths, dice.split());
        }
    }

    private static List<String> strata(Bay bay) {
        Kind kind = bay.kind();
        String fluid = words(kind.fluid());
        List<String> strata = new ArrayList<>();
        strata.add("all");
        strata.add(kind.large() ? "large catch" : "small catch");
        strata.add("bay with " + words(kind.instruments()));
        strata.add("truck read by " + words(kind.report()));
        strata.add(
                bay.setup().asked().pulsesPerMile().isPresent()
                        ? "speed counted back"
                        : "speed only set");
        strata.add(fluid);
        if (bay.setup().plan().measureBy() == RunSetup.MeasureBy.SCALE) {
            strata.add(fluid + ", weighed");
        }
        return strata;
    }

    private static String words(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }

    private void take(String stratum, Budget budget, double[] truths) {
        for (int o = 0; o < truths.length; o++) {
            score(OUTPUTS.get(o), stratum)
                    .take(budget.output(OUTPUTS.get(o)), budget.inputs(), truths[o]);
        }
    }

    /** Sets of so many catches on one day in one bay; their mean. */
    void repeats(int sets, int runs) {
        for (int i = 0; i < sets; i++) {
            set(dice(10 + runs, i), Kind.ofNumber(i), runs, runs, false, "mean of " + runs);
        }
    }

    /** Sets of so many catches in one bay, each on a day of its own; their mean. */
    void days(int sets, int runs) {
        for (int i = 0; i < sets; i++) {
            String stratum = "mean of " + runs + ", on as many days";
            set(dice(20 + runs, i), Kind.ofNumber(i), runs, runs, true, stratum);
        }
    }

    /**
     * Two catches of one truck in one bay, on two days: how often the second one's meter error, had
     * the constant of the first been entered, is as near to nothing as the first foretold. Counts
     * where a constant was offered.
     */
    Score foretold(int pairs) {
        Score score = new Score();
        for (int i = 0; i < pairs; i++) {
            Dice dice = dice(90, i);
            Bay bay = Bay.of(Kind.ofNumber(i), dice.split(), dice.split());
            double error = dice.even(ERROR_HALF);
            Measured first = measured(bay, Day.of(bay, dice.split()), error, dice.split());
            Measured next = measured(bay, Day.of(bay, dice.split()), error, dice.split());
            if (first == null
                    || next == null
                    || !(first.result.advice() instanceof ConstantAdvice.Enter advice)) {
                continue;
            }
            TruckConstant old = bay.setup().truck().constant();
            double over = 1 + next.result.comparison().meterError().value();
            double left = over * old.value() / advice.constant().value() - 1;
            double foretold = advice.nextMeterError().value();
            score.take(Math.abs(left - foretold) <= advice.nextWithin().value());
        }
        return score;
    }

    /** Sets made by the stopping rule. */
    void stopped(int sets) {
        for (int i = 0; i < sets; i++) {
            set(
                    dice(30, i),
                    Kind.ofNumber(i),
                    STOPPING.runs(),
                    STOPPING.runsMax(),
                    false,
                    "stopping rule");
        }
    }

    private void set(Dice dice, Kind kind, int least, int most, boolean manyDays, String stratum) {
        Bay bay = Bay.of(kind, dice.split(), dice.split());
        Day day = Day.of(bay, dice.split());
        double error = dice.even(ERROR_HALF);
        List<MeanOfCatches.Catch> repeats = new ArrayList<>();
        double[] sums = new double[OUTPUTS.size()];
        boolean more = true;
        while (more) {
            Measured measured = measured(bay, day, error, dice.split());
            if (measured == null) {
                return;
            }
            LocalDate date = bay.setup().day().plusDays(manyDays ? repeats.size() : 0);
            repeats.add(new MeanOfCatches.Catch(date, measured.result.comparison()));
            if (manyDays) {
                day = Day.of(bay, dice.split());
            }
            for (int o = 0; o < sums.length; o++) {
                sums[o] += measured.truths[o];
            }
            more =
                    repeats.size() < least
                            || repeats.size() < most
                                    && Repeatability.after(STOPPING, MeanOfCatches.overs(repeats))
                                            instanceof Repeatability.Decision.RunAgain;
        }
        double[] truths = new double[sums.length];
        for (int o = 0; o < sums.length; o++) {
            truths[o] = sums[o] / repeats.size();
        }
        // What nine runs have shown of the truck is pooled with what these runs show.
        Doubts.Scatter stated = bay.setup().doubts().scatter();
        Scatter known = new Scatter(stated.run().value(), stated.runs() - 1);
        MeanOfCatches mean = MeanOfCatches.of(repeats, least, Optional.of(known), true);
        take(stratum, mean.budget(), truths);
    }

    /** Catches of many days in a bay whose own errors stay; its score for the meter error. */
    Score fixedBay(int number, int catches) {
        Dice dice = dice(50, number);
        Bay bay = Bay.of(Kind.ofNumber(7 * number), dice.split(), dice.split());
        Score score = new Score();
        for (int i = 0; i < catches; i++) {
            double error = dice.even(ERROR_HALF);
            Measured measured = measured(bay, Day.of(bay, dice.split()), error, dice.split());
            if (measured != null) {
                score.take(
                        measured.budget().output(Comparison.METER_ERROR),
                        measured.budget().inputs(),
                        error);
            }
        }
        return score;
    }

    /** Trucks whose error is right at the upper limit of the tolerance. */
    void atTheLimit(int catches, Decisions decisions) {
        double limit = TOLERANCE.upper().orElseThrow().value();
        for (int i = 0; i < catches; i++) {
            Dice dice = dice(70, i);
            Bay bay = Bay.of(Kind.ofNumber(i), dice.split(), dice.split());
            Measured measured = measured(bay, Day.of(bay, dice.split()), limit, dice.split());
            if (measured != null) {
                decisions.takeAtLimit(measured.budget().output(Comparison.METER_ERROR));
            }
        }
    }

    private Dice dice(int part, int number) {
        return Dice.of(seed * 1_000_003 + part * 100_000_007L + number);
    }

    /** Null where the catch ended without a result; why is counted. */
    private Measured measured(Bay bay, Day day, double error, Dice dice) {
        caught++;
        PlayedCatch played = PlayedCatch.of(bay, day, error, dice);
        if (played.outcome() instanceof Outcome.Measured(CatchResult result)) {
            return new Measured(bay, result, truths(played.truth()));
        }
        unmeasured.merge(played.outcome().reason(), 1, Integer::sum);
        return null;
    }

    private static double[] truths(PlayedCatch.Truth truth) {
        return new double[] {
            truth.measured(), truth.meterError(), truth.controlError(), truth.applicationError()
        };
    }

    /** What each rule promised of its wrong answers, and how many there were. */
    static final class Decisions {

        /** Of one rule: how many, how many expected and their variance. */
        static final class Tally {
            int asked;
            int none;
            int falseAccepts;
            double falseAcceptsExpected;
            double acceptVariance;
            int falseRejects;
            double falseRejectsExpected;
            double rejectVariance;
            int atLimit;
            int atLimitPassed;
            double atLimitPromised;
            double atLimitVariance;
        }

        final Map<DecisionRule, Tally> tallies = new LinkedHashMap<>();

        private Tally tally(DecisionRule rule) {
            return tallies.computeIfAbsent(rule, _ -> new Tally());
        }

        /** A truck of a spread that favours no error: then conformity is what is to be expected. */
        void take(Budget.Output output, double error) {
            boolean conforms = Math.abs(error) <= TOLERANCE.upper().orElseThrow().value();
            for (DecisionRule rule : RULES) {
                Tally tally = tally(rule);
                tally.asked++;
                if (!(Verdict.of(output, TOLERANCE, rule) instanceof Verdict.Decided decided)) {
                    tally.none++;
                    continue;
                }
                double p = decided.conformity();
                if (passes(decided)) {
                    tally.falseAccepts += conforms ? 0 : 1;
                    tally.falseAcceptsExpected += 1 - p;
                    tally.acceptVariance += p * (1 - p);
                } else {
                    tally.falseRejects += conforms ? 1 : 0;
                    tally.falseRejectsExpected += p;
                    tally.rejectVariance += p * (1 - p);
                }
            }
        }

        void takeAtLimit(Budget.Output output) {
            for (DecisionRule rule : RULES) {
                Tally tally = tally(rule);
                if (Verdict.of(output, TOLERANCE, rule) instanceof Verdict.Decided decided) {
                    double p = decided.falseAcceptMost();
                    tally.atLimit++;
                    tally.atLimitPassed += passes(decided) ? 1 : 0;
                    tally.atLimitPromised += p;
                    tally.atLimitVariance += p * (1 - p);
                }
            }
        }

        /** A conditional pass is a pass here, as in what the rule promises. */
        private static boolean passes(Verdict.Decided decided) {
            return decided.grade() == Verdict.Grade.PASS
                    || decided.grade() == Verdict.Grade.CONDITIONAL_PASS;
        }
    }

    /** The same model by drawing: how far from the budget, and how often its interval holds. */
    static final class MonteCarloCheck {

        private final int catches;
        private final int draws;
        final Map<String, Score> symmetric = new LinkedHashMap<>();
        final Map<String, List<Double>> standards = new LinkedHashMap<>();
        final Map<String, List<Double>> widths = new LinkedHashMap<>();
        private int taken;

        MonteCarloCheck(int catches, int draws) {
            this.catches = catches;
            this.draws = draws;
        }

        void take(Comparison comparison, double[] truths, Dice dice) {
            if (taken == catches) {
                return;
            }
            taken++;
            MonteCarlo drawn =
                    MonteCarlo.of(
                            comparison.model().inputs(),
                            comparison.model().outputs(),
                            comparison.model().model(),
                            draws,
                            dice.generator());
            for (int o = 0; o < truths.length; o++) {
                String name = OUTPUTS.get(o);
                MonteCarlo.Result result = drawn.result(name);
                Budget.Output output = comparison.budget().output(name);
                symmetric
                        .computeIfAbsent(name, _ -> new Score())
                        .take(result.symmetric().contains(truths[o]));
                standards
                        .computeIfAbsent(name, _ -> new ArrayList<>())
                        .add(result.standard() / output.standard());
                widths.computeIfAbsent(name, _ -> new ArrayList<>())
                        .add(result.symmetric().width() / 2 / output.expanded());
            }
        }
    }
}

package catchbay.sim.honesty;

import catchbay.metrology.Comparison;
import catchbay.metrology.DecisionRule;
import catchbay.run.RunMachine;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;

/** Prints the tables of {@code src/docs/honesty.md}; started by {@code src/honesty}. */
public final class HonestyStudy {

    private static final long SEED = 4;
    private static final int SINGLES = 25_920;
    private static final int SETS = 2_160;
    private static final int WHOLE_RUNS = 4_200;
    private static final int BAYS = 12;
    private static final int IN_BAY = 1_000;
    private static final int DRAWS = 5_000;

    private final Study study = new Study(SEED);
    private final Study.Decisions decisions = new Study.Decisions();
    private final Study.MonteCarloCheck drawing = new Study.MonteCarloCheck(SETS, DRAWS);

    private HonestyStudy() {}

    /** Takes no arguments. */
    public static void main(String[] args) {
        new HonestyStudy().print();
    }

    private void print() {
        study.singles(SINGLES, decisions, drawing);
        study.repeats(SETS, 3);
        study.repeats(SETS, 5);
        study.days(SETS, 3);
        study.stopped(SETS);
        study.atTheLimit(SETS, decisions);
        List<Score> bays =
                IntStream.range(0, BAYS).mapToObj(b -> study.fixedBay(b, IN_BAY)).toList();
        say(
                "Method version %d, seed %d, %d catches.",
                RunMachine.METHOD_VERSION, SEED, study.caught());
        say("Without a result: %s.", study.unmeasured().isEmpty() ? "none" : study.unmeasured());
        study.scores().forEach(HonestyStudy::coverage);
        wholeRuns();
        fixed(bays);
        foretold(study.foretold(SETS));
        rules();
        drawn();
    }

    private static void coverage(String output, Map<String, Score> strata) {
        say("\n### Coverage: %s\n", output);
        say("| stratum | catches or sets | held, %% | 99 %% interval | off, rms in u | |");
        say("| --- | --- | --- | --- | --- | --- |");
        new TreeMap<>(strata).forEach((stratum, score) -> say("%s", score.row(stratum)));
    }

    private static void wholeRuns() {
        WholeRuns runs = new WholeRuns(SEED);
        runs.play(WHOLE_RUNS);
        say(
                "\n%d whole runs of the stand-in bay; without a result: %s.",
                WHOLE_RUNS, runs.unmeasured().isEmpty() ? "none" : runs.unmeasured());
        runs.scores().forEach((output, strata) -> coverage(output + ", whole runs", strata));
    }

    private static void fixed(List<Score> bays) {
        say("\n### One bay at a time: %s\n", Comparison.METER_ERROR);
        say("| bays | catches each | lowest, %% | median, %% | highest, %% | all together, %% |");
        say("| --- | --- | --- | --- | --- | --- |");
        double[] sorted = bays.stream().mapToDouble(Score::coverage).sorted().toArray();
        say(
                "| %d | %d | %.1f | %.1f | %.1f | %.1f |",
                sorted.length,
                IN_BAY,
                100 * sorted[0],
                50 * (sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]),
                100 * sorted[sorted.length - 1],
                100 * DoubleStream.of(sorted).average().orElseThrow());
    }

    private static void foretold(Score score) {
        say("\n### The next catch: %s within what was foretold\n", Comparison.METER_ERROR);
        say("| pairs in which a constant was offered | held, %% | 99 %% interval |");
        say("| --- | --- | --- |");
        say(
                "| %d | %.2f | %.2f to %.2f |",
                score.tried(), 100 * score.coverage(), 100 * score.low(), 100 * score.high());
    }

    private void rules() {
        say("\n### Decisions on the %s, tolerance +-2 %%\n", Comparison.METER_ERROR);
        say(
                "| rule | verdicts | false accepts, promised | found | false rejects, promised |"
                        + " found | at the limit | passed, promised %% | found %% |");
        say("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        decisions.tallies.forEach((rule, t) ->
                say(
                        "| %s | %d | %.0f ± %.0f | %d | %.0f ± %.0f | %d | %d | %.2f ± %.2f |"
                                + " %.2f |",
                        words(rule),
                        t.asked - t.none,
                        t.falseAcceptsExpected,
                        Score.NINETY_NINE * Math.sqrt(t.acceptVariance),
                        t.falseAccepts,
                        t.falseRejectsExpected,
                        Score.NINETY_NINE * Math.sqrt(t.rejectVariance),
                        t.falseRejects,
                        t.atLimit,
                        100 * t.atLimitPromised / t.atLimit,
                        100 * Score.NINETY_NINE * Math.sqrt(t.atLimitVariance) / t.atLimit,
                        100.0 * t.atLimitPassed / t.atLimit));
    }

    private static String words(DecisionRule rule) {
        return switch (rule) {
            case DecisionRule.SimpleAcceptance() -> "simple acceptance";
            case DecisionRule.GuardBand(double r) -> "guard band, r = " + r;
            case DecisionRule.FourWay(double r) -> "four-way, r = " + r;
        };
    }

    private void drawn() {
        say("\n### Monte Carlo against the budget, %d draws each\n", DRAWS);
        say(
                "| result | catches | held, %% | 99 %% interval | u drawn / u of the budget, least,"
                        + " median, most | half width drawn / U, least, median, most |");
        say("| --- | --- | --- | --- | --- | --- |");
        for (Map.Entry<String, Score> entry : drawing.symmetric.entrySet()) {
            Score score = entry.getValue();
            say(
                    "| %s | %d | %.2f | %.2f to %.2f | %s | %s |",
                    entry.getKey(),
                    score.tried(),
                    100 * score.coverage(),
                    100 * score.low(),
                    100 * score.high(),
                    spread(drawing.standards.get(entry.getKey())),
                    spread(drawing.widths.get(entry.getKey())));
        }
    }

    private static String spread(List<Double> ratios) {
        List<Double> sorted = new ArrayList<>(ratios);
        sorted.sort(null);
        return IntStream.of(0, sorted.size() / 2, sorted.size() - 1)
                .mapToObj(i -> String.format(Locale.ROOT, "%.3f", sorted.get(i)))
                .collect(Collectors.joining(", "));
    }

    private static void say(String format, Object... values) {
        System.out.println(String.format(Locale.ROOT, format, values));
    }
}

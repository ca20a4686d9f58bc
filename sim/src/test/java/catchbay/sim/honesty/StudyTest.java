package catchbay.sim.honesty;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.run.Outcome;

import org.junit.jupiter.api.Test;

import java.util.Map;

/**
 * The honesty study with few catches; the whole of it is {@code src/honesty}, its tables stand in
 * {@code src/docs/honesty.md}.
 */
class StudyTest {

    private static final int SINGLES = 1_080;
    private static final int SETS = 108;
    private static final int WHOLE_RUNS = 560;

    /**
     * With more than a hundred scores some are two or three deviations short by chance; one beyond
     * four comes by chance in one seed of three hundred.
     */
    private static final double SHORT_MAX = 4;

    private final Study study = new Study(11);

    @Test
    void theIntervalHoldsTheTruthAsOftenAsItSays() {
        Study.Decisions decisions = new Study.Decisions();
        Study.MonteCarloCheck drawing = new Study.MonteCarloCheck(108, 2_000);
        study.singles(SINGLES, decisions, drawing);
        assertEquals(Map.of(), study.unmeasured(), "every catch has a result");
        for (Map.Entry<String, Map<String, Score>> output : study.scores().entrySet()) {
            output.getValue()
                    .forEach((stratum, score) ->
                            assertTrue(
                                    score.deviationsShort() <= SHORT_MAX,
                                    () -> output.getKey() + ": " + score.row(stratum)));
        }
        for (String output : study.scores().keySet()) {
            Score all = study.score(output, "all");
            assertEquals(SINGLES, all.tried());
            assertTrue(all.low() <= 0.96, () -> output + " too wide: " + all.row("all"));
            assertEquals(1, all.spread(), 0.1, output + " in its standard uncertainties");
        }
        decisions.tallies.forEach((rule, tally) ->
                assertTrue(
                        tally.falseAccepts
                                <= tally.falseAcceptsExpected
                                        + Score.NINETY_NINE * Math.sqrt(tally.acceptVariance),
                        () -> rule + " accepts more trucks wrongly than it promises"));
        drawing.symmetric.forEach((output, score) ->
                assertTrue(
                        score.deviationsShort() <= SHORT_MAX, () -> "drawn " + score.row(output)));
    }

    @Test
    void meansOfRepeatsAndTheStoppingRuleAreHonestToo() {
        study.repeats(SETS, 3);
        study.days(SETS, 3);
        study.stopped(SETS);
        for (String stratum :
                new String[] {"mean of 3", "mean of 3, on as many days", "stopping rule"}) {
            Score score = study.score(Comparison.METER_ERROR, stratum);
            assertEquals(SETS, score.tried());
            assertTrue(score.deviationsShort() <= SHORT_MAX, () -> score.row(stratum));
        }
    }

    /** Whole runs of the stand-in bay, from the first turn of the loop to the last. */
    @Test
    void wholeRunsOfTheStandInBayAreHonestToo() {
        WholeRuns runs = new WholeRuns(11);
        runs.play(WHOLE_RUNS);
        assertEquals(Map.of(), runs.unmeasured(), "every run has a result");
        for (String output : Study.OUTPUTS) {
            runs.scores()
                    .get(output)
                    .forEach((stratum, score) ->
                            assertTrue(
                                    score.deviationsShort() <= SHORT_MAX,
                                    () -> output + ": " + score.row(stratum)));
            Score all = runs.score(output, "all");
            assertEquals(WHOLE_RUNS, all.tried());
            assertEquals(1, all.spread(), 0.15, output + " in its standard uncertainties");
        }
    }

    @Test
    void aBayThreeTimesAsFarOffAsItStatesIsFoundOut() {
        Score score = new Score();
        for (int i = 0; i < 540; i++) {
            Dice dice = Dice.of(i);
            Bay bay = Bay.of(Kind.ofNumber(i), dice.split(), dice.split());
            Bay.Errors e = bay.errors();
            Bay worse =
                    new Bay(
                            bay.kind(),
                            bay.setup(),
                            bay.liquid(),
                            new Bay.Errors(
                                    3 * e.constant(),
                                    e.bend(),
                                    3 * e.span(),
                                    3 * e.load(),
                                    e.timing(),
                                    e.crossing(),
                                    e.speed(),
                                    e.warmer(),
                                    e.expansion()),
                            bay.runDeviation(),
                            bay.dayDeviation(),
                            bay.uneven());
            PlayedCatch played =
                    PlayedCatch.of(worse, Day.of(worse, dice.split()), 0.01, dice.split());
            // A bay this bad may also be caught by its own cross-check.
            if (played.outcome() instanceof Outcome.Measured measured) {
                Budget budget = measured.result().comparison().budget();
                score.take(
                        budget.output(Comparison.MEASURED),
                        budget.inputs(),
                        played.truth().measured());
            }
        }
        assertTrue(score.tried() > 500, "nearly all catches have a result");
        assertTrue(score.high() < 0.95, () -> score.row("three times as far off"));
    }

    /** The next catch shows what was foretold, as often as it was said, and not much oftener. */
    @Test
    void theNextCatchIsForetold() {
        Score score = study.foretold(540);
        assertTrue(score.tried() > 300, "constants offered: " + score.tried());
        assertTrue(score.deviationsShort() <= SHORT_MAX, () -> score.row("foretold"));
        assertTrue(score.low() <= 0.96, () -> "too wide: " + score.row("foretold"));
    }

    @Test
    void theSameSeedPlaysTheSameCatch() {
        assertEquals(once(), once());
    }

    private static Comparison once() {
        Dice dice = Dice.of(5);
        Bay bay = Bay.of(Kind.ofNumber(8), dice.split(), dice.split());
        Outcome outcome =
                PlayedCatch.of(bay, Day.of(bay, dice.split()), 0.01, dice.split()).outcome();
        return assertInstanceOf(Outcome.Measured.class, outcome, outcome.reason())
                .result()
                .comparison();
    }

    /** What defines the interval: the observed share is 2.576 deviations from either end. */
    @Test
    void theIntervalOfACoverageIsTheScoreInterval() {
        Score score = new Score();
        for (int i = 0; i < 2_000; i++) {
            score.take(i >= 90);
        }
        for (double end : new double[] {score.low(), score.high()}) {
            double deviations =
                    Math.abs(score.coverage() - end) / Math.sqrt(end * (1 - end) / 2_000);
            assertEquals(2.5758, deviations, 1e-4);
        }
        assertTrue(score.low() < score.coverage() && score.coverage() < score.high());
    }
}

package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Budget.Output;
import catchbay.metrology.Budget.Repeat;
import catchbay.metrology.Budget.Row;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

/**
 * The mean of repeats by hand: JCGM 100:2008, 4.2.3 (what comes out anew is divided by sqrt(n)) and
 * 5.2.2 NOTE 1 (what is common adds up). And against drawing all runs at once.
 */
final class MeanOfRepeatsTest {

    private static final LocalDate MONDAY = LocalDate.of(2026, 1, 5);

    private static Budget run(double value, double run, double day, double bay) {
        return Budget.of(
                List.of(
                        new Input("scatter", value, run, 2, Shape.STUDENT, Scope.RUN),
                        new Input("density", 0, day, 10, Shape.NORMAL, Scope.DAY),
                        Input.normal("certificate", 0, bay, Scope.BAY)),
                List.of("K", "twice"),
                x -> {
                    double sum = x[0] + x[1] + x[2];
                    return new double[] {sum, 2 * sum};
                });
    }

    private static Repeat repeat(int day, double value) {
        return new Repeat(MONDAY.plusDays(day), run(value, 3, 4, 12));
    }

    /** u = 3 / 4 / 12 of run, day, bay. Four runs on one day: 9/4 + 16 + 144. */
    @Test
    void fourRunsOfOneDay() {
        Output mean =
                Budget.ofMean(List.of(repeat(0, 1), repeat(0, 2), repeat(0, 3), repeat(0, 6)))
                        .output("K");
        assertEquals(3, mean.value(), 1e-14);
        double variance = 9 / 4.0 + 16 + 144;
        assertEquals(Math.sqrt(variance), mean.standard(), 1e-13);
        Row scatter = mean.rows().getFirst();
        assertEquals(1.5, scatter.standard(), 1e-14);
        assertEquals(1, scatter.sensitivity(), 1e-13);
        assertEquals(1.5, scatter.contribution(), 1e-13);
        assertEquals(2.25 / variance, scatter.share(), 1e-14);
        assertEquals(2, scatter.degreesOfFreedom());
        // 2 degrees of freedom for the scatter however many runs share its estimate; 10 of density.
        double effective = variance * variance / (2.25 * 2.25 / 2 + 16 * 16 / 10.0);
        assertEquals(effective, mean.degreesOfFreedom(), 1e-10 * effective);
    }

    /** Three runs on one day, one on another: the day's part is 16 (9 + 1) / 16. */
    @Test
    void daysOfDifferentSizes() {
        Output mean =
                Budget.ofMean(List.of(repeat(0, 1), repeat(0, 1), repeat(7, 1), repeat(0, 1)))
                        .output("K");
        assertEquals(Math.sqrt(9 / 4.0 + 10 + 144), mean.standard(), 1e-13);
        assertEquals(4 * Math.sqrt(10) / 4, mean.rows().get(1).standard(), 1e-14);
    }

    @Test
    void oneRunIsItself() {
        Budget single = run(5, 3, 4, 12);
        Budget mean = Budget.ofMean(List.of(new Repeat(MONDAY, single)));
        assertEquals(single.outputs(), mean.outputs());
        assertEquals(1, mean.correlation("K", "twice"), 1e-15);
    }

    /**
     * Outputs of a mean stay correlated through the causes they share: x common, y anew; a = x + y,
     * b = x - y. Of n runs: cov = u_x^2 - u_y^2/n.
     */
    @Test
    void correlationOfMeans() {
        Budget run =
                Budget.of(
                        List.of(
                                Input.normal("x", 0, 3, Scope.BAY),
                                Input.normal("y", 0, 4, Scope.RUN)),
                        List.of("a", "b"),
                        v -> new double[] {v[0] + v[1], v[0] - v[1]});
        Repeat repeat = new Repeat(MONDAY, run);
        Budget mean = Budget.ofMean(List.of(repeat, repeat, repeat, repeat));
        assertEquals(9 - 16 / 4.0, mean.covariance("a", "b"), 1e-13);
        assertEquals(5 / 13.0, mean.correlation("a", "b"), 1e-14);
    }

    /** Sensitivities that differ from run to run: a common cause of opposite effects cancels. */
    @Test
    void commonCausesKeepTheirSigns() {
        Repeat up = of(Input.normal("x", 0, 2, Scope.BAY), 1);
        Repeat down = of(Input.normal("x", 0, 2, Scope.BAY), -1);
        assertEquals(0, Budget.ofMean(List.of(up, down)).output("y").standard(), 1e-15);
        Repeat runUp = of(Input.normal("x", 0, 2, Scope.RUN), 1);
        Repeat runDown = of(Input.normal("x", 0, 2, Scope.RUN), -1);
        Output mean = Budget.ofMean(List.of(runUp, runDown)).output("y");
        assertEquals(Math.sqrt(2), mean.standard(), 1e-14);
        assertEquals(0, mean.rows().getFirst().sensitivity(), 1e-15);
    }

    private static Repeat of(Input input, double factor) {
        return new Repeat(
                MONDAY, Budget.of(List.of(input), List.of("y"), v -> new double[] {factor * v[0]}));
    }

    /** Random linear runs: the budget of the mean is that of one model with every cause in it. */
    @Test
    void isTheBudgetOfAllRunsAsOneModel() {
        Seeds.forSeeds(
                300,
                random -> {
                    int runs = random.nextInt(1, 7);
                    Scope[] scopes = Scope.values();
                    int[] days = random.ints(runs, 0, 3).toArray();
                    double[][] c = new double[runs][];
                    double[] u = random.doubles(6, 0.1, 3).toArray();
                    List<Repeat> repeats = new ArrayList<>();
                    double[] sums = new double[3 * 7 * 2];
                    for (int r = 0; r < runs; r++) {
                        c[r] = random.doubles(6, -2, 2).toArray();
                        double[] of = c[r];
                        List<Input> inputs = new ArrayList<>();
                        for (int i = 0; i < 6; i++) {
                            Scope scope = scopes[i % 3];
                            inputs.add(Input.normal("x" + i, r, u[i], scope));
                            int occasion =
                                    switch (scope) {
                                        case RUN -> r;
                                        case DAY -> days[r];
                                        case BAY -> 0;
                                    };
                            sums[i * 7 + occasion] += of[i] * u[i] / runs;
                        }
                        repeats.add(
                                new Repeat(
                                        MONDAY.plusDays(days[r]),
                                        Budget.of(
                                                inputs,
                                                List.of("y"),
                                                x -> {
                                                    double sum = 0;
                                                    for (int i = 0; i < 6; i++) {
                                                        sum += of[i] * x[i];
                                                    }
                                                    return new double[] {sum};
                                                })));
                    }
                    double variance = 0;
                    for (double sum : sums) {
                        variance += sum * sum;
                    }
                    assertEquals(
                            Math.sqrt(variance),
                            Budget.ofMean(repeats).output("y").standard(),
                            1e-11);
                });
    }

    @Test
    void inputsThatRunsDoNotShare() {
        Repeat exact = of(Input.exact("x", 0), 1);
        Repeat uncertain = of(new Input("x", 0, 2, 5, Shape.STUDENT, Scope.RUN), 1);
        Output mean = Budget.ofMean(List.of(exact, uncertain)).output("y");
        assertEquals(1, mean.standard(), 1e-15);
        assertEquals(5, mean.degreesOfFreedom(), 1e-9);
        Budget known = Budget.ofMean(List.of(exact, of(Input.normal("x", 0, 2, Scope.RUN), 1)));
        assertEquals(Scope.RUN, known.output("y").rows().getFirst().scope());
        Repeat other = of(Input.normal("z", 0, 4, Scope.RUN), 1);
        Output two = Budget.ofMean(List.of(uncertain, other)).output("y");
        assertEquals(Math.sqrt(1 + 4), two.standard(), 1e-14);
        assertEquals(2, two.rows().size());
    }

    /** Scatter known with 9 degrees of freedom in one run and 4 in the other is known with 4. */
    @Test
    void theFewestDegreesOfFreedomCount() {
        Repeat nine = of(new Input("x", 0, 2, 9, Shape.STUDENT, Scope.RUN), 1);
        Repeat four = of(new Input("x", 0, 2, 4, Shape.STUDENT, Scope.RUN), 1);
        for (List<Repeat> order : List.of(List.of(nine, four), List.of(four, nine))) {
            assertEquals(4, Budget.ofMean(order).output("y").degreesOfFreedom(), 1e-12);
        }
    }

    @Test
    void whatHasNoMeanIsRefused() {
        assertRefused("at least one run", List.of());
        Repeat bay = of(Input.normal("x", 0, 2, Scope.BAY), 1);
        Repeat run = of(Input.normal("x", 0, 2, Scope.RUN), 1);
        assertRefused("give it one scope", List.of(bay, run));
        assertRefused("different outputs", List.of(bay, repeat(0, 1)));
        Budget mean = Budget.ofMean(List.of(run, run));
        assertRefused("cannot be averaged again", List.of(new Repeat(MONDAY, mean)));
    }

    private static void assertRefused(String part, List<Repeat> repeats) {
        String text =
                assertThrows(IllegalArgumentException.class, () -> Budget.ofMean(repeats))
                        .getMessage();
        assertTrue(text.contains(part), text);
    }
}

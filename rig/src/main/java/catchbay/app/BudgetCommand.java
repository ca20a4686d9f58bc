package catchbay.app;

import catchbay.app.NamedCatches.Measured;
import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.ModelSketch;
import catchbay.metrology.MonteCarlo;
import catchbay.record.BudgetText;
import catchbay.record.DocumentException;
import catchbay.run.Repeats;
import catchbay.run.Series;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import java.io.PrintStream;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.Callable;

/** Shows what makes a catch's figures uncertain, and by how much. */
@Command(
        name = "budget",
        description = {
            "Shows what makes a catch's figures, or a series' mean, uncertain.",
            "The largest share comes first, and is what to improve first. How each term",
            "comes about is in src/docs/method.md."
        })
final class BudgetCommand implements Callable<Integer> {

    /** All draws of all figures are kept until they are sorted: 40 MB of the heap's 64. */
    private static final int DRAWS_MAX = 500_000;

    @Parameters(
            paramLabel = "RUN|FILE",
            arity = "1..*",
            description =
                    "A recorded run, or a trace file (.jsonl, .jsonl.zst). Several of one series:"
                            + " their mean.")
    private List<String> names;

    @Mixin private RecordsPlace where = new RecordsPlace();

    @Option(
            names = "--of",
            paramLabel = "FIGURE",
            defaultValue = "meter-error",
            description =
                    "Which figure: meter-error (default), control-error, application-error,"
                            + " measured, reported, asked, by-reference, by-scale, new-constant.")
    private String figure;

    @Option(
            names = "--draws",
            paramLabel = "N",
            description =
                    "Also by drawing all terms N times (Monte Carlo, JCGM 101): 1000 to 500000.")
    private Optional<Integer> draws;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "1",
            description = "From which the draws follow (default: 1).")
    private Long seed;

    @Option(names = "--json", description = "Prints all figures as one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    BudgetCommand() {}

    @Override
    public Integer call() throws Exception {
        List<Measured> runs = new NamedCatches(where::knownData, Optional.empty()).named(names);
        Measured first = runs.getFirst();
        Budget budget;
        Optional<MonteCarlo> drawn = Optional.empty();
        if (runs.size() == 1) {
            Comparison comparison = first.result().comparison();
            budget = comparison.budget();
            drawn = draws.map(count -> drawn(comparison.model(), count));
        } else {
            if (draws.isPresent()) {
                throw new DocumentException(
                        "option --draws: terms are drawn for one catch, and "
                                + runs.size()
                                + " are named; name one");
            }
            budget = ofMean(runs);
        }
        PrintStream out = Page.out();
        if (json) {
            out.println(
                    BudgetText.of(
                            runs.stream().map(Measured::name).toList(),
                            NamedCatches.decided(runs),
                            first.setup().truck().constant().symbol(),
                            budget,
                            drawn));
        } else {
            BudgetWords.print(out, runs, output(budget), drawn);
        }
        out.flush();
        return Exit.DONE;
    }

    /** Of the mean of a series' catches, with the scatter that its planned ones showed. */
    private static Budget ofMean(List<Measured> runs) {
        Measured first = runs.getFirst();
        Optional<String> series = series(first);
        for (Measured other : runs) {
            if (series.isEmpty() || !series.equals(series(other))) {
                throw new DocumentException(
                        "runs "
                                + first.name()
                                + " and "
                                + (series.isEmpty() ? runs.getLast() : other).name()
                                + " are not repeats of one series, and have no mean; name one run,"
                                + " or the runs of a series as its page lists them");
            }
        }
        return Series.mean(
                        runs.stream()
                                .map(run ->
                                        new MeanOfCatches.Catch(
                                                run.setup().day(), run.result().comparison()))
                                .toList(),
                        first.setup().repeats().plan().runs(),
                        first.setup().doubts().scatter())
                .map(MeanOfCatches::budget)
                .orElseThrow(() ->
                        new DocumentException(
                                "the controller reported nothing in one of these runs; a mean with"
                                        + " it says nothing"));
    }

    private static Optional<String> series(Measured run) {
        return run.setup().repeats().place().map(Repeats.Place::series);
    }

    private Budget.Output output(Budget budget) {
        return budget.outputs().stream()
                .filter(output -> key(output).equals(figure))
                .findFirst()
                .orElseThrow(() ->
                        new DocumentException(
                                "option --of: '"
                                        + figure
                                        + "' is no figure of this catch; it has "
                                        + String.join(
                                                ", ",
                                                budget.outputs().stream()
                                                        .map(BudgetCommand::key)
                                                        .toList())));
    }

    private static String key(Budget.Output output) {
        return output.name().replace(' ', '-');
    }

    private MonteCarlo drawn(ModelSketch.Sketched model, int count) {
        if (count > DRAWS_MAX) {
            throw new DocumentException(
                    "option --draws: "
                            + count
                            + " is more than this program's memory holds; give "
                            + MonteCarlo.DRAWS_MIN
                            + " to "
                            + DRAWS_MAX
                            + ", of which 200000 settle an interval to two digits");
        }
        try {
            return MonteCarlo.of(
                    model.inputs(),
                    model.outputs(),
                    model.model(),
                    count,
                    new SplittableRandom(seed));
        } catch (IllegalArgumentException refusal) {
            throw new DocumentException("option --draws: " + refusal.getMessage());
        }
    }
}

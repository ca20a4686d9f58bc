package catchbay.app;

import catchbay.app.NamedCatches.Measured;
import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.ModelSketch;
import catchbay.metrology.MonteCarlo;
import catchbay.record.BudgetText;
import catchbay.record.DocumentException;

import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
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
            "Shows what makes the figures of one catch uncertain, the largest share first.",
            "What stands at the top is what to improve first. How each term comes about is",
            "in src/docs/method.md."
        })
final class BudgetCommand implements Callable<Integer> {

    @Parameters(
            paramLabel = "RUN|FILE",
            description = "A recorded run, or a trace file (.jsonl, .jsonl.zst).")
    private String named;

    @ArgGroup private RecordsPlace where = new RecordsPlace();

    @Option(
            names = "--of",
            paramLabel = "FIGURE",
            defaultValue = "meter-error",
            description = {
                "Which figure: meter-error (default), control-error, application-error,",
                "measured, reported, asked, by-reference, by-scale, new-constant."
            })
    private String figure;

    @Option(
            names = "--draws",
            paramLabel = "N",
            description =
                    "Also by drawing all terms N times (Monte Carlo, JCGM 101), from 1000 on.")
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
        List<Measured> found =
                new NamedCatches(where::knownData, Optional.empty()).named(List.of(named));
        if (found.size() > 1) {
            throw new DocumentException(
                    "'"
                            + named
                            + "' names "
                            + found.size()
                            + " runs; a budget is of one, give its name from 'catchbay history'");
        }
        Measured run = found.getFirst();
        Comparison comparison = run.result().comparison();
        Optional<MonteCarlo> drawn = draws.map(count -> drawn(comparison.model(), count));
        PrintStream out = Page.out();
        String constantUnit = run.setup().truck().constant().symbol();
        if (json) {
            out.println(BudgetText.of(run.name(), constantUnit, comparison.budget(), drawn));
        } else {
            BudgetWords.print(out, run, output(comparison.budget()), drawn);
        }
        out.flush();
        return Exit.DONE;
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

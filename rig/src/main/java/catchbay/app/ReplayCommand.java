package catchbay.app;

import catchbay.run.Outcome;

import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import java.nio.file.Path;
import java.util.concurrent.Callable;

/** Evaluates a trace again. */
@Command(
        name = "replay",
        description = {
            "Evaluates a trace again, from the trace alone.",
            "A trace written by hand works too and is shown as unsealed; see",
            "src/docs/trace-format.md."
        })
final class ReplayCommand implements Callable<Integer> {

    @Parameters(paramLabel = "FILE", description = "A trace: .jsonl, or compressed .jsonl.zst.")
    private Path file;

    @Option(names = "--json", description = "Prints the result as one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    ReplayCommand() {}

    @Override
    public Integer call() {
        Replay.Result result = Replay.of(file);
        Page.print(json, result.provenance(), result.setup(), result.outcome());
        return result.outcome() instanceof Outcome.Measured ? Exit.DONE : Exit.NO_RESULT;
    }
}

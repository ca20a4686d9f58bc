package catchbay.app;

import catchbay.record.ResultText;
import catchbay.run.Outcome;
import catchbay.store.DataFolder;
import catchbay.store.RecordStore;
import catchbay.store.SqliteStore;
import catchbay.store.StoreException;

import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import java.nio.file.Files;
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
    public Integer call() throws StoreException {
        Replay.Result result = Replay.of(file);
        Page.print(json, recorded(result.provenance()), result.setup(), result.outcome());
        return result.outcome() instanceof Outcome.Measured ? Exit.DONE : Exit.NO_RESULT;
    }

    /** A trace in its bay's folder lies beside the records: then an earlier result is known. */
    private ResultText.Provenance recorded(ResultText.Provenance provenance) throws StoreException {
        Path records =
                DataFolder.records(
                        file.toAbsolutePath().normalize().resolveSibling("..").normalize());
        if (provenance.recorded().isEmpty() || !Files.exists(records)) {
            return provenance;
        }
        try (RecordStore store = SqliteStore.open(records)) {
            return store.ofRun(provenance.run())
                    .map(record -> provenance.with(record.content().resultJson()))
                    .orElse(provenance);
        }
    }
}

package catchbay.app;

import catchbay.record.DocumentException;
import catchbay.record.RecordChain;
import catchbay.record.ResultText;
import catchbay.record.RunRecord;
import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.store.DataFolder;
import catchbay.store.RecordStore;
import catchbay.store.SqliteStore;
import catchbay.store.TraceFolder;
import catchbay.store.TraceFolder.Form;

import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;

/** Lists what has been recorded. */
@Command(
        name = "history",
        description = {
            "Lists the recorded runs, newest first.",
            "Interrupted runs, which do not count, come last. Says when a record is not as it",
            "was written."
        })
final class HistoryCommand implements Callable<Integer> {

    private static final String ROW = "%4s  %-28s %-10s %-18s %12s %9s  %s";

    /** What is listed instead of the runs: one kind at a time. */
    private static final class Other {
        @Option(
                names = "--scale-tests",
                description = "Lists the tests of the scale instead of the runs.")
        private boolean scaleTests;

        @Option(
                names = "--self-tests",
                description = "Lists the tests of the bay by itself instead, the newest last.")
        private boolean selfTests;

        @Option(names = "--checkups", description = "Lists the checkups of the bay instead.")
        private boolean checkups;

        @Option(
                names = "--hunts",
                description = "Lists the hunts for the ends of trucks' ranges instead.")
        private boolean hunts;

        @Option(names = "--sweeps", description = "Lists the sweeps across the flow range instead.")
        private boolean sweeps;
    }

    @Mixin private RecordsPlace where = new RecordsPlace();

    @Option(
            names = {"-t", "--truck"},
            paramLabel = "NUMBER",
            description = "Only runs with this truck.")
    private Optional<String> truck;

    @Option(
            names = {"-n", "--newest"},
            paramLabel = "N",
            defaultValue = "20",
            description = "At most so many runs (default: 20).")
    private int newest;

    @ArgGroup private Other other;

    @Option(
            names = "--json",
            description =
                    "Prints one JSON object for each run, as recorded; a last one, without_result,"
                            + " names what has no result.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    HistoryCommand() {}

    @Override
    public Integer call() throws Exception {
        if (newest < 1) {
            throw new DocumentException(
                    "option --newest: " + newest + " is no count of runs; give 1 or more");
        }
        PrintStream out = Page.out();
        Path data = where.data();
        if (other != null) {
            int code = others(out, data);
            out.flush();
            return code;
        }
        Path records = DataFolder.records(data);
        if (!Files.exists(records)) {
            System.err.println(
                    "catchbay: there are no records in "
                            + data
                            + "; run a catch first, or name another folder with --data");
            return Exit.USAGE;
        }
        try (RecordStore store = SqliteStore.open(records)) {
            List<RunRecord> found =
                    truck.isPresent()
                            ? store.newestOfAsset(truck.get(), newest)
                            : store.newest(newest);
            TraceFolder traces = DataFolder.traces(data);
            if (json) {
                found.forEach(record -> out.println(record.content().resultJson()));
                LeftOut leftOut = new LeftOut();
                unrecorded(traces).forEach(one -> leftOut.add(one.run(), one.how()));
                leftOut.print(out);
            } else {
                list(out, found);
                unrecorded(traces).forEach(one -> out.println(one.row()));
            }
            out.flush();
            int kept = keptTraces(traces, found);
            int chained = verdict(store.verifyChain());
            return Math.max(kept, chained);
        }
    }

    /** What has files of its own; answers the exit code. */
    private int others(PrintStream out, Path data) throws IOException {
        if (other.scaleTests) {
            return ScaleTestWords.list(out, json, DataFolder.scaleTests(data).ends(), newest);
        }
        if (other.selfTests) {
            return SelfTestWords.list(out, json, DataFolder.selfTests(data).ends(), newest);
        }
        if (other.checkups) {
            return CheckupWords.list(out, json, DataFolder.checkups(data).ends(), newest);
        }
        if (other.hunts) {
            return HuntWords.list(out, json, DataFolder.hunts(data), truck, newest);
        }
        KnownSweeps sweeps = KnownSweeps.of(DataFolder.sweeps(data));
        ZoneId zone = where.settings().map(Settings::zone).orElse(ZoneOffset.UTC);
        return SweepWords.list(out, json, sweeps, truck, newest, zone);
    }

    /** Whether the traces of the records shown are there, and are the ones that were recorded. */
    private static int keptTraces(TraceFolder traces, List<RunRecord> records) throws IOException {
        int worst = Exit.DONE;
        for (RunRecord record : records) {
            String wrong = traces.wrong(record.content().runId(), record.content().traceSha256());
            if (wrong != null) {
                System.err.println("catchbay: " + wrong);
                worst = Exit.FAILED;
            }
        }
        return worst;
    }

    private static int verdict(RecordChain.Verdict verdict) {
        return switch (verdict) {
            case RecordChain.Verdict.Whole _ -> Exit.DONE;
            case RecordChain.Verdict.Broken broken -> {
                System.err.println(
                        "catchbay: record "
                                + broken.baySequence()
                                + " of "
                                + broken.bayId()
                                + " (run "
                                + broken.runId()
                                + ") is not as it was written: "
                                + broken.reason()
                                + "; restore the records from a copy");
                yield Exit.FAILED;
            }
        };
    }

    private void list(PrintStream out, List<RunRecord> records) {
        if (records.isEmpty()) {
            out.println(
                    "No run"
                            + truck.map(asset -> " with truck " + Words.printable(asset)).orElse("")
                            + " is recorded here.");
            return;
        }
        out.println(
                String.format(
                        Locale.ROOT,
                        ROW,
                        "no.",
                        "run",
                        "truck",
                        "outcome",
                        "measured gal",
                        "meter %",
                        "origin"));
        boolean overridden = false;
        for (RunRecord record : records) {
            RunRecord.Content content = record.content();
            boolean decided = ResultText.overridden(content.resultJson());
            overridden |= decided;
            out.println(
                    String.format(
                            Locale.ROOT,
                            ROW,
                            record.baySequence(),
                            content.runId(),
                            content.asset(),
                            content.outcome() + (decided ? " *" : ""),
                            ResultText.shown(content.resultJson(), "measured_us_gal", 3),
                            ResultText.shown(content.resultJson(), "meter_error_percent", 2),
                            content.origin().key()));
        }
        if (overridden) {
            Words.paragraph(
                    out,
                    "* By decision of a manager, with a certificate out of date: 'catchbay history"
                            + " --json' shows who and why.");
        }
    }

    /**
     * A run that has no record: cut off, or, where no program has marked it yet, perhaps still
     * under way.
     */
    private record Unrecorded(String run, String how, Optional<TraceLine.Header> header) {
        private String asset() {
            return header.map(known -> known.setup().truck().asset()).orElse("");
        }

        private String row() {
            return String.format(
                            Locale.ROOT,
                            ROW,
                            "-",
                            run,
                            Words.printable(asset()),
                            how,
                            "",
                            "",
                            header.map(known -> known.origin().key()).orElse(""))
                    .stripTrailing();
        }
    }

    private List<Unrecorded> unrecorded(TraceFolder traces) throws Exception {
        List<Unrecorded> found = new ArrayList<>();
        for (String run : traces.runs(Form.OPEN)) {
            found.add(new Unrecorded(run, "open or cut off", header(traces, run)));
        }
        for (String run : traces.runs(Form.INTERRUPTED)) {
            found.add(new Unrecorded(run, "interrupted", header(traces, run)));
        }
        return found.stream().filter(one -> truck.map(one.asset()::equals).orElse(true)).toList();
    }

    /** What began; empty where a power cut left not even that. */
    private static Optional<TraceLine.Header> header(TraceFolder traces, String run)
            throws Exception {
        try (InputStream bytes = traces.read(run);
                TraceReader reader = new TraceReader(bytes, run)) {
            return Optional.of(reader.header());
        } catch (DocumentException cutOff) {
            return Optional.empty();
        }
    }
}

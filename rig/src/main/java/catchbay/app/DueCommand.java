package catchbay.app;

import catchbay.port.PortException;
import catchbay.record.DueText;
import catchbay.record.TraceLine;
import catchbay.run.BayComputer;
import catchbay.run.RunSetup;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.io.IOException;
import java.io.PrintStream;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;

/** Says which tests of the bay are due. */
@Command(
        name = "due",
        description = {
            "Says which tests of the bay are due, by the settings' section self_tests.",
            "Of each: when it was last done, how it ended, until when it holds. Nothing moves.",
            "Exit code 0: nothing is behind; 1: something is, or failed the last time."
        })
final class DueCommand implements Callable<Integer> {

    private static final String ROW = "%-9s %6s  %-10s %-6s  %-12s %s";

    @Mixin private ChosenBay chosen = new ChosenBay();

    @Option(names = "--json", description = "Prints one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    DueCommand() {}

    @Override
    public Integer call() throws Exception {
        Settings settings = chosen.settings();
        settings.takeAnyReference();
        Optional<String> truck = settings.anyTruck();
        RunSetup provisional = settings.setup(truck, LocalDate.EPOCH);
        try (BayPorts ports = BayPorts.withTime(settings, provisional)) {
            LocalDate today = LocalDate.ofInstant(ports.time().wallTime(), settings.zone());
            return print(
                    settings,
                    settings.setup(truck, today),
                    TraceLine.Origin.of(ports.wouldBeSimulated()),
                    ports.clock(settings.data()));
        }
    }

    private int print(
            Settings settings, RunSetup setup, TraceLine.Origin origin, BayComputer computer)
            throws PortException, IOException {
        DueTests due = KnownTests.of(settings, origin).due();
        List<String> behind = due.behind(setup);
        Page.print(
                json,
                () ->
                        DueText.of(
                                setup.bay(),
                                setup.day(),
                                origin,
                                due.entries(setup).stream()
                                        .map(entry -> told(entry, setup.day()))
                                        .toList(),
                                due.lacking(setup)),
                out -> page(out, due, setup, behind),
                computer);
        return behind.isEmpty() ? Exit.DONE : Exit.NO_RESULT;
    }

    private static DueText.Told told(DueTests.Entry entry, LocalDate today) {
        return new DueText.Told(
                entry.test(),
                entry.everyDays(),
                entry.last().map(last -> new DueText.Last(last.name(), last.day(), last.answer())),
                entry.dueOn(),
                entry.behind(today));
    }

    private static void page(PrintStream out, DueTests due, RunSetup setup, List<String> behind) {
        out.println(
                String.format(
                        Locale.ROOT, ROW, "test", "days", "last done", "result", "due until", ""));
        for (DueTests.Entry entry : due.entries(setup)) {
            out.println(row(entry, setup.day()));
        }
        out.println();
        Map<String, String> lacking = new LinkedHashMap<>();
        due.lacking(setup)
                .forEach((test, what) ->
                        lacking.merge(what, test.key(), (some, more) -> some + ", " + more));
        lacking.forEach((what, tests) ->
                Words.paragraph(out, "Not done in this bay: " + tests + ", for " + what + "."));
        Words.paragraph(
                out,
                behind.isEmpty()
                        ? "Nothing is behind on " + setup.day() + "."
                        : "Behind on " + setup.day() + ": " + String.join("; ", behind) + ".");
    }

    private static String row(DueTests.Entry entry, LocalDate today) {
        String due =
                entry.everyDays() == 0
                        ? "unscheduled"
                        : entry.dueOn().map(LocalDate::toString).orElse("now");
        return String.format(
                        Locale.ROOT,
                        ROW,
                        entry.test().key(),
                        entry.everyDays() == 0 ? "-" : entry.everyDays(),
                        entry.last().map(last -> last.day().toString()).orElse("never"),
                        entry.last()
                                .map(last -> ScaleTestWords.inOneWord(last.answer()))
                                .orElse(""),
                        due,
                        entry.behind(today).isPresent() ? "<- behind" : "")
                .stripTrailing();
    }
}

package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.plan.SweepResult;
import catchbay.record.PlanText;
import catchbay.run.Outcome;
import catchbay.run.Series;
import catchbay.store.DataFolder;
import catchbay.store.Storage;
import catchbay.store.StoreException;
import catchbay.store.UnreliableFiles;
import catchbay.store.UnreliableFiles.Fault;
import catchbay.store.UnreliableRecords;

import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.BiConsumer;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Work on a stand-in bay in virtual time of which one effect on the medium goes wrong. */
public final class Interruptions {

    /** What is done. */
    public enum Work {
        /** A catch into a folder that is not there yet. */
        FIRST_CATCH("A bay's first catch"),
        /** A catch into a folder with records. */
        CATCH("A later catch"),
        /** Three catches into a folder with records. */
        SERIES("A series of three catches"),
        /** What {@link #PLAN} says, into a folder with records. */
        SWEEP("A sweep of eight catches");

        private final String words;

        Work(String words) {
            this.words = words;
        }

        /** It in words. */
        public String words() {
            return words;
        }
    }

    /** What an interruption left of the work's runs. */
    public enum Left {
        /** None of them. */
        NOTHING("no run begun"),
        /** The last of them is interrupted. */
        INTERRUPTED("last run interrupted"),
        /** All of them are on record, the last since the next start. */
        ADOPTED("last run adopted by the next start"),
        /** All of them are on record. */
        RECORDED("all runs on record"),
        /** The effect was not reached. */
        UNTOUCHED("not reached");

        private final String words;

        Left(String words) {
            this.words = words;
        }

        /** It in words. */
        public String words() {
            return words;
        }
    }

    /** How often each was left. */
    public static final class Tally {
        private final int[] counts = new int[Left.values().length];

        /** One more. */
        public void take(Left left) {
            counts[left.ordinal()]++;
        }

        /** How often this was left. */
        public int of(Left left) {
            return counts[left.ordinal()];
        }

        int old() {
            return of(Left.NOTHING) + of(Left.INTERRUPTED);
        }

        int recorded() {
            return of(Left.ADOPTED) + of(Left.RECORDED);
        }

        int untouched() {
            return of(Left.UNTOUCHED);
        }

        @Override
        public String toString() {
            StringBuilder text = new StringBuilder();
            for (Left left : Left.values()) {
                text.append(left).append(' ').append(of(left)).append("; ");
            }
            return text.toString();
        }
    }

    /** A sweep for the quick bay: two points, a new constant and its verification. */
    public static final String PLAN =
            """
            truck = "T-12"
            wanted_percent = 5
            points = [ { speed_mph = 20 }, { speed_mph = 40 } ]
            repeats = { least = 3, most = 4 }
            catch.seconds = 8
            tank = { room_us_gal = 60, drained = "when-full", drain_seconds = 10 }
            verification.points = [ { speed_mph = 20 }, { speed_mph = 30 } ]
            """;

    private static final Optional<String> TRUCK = Optional.of("T-12");

    private static final PrintStream NOWHERE =
            new PrintStream(OutputStream.nullOutputStream(), false, StandardCharsets.UTF_8);

    private final Path folder;
    private final Path stocked;
    private int bays;

    /**
     * @param folder in which its bays may lie
     */
    public Interruptions(Path folder) throws Exception {
        this.folder = folder;
        stocked = Files.createDirectories(folder.resolve("stocked"));
        Settings settings = settings(stocked);
        new CatchSession(settings, screen()).run(TRUCK, one -> {});
    }

    private static Screen screen() {
        return new Screen(() -> NOWHERE, false, 78);
    }

    /**
     * The settings of a quick bay: the example's in virtual time, with few pulses, since what is
     * tried on it is not measuring.
     */
    public static String quickBay() throws IOException {
        return Files.readString(Path.of("../src/examples/full-bay.toml"))
                .replace("provider = \"system\"", "provider = \"virtual\"")
                .replaceAll("= (59|60)(\\d)(\\d)\\.0 }", "= $1$2.$3 }")
                .replace("_us_gal = 3000.0", "_us_gal = 300.0")
                .replace("seconds = 60\npurge_seconds = 10", "seconds = 8\npurge_seconds = 1");
    }

    private static Settings settings(Path home) throws IOException {
        return Settings.read(Files.writeString(home.resolve("bay.toml"), quickBay()));
    }

    private static Path data(Path home) {
        return home.resolve("catchbay-data");
    }

    private Path home(Work work) throws IOException {
        Path home = Files.createDirectories(folder.resolve("bay" + ++bays));
        if (work != Work.FIRST_CATCH) {
            copy(data(stocked), data(home));
        }
        return home;
    }

    /** Copies a folder with all that is in it. */
    public static void copy(Path from, Path to) throws IOException {
        try (Stream<Path> all = Files.walk(from)) {
            for (Path each : all.toList()) {
                Files.copy(each, to.resolve(from.relativize(each)));
            }
        }
    }

    /** Deletes a folder with all that is in it. */
    public static void delete(Path home) throws IOException {
        try (Stream<Path> all = Files.walk(home)) {
            for (Path each : all.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(each);
            }
        }
    }

    /** The effects of the work when nothing goes wrong. */
    public List<String> undisturbed(Work work) throws Exception {
        Path home = home(work);
        UnreliableFiles files = new UnreliableFiles(Fault.REFUSED, Long.MAX_VALUE);
        Map<String, String> promised = promised(work, home, files);
        assertTrue(
                promised.values().stream().allMatch("measured"::equals) && !promised.isEmpty(),
                promised::toString);
        kept(promised, Aftermath.of(data(home)));
        delete(home);
        return files.effects();
    }

    /**
     * Does the work with one effect going wrong, starts again on what that left, holds it to what a
     * start may find, and goes on working.
     *
     * @param before how many effects come before it
     */
    public Left at(Work work, Fault fault, long before) throws Exception {
        Path home = home(work);
        Path found = Files.createDirectories(folder.resolve("found" + bays));
        UnreliableFiles files = new UnreliableFiles(fault, before);
        files.leaving(data(home), data(found));
        try {
            Map<String, String> promised = promised(work, home, files);
            Path left = files.ended() ? found : home;
            Aftermath after = Aftermath.of(data(left));
            kept(promised, after);
            goesOn(work, left, after);
            delete(home);
            delete(found);
            return files.failed() ? left(work, after) : Left.UNTOUCHED;
        } catch (AssertionError | Exception unkept) {
            throw new AssertionError(
                    work
                            + ", "
                            + fault
                            + " after "
                            + before
                            + " effects, at '"
                            + files.effects()
                                    .get((int) Math.min(before, files.effects().size() - 1))
                            + "': "
                            + unkept,
                    unkept);
        }
    }

    /**
     * Does the work as far as it goes.
     *
     * @return the outcomes that a person was told of, by run
     */
    private Map<String, String> promised(Work work, Path home, UnreliableFiles files)
            throws Exception {
        Storage unreliable = new Storage(files, records -> UnreliableRecords.open(records, files));
        Map<String, String> promised = new TreeMap<>();
        BiConsumer<String, Outcome> told =
                (run, outcome) -> {
                    if (!files.ended()) {
                        promised.put(run, outcome.key());
                    }
                };
        CatchSession session = new CatchSession(settings(home), screen(), unreliable);
        try {
            switch (work) {
                case FIRST_CATCH, CATCH ->
                        session.run(TRUCK, one -> told.accept(one.run(), one.outcome()));
                case SERIES ->
                        session.repeats(
                                TRUCK,
                                (all, computer) ->
                                        all.series()
                                                .runs()
                                                .forEach(run ->
                                                        told.accept(run.name(), run.outcome())));
                case SWEEP ->
                        session.sweep(
                                sweep(),
                                (all, computer) ->
                                        runs(all)
                                                .forEach(run ->
                                                        told.accept(run.name(), run.outcome())));
            }
        } catch (StoreException | IOException refused) {
            assertTrue(files.failed(), refused::toString);
        }
        return promised;
    }

    private static PlannedSweep sweep() {
        TomlFile file = TomlFile.of("plan.toml", PLAN);
        return PlannedSweep.anew(file, PlanText.read(file.fields()), false);
    }

    private static List<Series.Run> runs(SweepResult result) {
        return result.legs().stream().flatMap(leg -> leg.progress().runs().stream()).toList();
    }

    /** What somebody was told is so; a catch whose trace failed has no record. */
    private static void kept(Map<String, String> promised, Aftermath after) {
        promised.forEach((run, outcome) ->
                assertEquals(
                        outcome.equals("trace_failed") ? "interrupted" : outcome,
                        after.of(run),
                        () -> "told of run " + run));
    }

    /**
     * An interrupted sweep is gone on with to its end; else the same work is done once more. The
     * clock begins where it began before, as that of a computer without a battery may.
     */
    private static void goesOn(Work work, Path left, Aftermath before) throws Exception {
        List<Series.Run> runs = new ArrayList<>();
        CatchSession session = new CatchSession(settings(left), screen());
        switch (work) {
            case FIRST_CATCH, CATCH -> {
                CatchSession.Ended one = session.run(TRUCK, page -> {});
                runs.add(new Series.Run(one.run(), one.setup().day(), one.outcome()));
            }
            case SERIES ->
                    runs.addAll(session.repeats(TRUCK, (page, computer) -> {}).series().runs());
            case SWEEP -> runs.addAll(runs(session.sweep(goneOn(left), (page, computer) -> {})));
        }
        Set<String> names = runs.stream().map(Series.Run::name).collect(Collectors.toSet());
        assertEquals(runs.size(), names.size(), () -> "no run counts twice: " + runs);
        Set<String> measured =
                runs.stream()
                        .filter(run -> run.outcome() instanceof Outcome.Measured)
                        .map(Series.Run::name)
                        .collect(Collectors.toSet());
        assertTrue(measured.size() >= (work == Work.SERIES ? 3 : 1), runs::toString);
        Aftermath after = Aftermath.of(data(left));
        assertEquals(List.of(), after.said());
        measured.addAll(before.recorded().keySet());
        assertEquals(measured, after.recorded().keySet());
        assertEquals(before.interrupted(), after.interrupted());
        before.recorded().forEach((run, outcome) -> assertEquals(outcome, after.of(run)));
    }

    private static PlannedSweep goneOn(Path left) throws Exception {
        List<String> interrupted = Aftermath.sweepsInterrupted(data(left));
        assertTrue(interrupted.size() <= 1, interrupted::toString);
        return interrupted.isEmpty()
                ? sweep()
                : PlannedSweep.goOn(
                        KnownSweeps.of(DataFolder.sweeps(data(left)))
                                .toResume(interrupted.getFirst()));
    }

    private Left left(Work work, Aftermath after) {
        if (!after.interrupted().isEmpty()) {
            return Left.INTERRUPTED;
        }
        if (after.recorded().size() == (work == Work.FIRST_CATCH ? 0 : 1)) {
            return Left.NOTHING;
        }
        return after.said().stream().anyMatch(line -> line.contains("it is recorded now"))
                ? Left.ADOPTED
                : Left.RECORDED;
    }
}

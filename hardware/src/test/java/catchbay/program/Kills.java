package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.app.Aftermath;
import catchbay.app.Interruptions;
import catchbay.store.DataFolder;
import catchbay.store.TraceFolder.Form;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.concurrent.locks.LockSupport;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * The program as a process, started again and again on one data folder and killed (SIGKILL) each
 * time: at a drawn instant while it starts, or at a drawn time after its files have come to a drawn
 * phase of a drawn catch. Each start finds what the kill before left. Used by one thread.
 */
final class Kills {

    /** What a process was at when it was killed, as its files tell, and what is aimed at. */
    enum Phase {
        STARTING("it starts, takes stock, or asks for the checklist", 0),
        CATCHING("a catch runs", 200),
        RECORDING("the trace is sealed, its record is made", 40),
        COMPRESSING("the trace is being compressed", 2),
        CLEARING("the compressed trace is there, the plain one still too", 1),
        BETWEEN("between two catches", 4);

        private final String words;
        private final long spreadNanos;

        /**
         * @param spreadMillis for how long at most is waited once it is seen: about as long as it
         *     lasts on an ordinary computer
         */
        Phase(String words, long spreadMillis) {
            this.words = words;
            this.spreadNanos = spreadMillis * 1_000_000;
        }

        String words() {
            return words;
        }
    }

    /** What the next start had to do. */
    enum Left {
        NOTHING("nothing to do"),
        INTERRUPTED("run marked interrupted"),
        ADOPTED("run adopted: recorded now"),
        COMPRESSED("run on record: compressed now");

        private final String words;

        Left(String words) {
            this.words = words;
        }

        String words() {
            return words;
        }
    }

    /** Half the time of each start; what is on the medium does not depend on it. */
    private static final Map<String, String> QUICK_START =
            Map.of("JAVA_TOOL_OPTIONS", "-XX:TieredStopAtLevel=1");

    /** One kill and what came of it. */
    record Killed(Phase phase, Left left) {}

    private static final Instant BEGINNING = Instant.parse("2026-01-05T08:00:00Z");
    private static final Pattern TOLD = Pattern.compile("Run \\d+ \\((\\S+)\\): meter error .*");
    private static final int CATCH_MOST = 3;

    /**
     * After so many more catches whose drawn phase was too short to be seen it is killed at once.
     */
    private static final int MISSED_MOST = 2;

    /** Between two looks at the files: shorter than any phase, and some processor is left. */
    private static final long LOOK_NANOS = 300_000;

    /** As Java and a shell tell of a process that ended by signal 9. */
    private static final int KILLED = 128 + 9;

    private final Path home;
    private final SplittableRandom chance;
    private final Set<String> told = new HashSet<>();
    private Aftermath before = new Aftermath(Map.of(), Set.of(), List.of());
    private List<String> sweeps = List.of();
    private long startNanos = 1_000_000_000;
    private int starts;

    /**
     * @param home where settings, data and the copies to look at lie
     * @param seed of all that is drawn
     */
    Kills(Path home, long seed) throws IOException {
        this.home = home;
        this.chance = new SplittableRandom(seed);
        Files.writeString(home.resolve("plan.toml"), Interruptions.PLAN);
    }

    private Path data() {
        return home.resolve("catchbay-data");
    }

    /** Starts the program until one process is killed before it has ended by itself. */
    Killed next() throws Exception {
        while (true) {
            Set<String> runs = runs(names());
            Phase aim = Phase.values()[chance.nextInt(Phase.values().length)];
            int atLeast = 1 + chance.nextInt(CATCH_MOST);
            try (Started run = started(drawn())) {
                if (reached(run, runs, aim, atLeast)) {
                    run.kill();
                }
                Started.Ended ended = run.ended();
                ended.errors().stream()
                        .map(TOLD::matcher)
                        .filter(Matcher::matches)
                        .forEach(line -> told.add(line.group(1)));
                boolean killed = ended.code() == KILLED;
                assertTrue(killed || ended.code() <= 1, run::toString);
                Phase phase = phase(names(), runs);
                Left left = judged(run);
                if (killed) {
                    return new Killed(phase, left);
                }
            }
        }
    }

    // A start
    // ---------------------------------------------------------------------------------------------

    /** Each start's clock stands an hour after the one before. */
    private Started started(String... arguments) throws IOException {
        Instant now = BEGINNING.plus(Duration.ofHours(starts++));
        Files.writeString(
                home.resolve("bay.toml"),
                Interruptions.quickBay()
                        .replace(
                                "provider = \"virtual\"",
                                "provider = \"virtual\"\nstart = \"" + now + "\""));
        return Started.in(home, QUICK_START, arguments);
    }

    private String[] drawn() {
        boolean goesOn = chance.nextBoolean();
        if (chance.nextBoolean()) {
            return words("catch -s bay.toml -t T-12 --repeats --least 8");
        }
        return goesOn && !sweeps.isEmpty()
                ? words("sweep --resume " + sweeps.getFirst() + " -s bay.toml")
                : words("sweep plan.toml -s bay.toml --anew");
    }

    private static String[] words(String line) {
        return line.split(" ");
    }

    /**
     * Waits for the instant to kill.
     *
     * @param runs those that were there before
     * @return false when the process ended before
     */
    private boolean reached(Started run, Set<String> runs, Phase aim, int atLeast)
            throws IOException {
        long began = System.nanoTime();
        if (aim == Phase.STARTING) {
            return waited(run, chance.nextLong(startNanos));
        }
        long after = chance.nextLong(aim.spreadNanos);
        while (run.isAlive()) {
            Set<String> names = names();
            Set<String> begun = runs(names);
            begun.removeAll(runs);
            if (begun.size() == 1) {
                startNanos = Math.max(startNanos, System.nanoTime() - began);
            }
            if (begun.size() >= atLeast && phase(names, runs) == aim) {
                return waited(run, after);
            }
            if (begun.size() > atLeast + MISSED_MOST) {
                return run.isAlive();
            }
            LockSupport.parkNanos(LOOK_NANOS);
        }
        return false;
    }

    private static boolean waited(Started run, long nanos) {
        long until = System.nanoTime() + nanos;
        for (long left = nanos; left > 0; left = until - System.nanoTime()) {
            LockSupport.parkNanos(left);
        }
        return run.isAlive();
    }

    // What lies there
    // ---------------------------------------------------------------------------------------------

    /** The traces' files; a folder that is not there yet has none. */
    private Set<String> names() throws IOException {
        Path traces = data().resolve("traces");
        if (!Files.isDirectory(traces)) {
            return Set.of();
        }
        Set<String> names = new HashSet<>();
        try (Stream<Path> files = Files.list(traces)) {
            files.forEach(file -> names.add(file.getFileName().toString()));
        }
        return names;
    }

    private static Set<String> runs(Set<String> names) {
        Set<String> runs = new HashSet<>();
        names.forEach(name -> runs.add(name.substring(0, name.indexOf('.'))));
        return runs;
    }

    /** What the process was at: its last run is the one that is not done, if any is. */
    private static Phase phase(Set<String> names, Set<String> runsBefore) {
        Set<String> begun = runs(names);
        begun.removeAll(runsBefore);
        for (String run : begun) {
            boolean plain = names.contains(Form.CLOSED.fileName(run));
            if (names.contains(Form.OPEN.fileName(run))) {
                return Phase.CATCHING;
            }
            if (plain && names.contains(Form.COMPRESSED.fileName(run))) {
                return Phase.CLEARING;
            }
            if (plain) {
                boolean unfinished =
                        names.stream()
                                .anyMatch(name ->
                                        name.startsWith(Form.COMPRESSED.fileName(run) + "."));
                return unfinished ? Phase.COMPRESSING : Phase.RECORDING;
            }
        }
        return begun.isEmpty() ? Phase.STARTING : Phase.BETWEEN;
    }

    /**
     * Takes stock of a copy and holds it to what it may be; what lies in the folder itself is for
     * the next start.
     */
    private Left judged(Started run) throws Exception {
        if (!Files.isDirectory(data())) {
            return Left.NOTHING;
        }
        DataFolder.open(data(), BEGINNING.atZone(ZoneOffset.UTC)).close();
        Path copy = Files.createDirectories(home.resolve("copy"));
        Interruptions.delete(copy);
        Interruptions.copy(data(), copy);
        try {
            Aftermath after = Aftermath.of(copy);
            for (String each : told) {
                assertEquals("measured", after.of(each), "told as measured: " + each);
            }
            before.recorded().forEach((each, outcome) -> assertEquals(outcome, after.of(each)));
            before.interrupted().forEach(each -> assertEquals("interrupted", after.of(each)));
            before = after;
            sweeps = Aftermath.sweepsInterrupted(copy);
            return left(after.said());
        } catch (AssertionError | Exception broken) {
            throw new AssertionError("after start " + starts + ", " + run, broken);
        }
    }

    private static Left left(List<String> said) {
        assertTrue(said.size() <= 1, said::toString);
        Optional<String> only = said.stream().findFirst();
        if (only.isEmpty()) {
            return Left.NOTHING;
        }
        if (only.get().contains(" was interrupted; ")) {
            return Left.INTERRUPTED;
        }
        return only.get().contains(" it is recorded now ") ? Left.ADOPTED : Left.COMPRESSED;
    }

    /** After all kills: the next catch is measured, and the history has nothing to say against. */
    void end() throws Exception {
        try (Started last = started("catch", "-s", "bay.toml", "-t", "T-12")) {
            assertEquals(0, last.ended().code(), last::toString);
        }
        Started.Ended history = Started.ran(home, "history", "-s", "bay.toml");
        assertEquals(0, history.code(), history::toString);
        assertEquals(List.of(), history.errors());
    }
}

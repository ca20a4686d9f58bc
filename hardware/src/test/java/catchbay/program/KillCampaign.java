package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.app.Interruptions;
import catchbay.program.Kills.Killed;
import catchbay.program.Kills.Left;
import catchbay.program.Kills.Phase;
import catchbay.store.UnreliableFiles.Fault;

import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Function;
import java.util.function.ToIntBiFunction;

/**
 * Prints the tables of docs/fault-campaign.md, Kills and torn writes. Ends with an error at the
 * first that leaves something between old and new.
 */
final class KillCampaign {

    /** So many on one data folder; then the next one begins without a folder. */
    private static final int KILLS_OF_A_FOLDER = 20;

    private static final int THREADS = 2;

    private final PrintStream out;
    private final Path folder;

    private KillCampaign(PrintStream out, Path folder) {
        this.out = out;
        this.folder = folder;
    }

    /**
     * @param arguments how many kills
     */
    public static void main(String[] arguments) throws Exception {
        int kills = Integer.parseInt(arguments[0]);
        Path folder = Files.createTempDirectory("catchbay-kills");
        try {
            KillCampaign campaign = new KillCampaign(System.out, folder);
            campaign.killed(kills);
            campaign.interrupted();
        } finally {
            Interruptions.delete(folder);
        }
    }

    private void killed(int most) throws Exception {
        List<Callable<List<Killed>>> folders = new ArrayList<>();
        for (int first = 0; first < most; first += KILLS_OF_A_FOLDER) {
            int kills = Math.min(KILLS_OF_A_FOLDER, most - first);
            int seed = 1 + first / KILLS_OF_A_FOLDER;
            folders.add(() -> killed(seed, kills));
        }
        List<Killed> all = new ArrayList<>();
        try (ExecutorService threads = Executors.newFixedThreadPool(THREADS)) {
            for (Future<List<Killed>> each : threads.invokeAll(folders)) {
                all.addAll(each.get());
            }
        }
        out.println(
                "\n"
                        + all.size()
                        + " kills, "
                        + folders.size()
                        + " data folders one after the other.\n");
        table(
                "what the program was at",
                List.of(Phase.values()),
                Phase::words,
                Arrays.stream(Left.values()).map(Left::words).toList(),
                (phase, left) ->
                        (int)
                                all.stream()
                                        .filter(kill ->
                                                kill.phase() == phase
                                                        && kill.left().ordinal() == left)
                                        .count());
    }

    private List<Killed> killed(int seed, int most) throws Exception {
        Path home = Files.createDirectories(folder.resolve("bay" + seed));
        Kills kills = new Kills(home, seed);
        List<Killed> killed = new ArrayList<>();
        while (killed.size() < most) {
            killed.add(kills.next());
        }
        kills.end();
        Interruptions.delete(home);
        System.err.println("data folder " + seed + ": " + killed);
        return killed;
    }

    private void interrupted() throws Exception {
        Interruptions interruptions =
                new Interruptions(Files.createDirectories(folder.resolve("interruptions")));
        for (Interruptions.Work work : Interruptions.Work.values()) {
            int effects = interruptions.undisturbed(work).size();
            Map<Fault, Interruptions.Tally> tallies = new EnumMap<>(Fault.class);
            for (Fault fault : Fault.values()) {
                Interruptions.Tally tally = new Interruptions.Tally();
                for (int before = 0; before < effects; before++) {
                    tally.take(interruptions.at(work, fault, before));
                }
                tallies.put(fault, tally);
            }
            out.println("\n" + work.words() + ", " + effects + " effects:\n");
            assertTrue(
                    tallies.values().stream()
                            .allMatch(tally -> tally.of(Interruptions.Left.UNTOUCHED) == 0),
                    () -> work + ": every effect is reached");
            table(
                    "what goes wrong with each",
                    List.of(Fault.values()),
                    Fault::words,
                    Arrays.stream(Interruptions.Left.values())
                            .filter(left -> left != Interruptions.Left.UNTOUCHED)
                            .map(Interruptions.Left::words)
                            .toList(),
                    (fault, left) -> tallies.get(fault).of(Interruptions.Left.values()[left]));
        }
    }

    private <T> void table(
            String head,
            List<T> rows,
            Function<T, String> words,
            List<String> columns,
            ToIntBiFunction<T, Integer> count) {
        out.println("| " + head + " | times | " + String.join(" | ", columns) + " |");
        out.println("| --- |" + " --- |".repeat(columns.size() + 1));
        for (T row : rows) {
            StringBuilder cells = new StringBuilder();
            int all = 0;
            for (int i = 0; i < columns.size(); i++) {
                int times = count.applyAsInt(row, i);
                all += times;
                cells.append(" ").append(times).append(" |");
            }
            out.println("| " + words.apply(row) + " | " + all + " |" + cells);
        }
    }
}

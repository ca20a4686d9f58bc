package catchbay.app;

import catchbay.plan.TestPlan;
import catchbay.record.DocumentException;
import catchbay.record.PlanText;
import catchbay.record.SweepText;
import catchbay.store.JournalFolder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * The plan of a sweep that is to be run, and what has been done of it.
 *
 * @param plan the plan
 * @param text as it was written, TOML
 * @param earlier the sweep to go on with; empty for a new one
 * @param anew whether a new one may begin although its truck has one that was interrupted
 */
record PlannedSweep(TestPlan plan, String text, Optional<Found> earlier, boolean anew) {

    /**
     * A sweep that was found in the data folder.
     *
     * @param file its file's name
     * @param kept what stands in it
     */
    record Found(String file, SweepText.Kept kept) {}

    /** A new one. */
    static PlannedSweep anew(String text, TestPlan plan, boolean anew) {
        return new PlannedSweep(plan, text, Optional.empty(), anew);
    }

    /** One to go on with. */
    static PlannedSweep goOn(Found found) {
        String text = found.kept().plan();
        TestPlan plan = PlanText.read(TomlFile.of("plan of " + found.file(), text).fields());
        return new PlannedSweep(plan, text, Optional.of(found), false);
    }

    /** The sweeps that were interrupted, newest first. */
    static List<Found> interrupted(JournalFolder sweeps) throws IOException {
        List<Found> found = new ArrayList<>();
        Set<String> goneOnWith = new HashSet<>();
        for (String file : sweeps.names()) {
            List<String> lines = sweeps.lines(file);
            Optional<SweepText.Kept> kept = SweepText.kept(lines);
            if (kept.isPresent()) {
                SweepText.continues(lines.getFirst()).ifPresent(goneOnWith::add);
                if (!kept.get().done() && !goneOnWith.contains(file)) {
                    found.add(new Found(file, kept.get()));
                }
            }
        }
        return found;
    }

    /** The interrupted sweep called so, or the only one there is. */
    static Found found(JournalFolder sweeps, String name) throws IOException {
        List<Found> all = interrupted(sweeps);
        return all.stream()
                .filter(one -> one.kept().sweep().equals(name) || one.file().equals(name))
                .findFirst()
                .orElseThrow(() ->
                        new DocumentException(
                                "no interrupted sweep is called '"
                                        + name
                                        + "'; "
                                        + (all.isEmpty()
                                                ? "there is none in this data folder"
                                                : "there are " + String.join(", ", names(all)))));
    }

    private static List<String> names(List<Found> all) {
        return all.stream().map(one -> one.kept().sweep()).toList();
    }

    /** Under which name it begins; refused where its truck has one that was interrupted. */
    Sweeping.Begin begin(OpenBay bay, JournalFolder sweeps) throws IOException {
        if (earlier.isPresent()) {
            Found found = earlier.get();
            String sweep = found.kept().sweep();
            return new Sweeping.Begin(
                    sweep,
                    FreeName.after(sweep, sweeps::has),
                    text,
                    Optional.of(new Sweeping.Earlier(found.file(), found.kept().lines())));
        }
        for (Found one : interrupted(sweeps)) {
            if (!anew && one.kept().asset().equals(plan.truck())) {
                throw new DocumentException(
                        "truck "
                                + plan.truck()
                                + " has a sweep that was interrupted, "
                                + one.kept().sweep()
                                + "; go on with it (catchbay sweep --resume "
                                + one.kept().sweep()
                                + "), or begin anew with --anew: what was done of it stays"
                                + " recorded");
            }
        }
        String name = bay.freeName(bay.setup());
        String free = sweeps.has(name) ? FreeName.after(name, sweeps::has) : name;
        return new Sweeping.Begin(free, free, text, Optional.empty());
    }
}

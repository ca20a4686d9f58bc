package catchbay.app;

import catchbay.plan.TestPlan;
import catchbay.record.DocumentException;
import catchbay.record.PlanText;
import catchbay.run.RunSetup;
import catchbay.store.JournalFolder;

import java.io.IOException;
import java.util.List;
import java.util.Optional;

/**
 * The plan of a sweep that is to be run, and what has been done of it.
 *
 * @param name what a refusal calls the plan
 * @param plan the plan
 * @param text as it was written, TOML
 * @param earlier the sweep to go on with; empty for a new one
 * @param anew whether a new one may begin although its truck has one that was interrupted
 */
record PlannedSweep(
        String name,
        TestPlan plan,
        String text,
        Optional<KnownSweeps.Found> earlier,
        boolean anew) {

    /** A new one. */
    static PlannedSweep anew(TomlFile file, TestPlan plan, boolean anew) {
        return new PlannedSweep(file.name(), plan, file.text(), Optional.empty(), anew);
    }

    /** One to go on with. */
    static PlannedSweep goOn(KnownSweeps.Found found) {
        TomlFile file;
        TestPlan plan;
        try {
            file = TomlFile.of("its plan", found.kept().plan());
            plan = PlanText.read(file.fields());
        } catch (DocumentException unreadable) {
            throw new DocumentException(
                    "the file of sweep "
                            + found.file()
                            + " is not as it was written ("
                            + unreadable.getMessage()
                            + "); restore it from a copy, or begin a new sweep");
        }
        if (!plan.truck().equals(found.kept().asset())) {
            throw new DocumentException(
                    "the file of sweep "
                            + found.file()
                            + " says truck "
                            + found.kept().asset()
                            + ", and its plan says "
                            + plan.truck()
                            + "; restore it from a copy, or begin a new sweep");
        }
        return new PlannedSweep(file.name(), plan, file.text(), Optional.of(found), false);
    }

    /** A setup of the settings as the sweep has it. */
    RunSetup asBegun(RunSetup today) {
        return earlier.map(found -> KnownSweeps.asBegun(today, found.kept())).orElse(today);
    }

    /**
     * Under which name it begins; refused where its truck has one that was interrupted, or may have
     * one.
     *
     * @param known its truck's, read since the data folder is ours
     */
    Sweeping.Begin begin(OpenBay bay, JournalFolder sweeps, KnownSweeps known) throws IOException {
        if (earlier.isPresent()) {
            KnownSweeps.Found found = known.unchanged(earlier.get());
            String sweep = found.kept().sweep();
            return new Sweeping.Begin(
                    sweep,
                    FreeName.after(sweep, sweeps::has),
                    text,
                    Optional.of(new Sweeping.Earlier(found.file(), found.kept())));
        }
        List<KnownSweeps.Found> interrupted = known.interrupted();
        if (!anew && !interrupted.isEmpty()) {
            String name = interrupted.getFirst().kept().sweep();
            throw new DocumentException(
                    "truck "
                            + plan.truck()
                            + " has a sweep that was interrupted, "
                            + name
                            + "; "
                            + wayOn(name));
        }
        if (!anew) {
            known.refuseUnknown();
        }
        String name = bay.freeName(bay.setup(), sweeps::has);
        return new Sweeping.Begin(name, name, text, Optional.empty());
    }

    /**
     * What {@link #begin} refuses a plan of a truck for, as a sentence before it comes to that;
     * empty where nothing stands in its way.
     *
     * @param known its truck's, which may change until then
     */
    static Optional<String> inTheWay(String truck, KnownSweeps known) {
        return known.interrupted().stream()
                .findFirst()
                .map(found -> found.kept().sweep())
                .map(name ->
                        "Truck "
                                + truck
                                + " has a sweep that was interrupted, or is under way, "
                                + name
                                + ": another is refused until that is over; "
                                + wayOn(name)
                                + ".");
    }

    private static String wayOn(String name) {
        return "go on with it (catchbay sweep --resume "
                + name
                + "), or begin anew with --anew: what was done of it stays recorded";
    }
}

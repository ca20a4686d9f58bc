package catchbay.app;

import catchbay.metrology.TruckConstant;
import catchbay.record.DocumentException;
import catchbay.record.SetupText;
import catchbay.record.SweepText;
import catchbay.record.SweepText.Begun;
import catchbay.record.SweepText.Entered;
import catchbay.record.TraceLine;
import catchbay.run.RunSetup;
import catchbay.store.JournalFolder;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;

/**
 * The sweeps of a data folder, newest first. Of one that was gone on with the newest file tells.
 * They are as they were when they were read: what must not miss one reads them once the data folder
 * is its own, where nobody else can begin or end one.
 *
 * @param newestFirst those that can be read
 * @param unread the names of files that cannot be read, newest first: one that was begun has its
 *     first line
 */
record KnownSweeps(List<Found> newestFirst, List<String> unread) {

    /**
     * A sweep that was found.
     *
     * @param file its file's name
     * @param kept what stands in it
     */
    record Found(String file, SweepText.Kept kept) {

        private boolean isOf(String asset, TraceLine.Origin origin) {
            return kept.asset().equals(asset)
                    && kept.begun().filter(begun -> begun.origin() == origin).isPresent();
        }

        private boolean isCalled(String name) {
            return kept.sweep().equals(name) || file.equals(name);
        }
    }

    KnownSweeps {
        newestFirst = List.copyOf(newestFirst);
        unread = List.copyOf(unread);
    }

    /** Those of all trucks. */
    static KnownSweeps of(JournalFolder sweeps) throws IOException {
        return of(sweeps, _ -> true, _ -> true);
    }

    /** Those of one truck: of the fleet's others, kept for years, next to nothing is read. */
    static KnownSweeps ofTruck(String asset, JournalFolder sweeps) throws IOException {
        return of(sweeps, asset::equals, file -> FreeName.maybeOfTruck(file, asset));
    }

    /**
     * @param asked whether a truck is asked for
     * @param named whether a file's name may be of one that is
     */
    private static KnownSweeps of(
            JournalFolder sweeps, Predicate<String> asked, Predicate<String> named)
            throws IOException {
        List<Found> found = new ArrayList<>();
        List<String> unread = new ArrayList<>();
        Set<String> goneOnWith = new HashSet<>();
        for (String file : sweeps.names()) {
            Optional<List<String>> lines = sweeps.lines(file);
            try {
                Optional<SweepText.Kept> kept =
                        SweepText.kept(
                                lines.filter(all -> !all.isEmpty())
                                        .orElseThrow(() -> new DocumentException("no text")),
                                asked);
                // Of one that goes on with another all that happened before stands in the other,
                // until it stands in this one.
                if (kept.isPresent() && kept.get().isWhole()) {
                    kept.get().continues().ifPresent(earlier -> goneOnWith.add(earlier.file()));
                    if (!goneOnWith.contains(file)) {
                        found.add(new Found(file, kept.get()));
                    }
                }
            } catch (DocumentException damaged) {
                if (named.test(file)) {
                    unread.add(file);
                }
            }
        }
        return new KnownSweeps(found, unread);
    }

    /**
     * Those that may be gone on with. Of one without a catch there is nothing to go on with; and
     * once another has entered a constant since it began, what it has found is no longer of the
     * truck as it is.
     */
    List<Found> interrupted() {
        return newestFirst.stream()
                .filter(one -> isLeftOff(one) && enteredSince(one).isEmpty())
                .toList();
    }

    private static boolean isLeftOff(Found one) {
        return !one.kept.done() && one.kept.beganToCatch();
    }

    /**
     * The sweep that has entered a constant in the truck of a sweep since that began. What came
     * first the records tell, of which there are ever more: a clock may have been set in between.
     */
    private Optional<Found> enteredSince(Found one) {
        return one.kept
                .begun()
                .flatMap(begun ->
                        newestEntry(one.kept.asset(), begun.origin())
                                .filter(other -> !other.equals(one))
                                .filter(other -> entry(other).records() > begun.records()));
    }

    /**
     * The sweep to go on with.
     *
     * @param name its own or its file's
     * @throws DocumentException when there is none, or it may not be gone on with
     */
    Found toResume(String name) {
        Found found =
                newestFirst.stream()
                        .filter(one -> one.isCalled(name))
                        .findFirst()
                        .orElseThrow(() -> unknown(name));
        if (!isLeftOff(found)) {
            throw new DocumentException(
                    "sweep "
                            + found.kept.sweep()
                            + (found.kept.done()
                                    ? " was not interrupted, but has come to its end"
                                    : " was interrupted before its first catch")
                            + "; begin a new one");
        }
        Optional<Found> since = enteredSince(found);
        if (since.isPresent()) {
            throw new DocumentException(
                    "sweep "
                            + found.kept.sweep()
                            + " cannot be gone on with: since it began sweep "
                            + since.get().kept.sweep()
                            + " has entered a constant of "
                            + entry(since.get()).constant()
                            + " in truck "
                            + found.kept.asset()
                            + ", so that its catches are no longer of the truck as it is; begin a"
                            + " new one");
        }
        return found;
    }

    /**
     * The sweep to go on with, if it is as it was when it was looked for.
     *
     * @throws DocumentException when another program has gone on with it since
     */
    Found unchanged(Found earlier) {
        if (!newestFirst.contains(earlier)) {
            throw new DocumentException(
                    "sweep "
                            + earlier.kept.sweep()
                            + " was gone on with by another program while this one began; see"
                            + " catchbay history --sweeps, and begin again");
        }
        return earlier;
    }

    private DocumentException unknown(String name) {
        if (unread.contains(name)) {
            return new DocumentException(
                    "the file of sweep "
                            + name
                            + " cannot be read, so that it cannot be gone on with; restore it from"
                            + " a copy, or begin a new sweep");
        }
        List<String> names = interrupted().stream().map(one -> one.kept.sweep()).toList();
        return new DocumentException(
                "no interrupted sweep is called '"
                        + name
                        + "'; "
                        + (names.isEmpty()
                                ? "there is none in this data folder"
                                : "there are " + String.join(", ", names)));
    }

    /**
     * Refuses to begin a new sweep where a file that cannot be read may be of one that was
     * interrupted.
     *
     * @throws DocumentException with that file's name
     */
    void refuseUnknown() {
        if (!unread.isEmpty()) {
            throw new DocumentException(
                    unreadable()
                            + ", so that nobody knows whether it was interrupted; restore it from a"
                            + " copy, take it out of the data folder, or begin anew with --anew");
        }
    }

    private String unreadable() {
        return unread.size() == 1
                ? "the file of sweep " + unread.getFirst() + " cannot be read"
                : "the files of sweeps " + String.join(", ", unread) + " cannot be read";
    }

    /**
     * What is to be said of a truck's constant before anything begins, each a sentence: of files
     * that cannot be read, and as {@link #oldConstant}.
     */
    List<String> remarks(RunSetup.Truck truck, TraceLine.Origin origin) {
        List<String> remarks = new ArrayList<>();
        if (!unread.isEmpty()) {
            remarks.add(
                    "In the data folder "
                            + unreadable()
                            + ". Whether another constant was entered in truck "
                            + truck.asset()
                            + " than the settings say nobody knows; restore it from a copy.");
        }
        oldConstant(truck, origin).ifPresent(remarks::add);
        return remarks;
    }

    private Optional<Found> newestEntry(String asset, TraceLine.Origin origin) {
        return newestFirst.stream()
                .filter(one -> one.isOf(asset, origin) && one.kept.entered().isPresent())
                .max(Comparator.comparing(one -> entry(one).records()));
    }

    private static Entered entry(Found one) {
        return one.kept.entered().orElseThrow();
    }

    /**
     * That the settings still hold the constant in whose place a sweep entered another, as a
     * sentence; empty where they do not.
     *
     * @param truck as the settings have it
     * @param origin only sweeps of this origin count: a stand-in truck says nothing of a real one
     */
    private Optional<String> oldConstant(RunSetup.Truck truck, TraceLine.Origin origin) {
        return newestEntry(truck.asset(), origin)
                .filter(one ->
                        one.kept.begun().orElseThrow().constant() == truck.constant().value()
                                && entry(one).constant() != truck.constant().value())
                .map(one -> entered(one, truck));
    }

    private static String entered(Found one, RunSetup.Truck truck) {
        return truck.constant().accepts(entry(one).constant())
                ? "Sweep "
                        + one.kept.sweep()
                        + " has entered another constant in truck "
                        + truck.asset()
                        + ", and the settings still say "
                        + truck.constant().written(truck.constant().value())
                        + ": "
                        + putting(truck, entry(one).constant())
                : "Sweep "
                        + one.kept.sweep()
                        + " has entered "
                        + entry(one).constant()
                        + " as the constant of truck "
                        + truck.asset()
                        + " by its file, which is none of "
                        + truck.constant().limits()
                        + "; restore the file from a copy.";
    }

    /** What must stand in the settings once a new constant was entered, as a sentence. */
    static String settingsToChange(RunSetup.Truck truck, double entered) {
        return "The settings must say what the controller holds: " + putting(truck, entered);
    }

    private static String putting(RunSetup.Truck truck, double entered) {
        return "put "
                + SetupText.constantKey(truck.constant())
                + " = "
                + truck.constant().number(entered)
                + " into the section of truck "
                + truck.asset()
                + ", or what comes next is compared by the old one.";
    }

    /**
     * A setup of a sweep that is gone on with, with the truck's constant as it came in: the
     * settings may hold the one that was entered since.
     *
     * @throws DocumentException when they hold a third one
     */
    static RunSetup asBegun(RunSetup today, SweepText.Kept kept) {
        Optional<Begun> begun = kept.begun();
        double now = today.truck().constant().value();
        if (begun.isEmpty() || begun.get().constant() == now) {
            return today;
        }
        if (kept.entered().filter(entered -> entered.constant() == now).isEmpty()) {
            throw new DocumentException(
                    "sweep "
                            + kept.sweep()
                            + " was begun with a constant of "
                            + today.truck().constant().written(begun.get().constant())
                            + ", and the settings now say "
                            + today.truck().constant().written(now)
                            + "; put back the one that truck "
                            + kept.asset()
                            + " has, or begin anew with --anew");
        }
        TruckConstant asItCameIn = today.truck().constant().with(begun.get().constant());
        return today.with(today.truck().with(asItCameIn));
    }
}

package catchbay.app;

import catchbay.metrology.TruckConstant;
import catchbay.plan.Leg;
import catchbay.plan.LegProgress;
import catchbay.plan.PlanForecast;
import catchbay.plan.Sweep;
import catchbay.plan.SweepEvent;
import catchbay.plan.SweepResult;
import catchbay.plan.SweepSetup;
import catchbay.port.PortException;
import catchbay.quantity.Volume;
import catchbay.record.DocumentException;
import catchbay.record.SetupDifference;
import catchbay.record.SweepText;
import catchbay.record.TraceLine;
import catchbay.run.Outcome;
import catchbay.run.Part;
import catchbay.run.RunSetup;
import catchbay.run.Series;
import catchbay.run.SweepTask;
import catchbay.store.JournalFile;
import catchbay.store.JournalFolder;
import catchbay.store.StoreException;

import java.io.IOException;
import java.io.PrintStream;
import java.util.List;
import java.util.Optional;

/**
 * Runs a sweep on an open bay: what comes next its plan says, and each catch is a run of its own
 * that begins and ends in the safe state. Whatever has happened stands in its file before anything
 * else happens. Used once.
 */
final class Sweeping {

    /**
     * A sweep to run.
     *
     * @param name the sweep's name
     * @param file its file's name
     * @param plan as it was written, TOML
     * @param continues the file it goes on with, and what stands in that
     */
    record Begin(String name, String file, String plan, Optional<Earlier> continues) {}

    /** What has happened of a sweep before the program began anew. */
    record Earlier(String file, SweepText.Kept kept) {
        private SweepText.Continues said() {
            return new SweepText.Continues(file, kept.lines().size());
        }
    }

    private static final String TIME_IS_UP =
            "What is left of the time that the plan allows (alone.time_limit) is too short for the"
                    + " next catch.";

    private final OpenBay bay;
    private final JournalFolder folder;
    private final StopSignal stop;
    private final PrintStream err;
    private final BetweenRuns people;
    private JournalFile file;
    private Sweep sweep;
    private int handSetLeg;

    /** Through which outlet liquid runs, or all; empty before anybody was asked. */
    private Optional<Optional<String>> knownOutlet = Optional.empty();

    /**
     * @param folder where its file is to lie
     * @param stop ends it from outside
     * @param err where a person is told
     */
    Sweeping(OpenBay bay, JournalFolder folder, StopSignal stop, PrintStream err) {
        this.bay = bay;
        this.folder = folder;
        this.stop = stop;
        this.err = err;
        this.people = new BetweenRuns(bay, stop);
    }

    /**
     * Runs it as far as it goes. Before its checklist is confirmed it has no file, and leaves
     * nothing.
     *
     * @param planned before its first catch; its plan can be done
     */
    SweepResult result(Begin begin, Sweep planned)
            throws PortException, StoreException, IOException {
        sweep = planned;
        begin.continues.ifPresent(earlier -> goOn(begin.name, earlier));
        people.ofSweep(begin.name);
        SweepWords.before(err, sweep);
        // Where the last line alone was lost, nothing is to move any more.
        boolean moves = !(sweep.next() instanceof Sweep.Next.Over);
        Optional<SweepEvent.Confirmed> confirmed = moves ? asked() : Optional.empty();
        if (moves && confirmed.isEmpty()) {
            String why = people.unanswered().orElseThrow();
            return begin.continues.isPresent()
                    ? result(begin, "Not gone on with: " + why + ".", true)
                    : result(begin, "Not begun: " + why + ".", false);
        }
        try (JournalFile opened = folder.begin(begin.file, firstLine(begin))) {
            file = opened;
            if (begin.continues.isPresent()) {
                goneOn(begin.continues.get().kept);
            }
            if (confirmed.isPresent()) {
                write(confirmed.get());
            }
            long most = sweep.forecast().plan().alone().nanosMost();
            Optional<String> early = made(begin.name, bay.time().monotonicNanos() + most);
            SweepResult result = result(begin, early.orElseGet(this::over), early.isPresent());
            file.append(SweepText.of(result));
            return result;
        }
    }

    private SweepResult result(Begin begin, String end, boolean resumable) {
        return SweepResult.of(
                begin.name, bay.origin() == TraceLine.Origin.SIMULATED, sweep, end, resumable);
    }

    private String firstLine(Begin begin) throws StoreException {
        RunSetup setup = sweep.forecast().setup();
        return SweepText.begun(
                begin.name,
                setup,
                new SweepText.Begun(
                        bay.time().wallTime(),
                        bay.records(),
                        bay.origin(),
                        setup.truck().constant().value()),
                begin.plan,
                begin.continues.map(Earlier::said));
    }

    /** What happened before, as it stood there, and what has become of it since. */
    private void goneOn(SweepText.Kept kept) throws IOException {
        for (String line : kept.lines()) {
            file.append(line);
        }
        file.append(SweepText.resumed());
        for (Series.Run run : caught()) {
            boolean wasMeasured = kept.measured().contains(run.name());
            if (run.result().isPresent() && !wasMeasured) {
                file.append(SweepText.ran(run));
            } else if (isLost(run, kept)) {
                file.append(SweepText.lost(run.name(), run.outcome().reason()));
            }
        }
    }

    private List<Series.Run> caught() {
        return sweep.events().stream()
                .filter(SweepEvent.Caught.class::isInstance)
                .map(event -> ((SweepEvent.Caught) event).run())
                .toList();
    }

    private static boolean isLost(Series.Run run, SweepText.Kept kept) {
        return run.result().isEmpty() && kept.measured().contains(run.name());
    }

    /**
     * All that happened before, by the traces.
     *
     * @throws DocumentException when a catch that stands was made of something else than its point
     *     is now
     */
    private void goOn(String name, Earlier earlier) {
        TruckConstant asItCameIn = sweep.forecast().setup().truck().constant();
        earlier.kept
                .entered()
                .map(SweepText.Entered::constant)
                .filter(number -> !asItCameIn.accepts(number))
                .ifPresent(number -> {
                    throw notGoneOnWith(
                            name,
                            "its file says that "
                                    + number
                                    + " was entered as the constant, which is none of "
                                    + asItCameIn.limits()
                                    + "; restore the file from a copy");
                });
        List<SweepEvent> events = SweepText.events(earlier.kept.lines(), asItCameIn, bay::replayed);
        for (SweepEvent event : events) {
            if (event instanceof SweepEvent.Caught caught) {
                known(name, caught);
            }
            sweep = sweep.with(event);
        }
        sweep = sweep.with(new SweepEvent.Resumed());
        List<Series.Run> lost = caught().stream().filter(run -> isLost(run, earlier.kept)).toList();
        refuseFoundAnew(name, lost);
        if (!lost.isEmpty()) {
            err.println(told(lost));
        }
        long caught = sweep.counted();
        err.println(
                "Goes on with a sweep that was interrupted after "
                        + caught
                        + (caught == 1 ? " catch" : " catches")
                        + " with a result; finished points stand.");
    }

    /** What was caught under other settings is no catch of this point. */
    private void known(String name, SweepEvent.Caught caught) {
        String run = caught.run().name();
        Leg leg =
                sweep.legs().stream()
                        .filter(one -> one.number() == caught.leg())
                        .filter(one -> !one.verifying() || sweep.entered().isPresent())
                        .findFirst()
                        .orElseThrow(() ->
                                notGoneOnWith(
                                        name,
                                        "its file has catch "
                                                + run
                                                + " at leg "
                                                + caught.leg()
                                                + ", which its plan does not have there; restore"
                                                + " the file from a copy"));
        if (caught.run().result().isEmpty()) {
            return;
        }
        RunSetup today = bay.ways().today(leg.point().way());
        SetupDifference.of(caught.setup().orElseThrow(), SweepSetup.of(sweep, leg, today))
                .ifPresent(differs -> {
                    throw notGoneOnWith(
                            name,
                            "its catch "
                                    + run
                                    + " was made with "
                                    + differs.key()
                                    + " = "
                                    + differs.before()
                                    + ", and the settings and its plan now say "
                                    + differs.now()
                                    + "; put back what it was begun with");
                });
    }

    private static String told(List<Series.Run> lost) {
        boolean one = lost.size() == 1;
        return (one
                        ? "Catch " + lost.getFirst().name() + " had a result, and does"
                        : "Catch "
                                + lost.getFirst().name()
                                + " and "
                                + (lost.size() - 1)
                                + " more had results, and do")
                + " not count any more. "
                + lost.getFirst().outcome().reason()
                + " Where there is a copy of the data folder, restore it before going on.";
    }

    /** With the new constant in its controller no truck can be caught as it was found. */
    private void refuseFoundAnew(String name, List<Series.Run> lost) {
        boolean missing =
                sweep.entered().isPresent()
                        && sweep.legs().stream()
                                .anyMatch(leg -> !leg.verifying() && !sweep.progress(leg).over());
        if (missing) {
            throw notGoneOnWith(
                    name,
                    "the new constant is entered, and a point as found is no longer known ("
                            + String.join(", ", lost.stream().map(Series.Run::name).toList())
                            + " had a result, which is lost); restore the data folder from a copy");
        }
    }

    private static DocumentException notGoneOnWith(String name, String why) {
        return new DocumentException(
                "sweep "
                        + name
                        + " cannot be gone on with: "
                        + why
                        + ", or begin anew with --anew");
    }

    private String over() {
        return sweep.next() instanceof Sweep.Next.Over(String reason) ? reason : "";
    }

    private Optional<String> endedWaiting() {
        return Optional.of("Not gone on with: " + people.unanswered().orElseThrow() + ".");
    }

    /** What comes next, until all is done; answers why it ended before that. */
    private Optional<String> made(String of, long deadline)
            throws PortException, StoreException, IOException {
        while (true) {
            Sweep.Next next = sweep.next();
            if (next instanceof Sweep.Next.Over) {
                boolean stopped =
                        sweep.events().getLast() instanceof SweepEvent.Caught last
                                && !(last.run().outcome() instanceof Outcome.Measured)
                                && !(last.run().outcome() instanceof Outcome.Void);
                return stopped ? Optional.of(over()) : Optional.empty();
            }
            if (!fits(next, deadline)) {
                return Optional.of(TIME_IS_UP);
            }
            boolean goesOn =
                    switch (next) {
                        case Sweep.Next.Catch one -> prepared(one.leg());
                        case Sweep.Next.Acknowledge _ -> {
                            // Why, the catch before has said.
                            err.println(
                                    "The bay is in its safe state. Nothing moves before somebody"
                                            + " has looked and confirms the checklist again.");
                            yield cleared() && confirmed();
                        }
                        case Sweep.Next.Empty _ -> emptied();
                        case Sweep.Next.Refill(var volume) -> refilled(volume);
                        case Sweep.Next.EnterConstant enter -> entered(enter);
                        case Sweep.Next.Over _ -> false;
                    };
            if (!goesOn) {
                return endedWaiting();
            }
            if (next instanceof Sweep.Next.Catch one) {
                // People may have taken their time.
                if (!fits(one, deadline)) {
                    return Optional.of(TIME_IS_UP);
                }
                caught(of, one, deadline);
            }
        }
    }

    /** Whether there is time left for what comes next: no catch begins that would be cut off. */
    private boolean fits(Sweep.Next next, long deadline) {
        long needed = next instanceof Sweep.Next.Catch one ? one.nanos() : 1;
        return bay.time().monotonicNanos() + needed <= deadline;
    }

    /** What people do before a catch of a leg. */
    private boolean prepared(Leg leg) throws IOException {
        people.beforeLeg(leg.number());
        RunSetup today = bay.ways().today(leg.point().way());
        if (!outletSet(leg.point().point().outlet())) {
            return false;
        }
        if (SweepSetup.setByHand(today) && handSetLeg != leg.number()) {
            if (!done(new SweepTask.SetPoint(leg.point().flow(), leg.point().speed()))) {
                return false;
            }
            handSetLeg = leg.number();
        }
        return !SweepSetup.handless(today) || present();
    }

    private void caught(String of, Sweep.Next.Catch next, long deadline)
            throws PortException, StoreException, IOException {
        Leg leg = next.leg();
        RunSetup today = bay.ways().today(leg.point().way());
        long left = deadline - bay.time().monotonicNanos();
        RunSetup setup = SweepSetup.of(sweep, of, next, today, presenceLeftNanos(), left);
        String run = bay.freeName(setup, this::isNamed);
        boolean emptied = next.emptyNanos() > 0;
        file.append(SweepText.catching(leg.number(), emptied, run));
        err.println(
                "Leg "
                        + leg.number()
                        + " of "
                        + sweep.legs().size()
                        + " ("
                        + leg.words()
                        + "), catch "
                        + next.number()
                        + "; "
                        + SweepWords.left(sweep.left().nanos())
                        + ".");
        CatchSession.Ended one = bay.caught(run, setup, stop);
        people.ran();
        Series.Run ran = new Series.Run(run, setup.day(), one.outcome());
        file.append(SweepText.ran(ran));
        sweep =
                sweep.with(
                        new SweepEvent.Caught(
                                leg.number(), emptied, ran, Optional.of(one.setup())));
        err.println(SeriesWords.ran(next.number(), ran));
        LegProgress progress = sweep.progress(leg);
        if (progress.outliers().contains(run)) {
            err.println("It stands out from the others at this point.");
        }
        if (progress.skipped().isPresent()) {
            err.println("Leg " + leg.number() + " is left; its last catch says why.");
        }
        if (progress.over()) {
            SweepResult.missed(sweep, leg).ifPresent(err::println);
        }
    }

    private boolean isNamed(String run) {
        return sweep.events().stream()
                .anyMatch(event ->
                        event instanceof SweepEvent.Caught caught
                                && caught.run().name().equals(run));
    }

    /** How the outlets stand nobody tells the bay: it asks at each change, and at the beginning. */
    private boolean outletSet(Optional<String> outlet) {
        if (!sweep.forecast().plan().namesOutlets() || knownOutlet.equals(Optional.of(outlet))) {
            return true;
        }
        if (!done(new SweepTask.SetOutlet(outlet))) {
            return false;
        }
        knownOutlet = Optional.of(outlet);
        return true;
    }

    private boolean emptied() throws IOException {
        if (!done(new SweepTask.EmptyTank())) {
            return false;
        }
        String by = sweep.confirmedBy().orElseThrow();
        file.append(SweepText.emptied(by));
        sweep = sweep.with(new SweepEvent.Emptied(by));
        return true;
    }

    private boolean refilled(Volume volume) throws IOException {
        if (!done(new SweepTask.Refill(volume))) {
            return false;
        }
        String by = sweep.confirmedBy().orElseThrow();
        file.append(SweepText.refilled(by));
        sweep = sweep.with(new SweepEvent.Refilled(by));
        return true;
    }

    private boolean entered(Sweep.Next.EnterConstant enter) throws StoreException, IOException {
        if (!done(new SweepTask.EnterConstant(enter.constant(), enter.note()))) {
            return false;
        }
        String by = sweep.confirmedBy().orElseThrow();
        file.append(
                SweepText.entered(
                        by,
                        new SweepText.Entered(
                                bay.time().wallTime(), bay.records(), enter.constant().value())));
        sweep = sweep.with(new SweepEvent.ConstantEntered(by, enter.constant()));
        return true;
    }

    // A person
    // ---------------------------------------------------------------------------------------------

    /** The checklist is confirmed once more. */
    private boolean confirmed() throws IOException {
        Optional<SweepEvent.Confirmed> confirmed = asked();
        if (confirmed.isPresent()) {
            write(confirmed.get());
        }
        return confirmed.isPresent();
    }

    /**
     * Has the checklist confirmed, and what is to be known of speed; whose name it is stands for
     * what follows. Empty where somebody did not.
     */
    private Optional<SweepEvent.Confirmed> asked() {
        boolean sendsSpeed =
                sweep.forecast().setup().plan().flowBy() == RunSetup.FlowBy.GROUND_SPEED;
        return people.confirmed(cautions(), sendsSpeed, patience())
                .map(names -> new SweepEvent.Confirmed(names.by(), names.speedBy()));
    }

    private void write(SweepEvent.Confirmed event) throws IOException {
        file.append(SweepText.confirmed(event, cautions()));
        sweep = sweep.with(event);
    }

    private List<String> cautions() {
        PlanForecast forecast = sweep.forecast();
        return Cautions.ofSweep(
                forecast.setup(),
                forecast.plan().granular(),
                bay.ports().operator().ownChecklist());
    }

    /** Nobody is asked to confirm anything while a contact is active that lets nothing begin. */
    private boolean cleared() {
        bay.held()
                .ifPresent(contact ->
                        err.println(
                                "Contact "
                                        + contact.key()
                                        + " is still active; the checklist is asked for as soon as"
                                        + " it is not."));
        return people.cleared(patience());
    }

    private long presenceLeftNanos() {
        return people.presenceLeftNanos(sweep.forecast().plan().alone().presenceNanos());
    }

    /**
     * Whoever would be reminded as soon as a catch has begun is asked before it, while nothing
     * moves; if nobody comes, somebody must look and confirm the checklist again.
     */
    private boolean present() throws IOException {
        if (people.present(Part.Presence.whole(sweep.forecast().plan().alone().presenceNanos()))) {
            return true;
        }
        if (!people.unanswered().equals(Optional.of(BetweenRuns.NOBODY))) {
            return false;
        }
        err.println(
                "Nobody has shown to be there. Nothing moves before somebody has looked and"
                        + " confirms the checklist again.");
        return confirmed();
    }

    private long patience() {
        return sweep.forecast().setup().plan().answerNanosMax();
    }

    private boolean done(SweepTask task) {
        return people.done(task, patience());
    }
}

package catchbay.app;

import catchbay.plan.SweepSetup;
import catchbay.port.PortException;
import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.record.SelfTestText;
import catchbay.run.CatchResult;
import catchbay.run.Interlock;
import catchbay.run.Outcome;
import catchbay.run.Part;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;
import catchbay.run.SweepTask;
import catchbay.store.JournalFile;
import catchbay.store.StoreException;

import java.io.IOException;
import java.io.PrintStream;
import java.util.List;
import java.util.Optional;

/**
 * The catches of one test of a bay: confirmed once by a person, each a run of its own that begins
 * and ends in the safe state, with the tank emptied where the test wants it. Used once.
 */
final class TestCatches {

    /** What ended a test before its end, as a sentence. */
    static final class Ended extends Exception {
        private static final long serialVersionUID = 1;

        Ended(String reason) {
            super(reason);
        }
    }

    /**
     * How often an attendant shows to be there where no hand is needed; as a sweep's own usual.
     * Common practice, no source.
     */
    private static final long PRESENCE_NANOS = 900_000_000_000L;

    /** Longer than any test of a bay. */
    private static final long NANOS_MAX = 8 * 3600 * 1_000_000_000L;

    private final OpenBay bay;
    private final StopSignal stop;
    private final PrintStream err;
    private final JournalFile file;
    private final String test;
    private final TestFlow flow;
    private final BetweenRuns people;
    private final long deadline;
    private Optional<BetweenRuns.Confirmed> confirmed = Optional.empty();
    private int runs;
    private int voids;
    private Volume inTank = Volume.ZERO;
    private Optional<Mass> left = Optional.empty();
    private boolean known = true;

    /**
     * @param test its name
     * @param file takes each run as it ends
     * @param err where a person is told
     */
    TestCatches(
            OpenBay bay,
            StopSignal stop,
            PrintStream err,
            JournalFile file,
            String test,
            TestFlow flow) {
        this.bay = bay;
        this.stop = stop;
        this.err = err;
        this.file = file;
        this.test = test;
        this.flow = flow;
        this.people = new BetweenRuns(bay, stop);
        this.deadline = bay.time().monotonicNanos() + NANOS_MAX;
    }

    /** Has a person confirm these cautions, and keeps them; nothing moves before. */
    void confirm(List<String> cautions, RunSetup setup) throws Ended, IOException {
        confirm(cautions, false, setup);
    }

    private void confirm(List<String> cautions, boolean sendsSpeed, RunSetup setup)
            throws Ended, IOException {
        confirmed = people.confirmed(cautions, sendsSpeed, setup.plan().answerNanosMax());
        BetweenRuns.Confirmed names = confirmed.orElseThrow(this::unanswered);
        file.append(SelfTestText.confirmed(names.by(), names.speedBy(), cautions));
    }

    private Ended unanswered() {
        return new Ended("Not gone on with: " + people.unanswered().orElseThrow() + ".");
    }

    /** The bay's ports, ended from outside as the test is. */
    RunLoop.Ports ports() {
        return bay.ports().endedBy(stop);
    }

    /** Has a person confirm the checklist, and the flow be set; nothing moves before. */
    void confirm(RunSetup setup) throws Ended, IOException {
        boolean sendsSpeed = setup.plan().flowBy() == RunSetup.FlowBy.GROUND_SPEED;
        confirm(flow.cautions(setup, bay.ports().operator().ownChecklist()), sendsSpeed, setup);
        if (!sendsSpeed) {
            set(setup);
        }
    }

    /** Who has confirmed the checklist. */
    Optional<String> confirmedBy() {
        return confirmed.map(BetweenRuns.Confirmed::by);
    }

    private void set(RunSetup setup) throws Ended {
        SweepTask task =
                flow.truck().isPresent()
                        ? new SweepTask.SetPoint(
                                SetupCheck.askedFlow(setup.asked()), setup.asked().speed())
                        : new SweepTask.SetSupply(SetupCheck.askedFlow(setup.asked()));
        asked(task, setup);
    }

    /** Has a person do something between runs. */
    void asked(SweepTask task, RunSetup setup) throws Ended {
        if (!people.done(task, setup.plan().answerNanosMax())) {
            throw unanswered();
        }
    }

    /**
     * Catches once, and again where a catch is void for a reason that nobody need look into.
     *
     * @param as what it is caught as, in words
     * @param setup without its place in the test
     * @param emptied whether it must begin with an empty tank
     */
    CatchResult caught(String as, RunSetup setup, boolean emptied)
            throws Ended, PortException, StoreException, IOException {
        while (true) {
            Outcome outcome = once(as, setup, emptied || !known);
            if (outcome instanceof Outcome.Measured(CatchResult result)) {
                return result;
            }
            boolean again =
                    outcome instanceof Outcome.Void(Outcome.Cause cause, String _)
                            && cause != Outcome.Cause.NO_ANSWER
                            && Interlock.of(cause).filter(Interlock::acknowledged).isEmpty();
            voids++;
            if (!again || voids > setup.repeats().voidsMax()) {
                throw new Ended(outcome.reason());
            }
            err.println(outcome.reason() + " It is made again.");
        }
    }

    private Outcome once(String as, RunSetup setup, boolean emptied)
            throws Ended, PortException, StoreException, IOException {
        long emptyNanos = emptied && inTank.litres() > 0 ? setup.plan().drainNanos() : 0;
        if (emptied && inTank.litres() > 0) {
            if (emptyNanos == 0) {
                asked(new SweepTask.EmptyTank(), setup);
                inTank = Volume.ZERO;
            }
            left = Optional.empty();
        }
        if (SweepSetup.handless(setup) && !people.present(Part.Presence.whole(PRESENCE_NANOS))) {
            throw unanswered();
        }
        runs++;
        RunSetup placed = placed(setup, emptyNanos);
        String run = bay.freeName(placed);
        err.println("Run " + runs + " of the test: " + as + ".");
        Outcome outcome = bay.caught(run, placed, stop).outcome();
        people.ran();
        file.append(SelfTestText.ran(run, as, outcome));
        inTank = emptyNanos > 0 ? Volume.ZERO : inTank;
        taken(setup, outcome);
        return outcome;
    }

    /** What is in the tank after a run; of one that was not measured that is not known. */
    private void taken(RunSetup setup, Outcome outcome) {
        known = outcome instanceof Outcome.Measured;
        Volume more = SetupCheck.askedFlow(setup.asked()).during(setup.plan().catchNanos());
        if (outcome instanceof Outcome.Measured(CatchResult result)) {
            more = result.comparison().measured().volume();
            left = result.grossReading();
        } else {
            left = Optional.empty();
        }
        inTank = new Volume(inTank.litres() + more.litres());
    }

    private RunSetup placed(RunSetup setup, long emptyNanos) {
        long now = bay.time().monotonicNanos();
        long due = Math.clamp(people.presenceLeftNanos(PRESENCE_NANOS), 0, PRESENCE_NANOS);
        RunSetup.Plan plan = setup.plan();
        return setup.with(
                        setup.asked(),
                        plan.lasting(plan.purgeNanos(), plan.catchNanos(), plan.dripNanos(), 0),
                        setup.judgement())
                .with(setup.watched().within(Math.max(1, deadline - now)))
                .as(
                        new Part(
                                test,
                                runs,
                                confirmed.orElseThrow().by(),
                                confirmed.orElseThrow().speedBy(),
                                SweepSetup.handless(setup)
                                        ? Optional.of(new Part.Presence(PRESENCE_NANOS, due))
                                        : Optional.empty(),
                                emptyNanos,
                                setup.carried(),
                                inTank,
                                emptyNanos > 0 ? Optional.empty() : left));
    }
}

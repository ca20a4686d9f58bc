package catchbay.sim.campaign;

import catchbay.plan.Sweep;
import catchbay.plan.SweepEvent;
import catchbay.plan.SweepResult;
import catchbay.plan.SweepSetup;
import catchbay.quantity.Volume;
import catchbay.run.Ledger;
import catchbay.run.Outcome;
import catchbay.run.Part;
import catchbay.run.RunSetup;
import catchbay.run.Series;
import catchbay.run.SweepTask;
import catchbay.sim.BayDay;
import catchbay.sim.CatchRun;
import catchbay.sim.Fault;
import catchbay.sim.World;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A sweep played from its first catch to its last, one after the other in one world: what comes
 * next {@link Sweep} says, as it does in a bay.
 *
 * @param catches all of them, in order
 * @param result what it came to
 * @param complaints what must not be, whatever went wrong; each as a sentence
 * @param struck what truly went wrong, and when
 * @param overflowed whether the catch tank has run over
 */
record PlayedSweep(
        List<Caught> catches,
        SweepResult result,
        List<String> complaints,
        List<World.Struck> struck,
        boolean overflowed) {

    /**
     * One catch of it, without the world, which has gone on since.
     *
     * @param leg of which leg
     * @param setup what was known before
     * @param outcome how it ended
     * @param endedNanos when
     * @param truth the litres that truly left the truck in its window; 0 where it has no result
     * @param counted what the truck's controller truly counted of them
     * @param untouched the faults that began and did nothing to its window
     * @param trace what it has written
     */
    record Caught(
            int leg,
            RunSetup setup,
            Outcome outcome,
            long endedNanos,
            Volume truth,
            Volume counted,
            List<Fault> untouched,
            byte[] trace) {

        static Caught of(int leg, CatchRun run) {
            boolean measured = run.outcome() instanceof Outcome.Measured;
            return new Caught(
                    leg,
                    run.scenario().setup(),
                    run.outcome(),
                    run.endedNanos(),
                    measured ? run.truth() : Volume.ZERO,
                    measured ? run.counted() : Volume.ZERO,
                    measured ? withoutEffect(run) : List.of(),
                    run.trace());
        }
    }

    private static List<Fault> withoutEffect(CatchRun run) {
        return run.scenario().options().faults().stream()
                .filter(fault -> !run.touchedBy(fault))
                .toList();
    }

    /** Between two catches people look after the truck for so long. */
    private static final long REST_NANOS = 5_000_000_000L;

    /** Whoever is asked between two catches has answered by then. */
    private static final long ANSWER_NANOS = 10_000_000_000L;

    /** By then nothing may flow any more, whatever went wrong. */
    private static final long FLOW_NANOS_MAX = 40_000_000_000L;

    /** No sweep takes more steps than so many times those of its plan. */
    private static final int STEPS = 4;

    static final String PERSON = "stand-in operator";

    /** Plays it, with what goes wrong in it or without. */
    static PlayedSweep of(DrawnSweep drawn, boolean faulty) {
        return new Play(drawn, faulty).played();
    }

    /** The sweep under way. */
    private static final class Play {

        private final DrawnSweep drawn;
        private final boolean faulty;
        private final BayDay day;
        private final List<Caught> catches = new ArrayList<>();
        private final List<String> complaints = new ArrayList<>();
        private Sweep sweep;
        private long presentNanos;

        Play(DrawnSweep drawn, boolean faulty) {
            this.drawn = drawn;
            this.faulty = faulty;
            this.day = new BayDay(drawn.usual().with(struckNow()));
            this.sweep = drawn.planned();
        }

        PlayedSweep played() {
            confirm();
            int most = STEPS * drawn.catches();
            Optional<String> end = Optional.empty();
            for (int step = 0; end.isEmpty(); step++) {
                if (step > most) {
                    complaints.add("it never ends: " + sweep.next());
                    break;
                }
                end = done(sweep.next());
            }
            if (day.world().overflowed()) {
                complaints.add("the tank has run over");
            }
            return new PlayedSweep(
                    List.copyOf(catches),
                    SweepResult.of("campaign", true, sweep, end.orElse(""), false),
                    List.copyOf(complaints),
                    day.world().struck(),
                    day.world().overflowed());
        }

        /** Does what comes next; answers why nothing does. */
        private Optional<String> done(Sweep.Next next) {
            switch (next) {
                case Sweep.Next.Catch one -> caught(one);
                case Sweep.Next.Acknowledge _ -> {
                    // Whoever looks after the bay empties the tank, however full it is.
                    day.drain(2 * DrawnSweep.EMPTY_NANOS);
                    confirm();
                }
                case Sweep.Next.Empty empty ->
                        throw new AssertionError("every bay of the campaign has a drain: " + empty);
                case Sweep.Next.Refill refill ->
                        throw new AssertionError("no plan of the campaign refills: " + refill);
                case Sweep.Next.EnterConstant enter -> {
                    day.ask(new SweepTask.EnterConstant(enter.constant(), enter.note()));
                    day.pass(ANSWER_NANOS);
                    sweep = sweep.with(new SweepEvent.ConstantEntered(PERSON, enter.constant()));
                }
                case Sweep.Next.Over(String reason) -> {
                    return Optional.of(reason);
                }
            }
            return Optional.empty();
        }

        private void confirm() {
            presentNanos = day.nowNanos();
            sweep = sweep.with(new SweepEvent.Confirmed(PERSON, Optional.of(PERSON)));
        }

        /** What goes wrong in the catch that comes next. */
        private List<Fault> struckNow() {
            return faulty && catches.size() == drawn.struck() ? drawn.faults() : List.of();
        }

        private long presenceLeftNanos() {
            return presentNanos + drawn.forecast().plan().alone().presenceNanos() - day.nowNanos();
        }

        private void caught(Sweep.Next.Catch next) {
            RunSetup today = drawn.usual().setup();
            long interval = drawn.forecast().plan().alone().presenceNanos();
            if (SweepSetup.handless(today)
                    && Part.Presence.whole(interval).reminds(presenceLeftNanos())) {
                day.pass(ANSWER_NANOS);
                presentNanos = day.nowNanos();
            }
            RunSetup setup =
                    SweepSetup.of(
                            sweep,
                            "campaign",
                            next,
                            today,
                            presenceLeftNanos(),
                            RunSetup.DURATION_NANOS_MAX);
            List<Fault> wrong = struckNow();
            int number = catches.size() + 1;
            CatchRun run = day.play(setup, wrong);
            catches.add(Caught.of(next.leg().number(), run));
            presentNanos = run.presentNanos() == Ledger.NONE ? presentNanos : run.presentNanos();
            if (!day.world().outputsSafe()) {
                complaints.add("catch " + number + ": outputs are not at their safe levels");
            }
            day.pass(REST_NANOS);
            if (!wrong.isEmpty()) {
                day.world().cure();
            }
            rest(number);
            sweep =
                    sweep.with(
                            new SweepEvent.Caught(
                                    next.leg().number(),
                                    next.emptyNanos() > 0,
                                    new Series.Run("catch " + number, setup.day(), run.outcome()),
                                    Optional.of(setup)));
            if (run.outcome() instanceof Outcome.Interrupted) {
                // The program begins anew, and what stood in its file it reads again.
                sweep = sweep.with(new SweepEvent.Resumed());
                confirm();
            }
        }

        private void rest(int number) {
            day.pass(REST_NANOS);
            for (long waited = REST_NANOS; day.world().flows(); waited += REST_NANOS) {
                if (waited >= FLOW_NANOS_MAX) {
                    complaints.add("catch " + number + ": liquid still flows long after its end");
                    return;
                }
                day.pass(REST_NANOS);
            }
        }
    }
}

package catchbay.sim.campaign;

import catchbay.quantity.Volume;
import catchbay.run.Outcome;
import catchbay.run.Part;
import catchbay.run.RunSetup;
import catchbay.sim.BayDay;
import catchbay.sim.CatchRun;
import catchbay.sim.Fault;
import catchbay.sim.World;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A sweep played from its first catch to its last, one after the other in one world.
 *
 * @param legs its catches
 * @param complaints what must not be, whatever went wrong; each as a sentence
 * @param struck what truly went wrong, and when
 * @param overflowed whether the catch tank has run over
 */
record PlayedSweep(
        List<Leg> legs, List<String> complaints, List<World.Struck> struck, boolean overflowed) {

    /**
     * One catch of it, without the world, which has gone on since.
     *
     * @param setup what was known before
     * @param outcome how it ended
     * @param endedNanos when
     * @param truth the litres that truly left the truck in its window; 0 where it has no result
     * @param counted what the truck's controller truly counted of them
     * @param trace what it has written
     */
    record Leg(
            RunSetup setup,
            Outcome outcome,
            long endedNanos,
            Volume truth,
            Volume counted,
            byte[] trace) {

        static Leg of(CatchRun run) {
            boolean measured = run.outcome() instanceof Outcome.Measured;
            return new Leg(
                    run.scenario().setup(),
                    run.outcome(),
                    run.endedNanos(),
                    measured ? run.truth() : Volume.ZERO,
                    measured ? run.counted() : Volume.ZERO,
                    run.trace());
        }
    }

    /** Between two catches people look after the truck for so long. */
    private static final long REST_NANOS = 5_000_000_000L;

    /** Whoever looks after a catch without a result empties the tank, however full it is. */
    private static final long DRAIN_NANOS = 20_000_000_000L;

    /** By then nothing may flow any more, whatever went wrong. */
    private static final long FLOW_NANOS_MAX = 40_000_000_000L;

    /** Plays it, with what goes wrong in it or without. */
    static PlayedSweep of(DrawnSweep drawn, boolean faulty) {
        List<Leg> legs = new ArrayList<>();
        List<String> complaints = new ArrayList<>();
        List<Fault> first = faulty && drawn.struck() == 0 ? drawn.faults() : List.of();
        BayDay day = new BayDay(drawn.usual().with(first));
        Volume inTank = Volume.ZERO;
        for (int i = 0; i < drawn.legs().size(); i++) {
            boolean struck = faulty && i == drawn.struck();
            RunSetup setup = holding(drawn.legs().get(i), inTank);
            CatchRun run = day.play(setup, struck ? drawn.faults() : List.of());
            legs.add(Leg.of(run));
            if (!day.world().outputsSafe()) {
                complaints.add("leg " + (i + 1) + ": outputs are not at their safe levels");
            }
            inTank =
                    setup.plan().drainNanos() == 0
                                    && run.outcome() instanceof Outcome.Measured(var result)
                            ? result.comparison().measured().volume()
                            : Volume.ZERO;
            day.pass(REST_NANOS);
            if (struck) {
                day.world().cure();
            }
            rest(day, i, complaints);
            if (!(run.outcome() instanceof Outcome.Measured)) {
                day.drain(DRAIN_NANOS);
            }
        }
        if (day.world().overflowed()) {
            complaints.add("the tank has run over");
        }
        return new PlayedSweep(
                List.copyOf(legs),
                List.copyOf(complaints),
                day.world().struck(),
                day.world().overflowed());
    }

    /** What the catch before has left in the tank, where it was measured and not drained. */
    private static RunSetup holding(RunSetup setup, Volume inTank) {
        Part part = setup.part().orElseThrow();
        return setup.as(
                new Part(
                        part.sweep(),
                        part.leg(),
                        part.confirmedBy(),
                        part.speedConfirmedBy(),
                        part.presence(),
                        part.emptyNanos(),
                        part.room(),
                        inTank,
                        Optional.empty()));
    }

    private static void rest(BayDay day, int leg, List<String> complaints) {
        day.pass(REST_NANOS);
        for (long waited = REST_NANOS; day.world().flows(); waited += REST_NANOS) {
            if (waited >= FLOW_NANOS_MAX) {
                complaints.add("leg " + (leg + 1) + ": liquid still flows long after its end");
                return;
            }
            day.pass(REST_NANOS);
        }
    }
}

package catchbay.plan;

import catchbay.quantity.Volume;
import catchbay.run.Part;
import catchbay.run.Repeats;
import catchbay.run.RunSetup;
import catchbay.run.Session;

import java.util.Optional;

/** The setup of each catch of a sweep. */
public final class SweepSetup {

    private SweepSetup() {}

    /** Whether no catch needs a hand: flow and report come by themselves. */
    public static boolean handless(RunSetup setup) {
        boolean salt =
                setup.asked().application() instanceof RunSetup.Application.PreWet preWet
                        && preWet.saltReported();
        return setup.plan().flowBy() != RunSetup.FlowBy.OPERATOR
                && !(setup.reported() instanceof RunSetup.Reported.Display)
                && !salt;
    }

    /** Whether somebody must set the flow of a point by hand, since no speed is sent. */
    public static boolean setByHand(RunSetup setup) {
        return setup.plan().flowBy() != RunSetup.FlowBy.GROUND_SPEED;
    }

    /** The setup of a catch at a point, whatever the sweep has come to. */
    public static RunSetup at(PointForecast point, TestPlan plan, RunSetup today) {
        PointForecast.CatchTime time = point.time();
        RunSetup planned = Planner.planned(plan, today);
        RunSetup.Plan course =
                today.plan().lasting(time.purgeNanos(), time.catchNanos(), time.dripNanos(), 0);
        return planned.with(planned.asked().at(point.speed()), course, planned.judgement());
    }

    /**
     * The setup of a catch of a leg, but for its place in the sweep: with the constant it has then.
     */
    public static RunSetup of(Sweep sweep, Leg leg, RunSetup today) {
        RunSetup setup = at(leg.point(), sweep.forecast().plan(), today);
        return leg.verifying()
                ? setup.with(setup.truck().with(sweep.entered().orElseThrow()))
                : setup;
    }

    /**
     * The setup of a catch.
     *
     * @param sweep all of it, somebody of which has confirmed the checklist
     * @param name the sweep's name
     * @param today the bay and the truck as they are today, by the settings
     * @param presenceLeftNanos how much of the attendant's interval is left
     * @param leftNanos how much of the sweep's time is left, > 0
     */
    public static RunSetup of(
            Sweep sweep,
            String name,
            Sweep.Next.Catch next,
            RunSetup today,
            long presenceLeftNanos,
            long leftNanos) {
        boolean entered = next.leg().verifying();
        Session session =
                new Session(
                        today.session().by(),
                        entered ? Session.Stage.AS_LEFT : today.session().stage(),
                        today.session().override(),
                        today.session().overdue());
        RunSetup setup =
                of(sweep, next.leg(), today).with(session).with(today.watched().within(leftNanos));
        Repeats repeats = sweep.repeats();
        return setup.with(
                        new Repeats(
                                repeats.plan(),
                                repeats.voidsMax(),
                                Optional.of(
                                        new Repeats.Place(
                                                name + "-" + next.leg().number(), next.number()))))
                .as(part(sweep, name, next, today, presenceLeftNanos));
    }

    private static Part part(
            Sweep sweep,
            String name,
            Sweep.Next.Catch next,
            RunSetup today,
            long presenceLeftNanos) {
        long interval = sweep.forecast().plan().alone().presenceNanos();
        Optional<Volume> room = sweep.forecast().tankRoom();
        return new Part(
                name,
                next.leg().number(),
                sweep.confirmedBy().orElseThrow(),
                sweep.speedConfirmedBy(),
                handless(today)
                        ? Optional.of(
                                new Part.Presence(
                                        interval, Math.clamp(presenceLeftNanos, 0, interval)))
                        : Optional.empty(),
                next.emptyNanos(),
                room,
                next.inTank(),
                next.left());
    }
}

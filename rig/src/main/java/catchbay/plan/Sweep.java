package catchbay.plan;

import catchbay.metrology.FlowMix;
import catchbay.metrology.TruckConstant;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.run.CatchResult;
import catchbay.run.Interlock;
import catchbay.run.Outcome;
import catchbay.run.Repeats;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A sweep across the flow range as far as it has come: what comes next is a function of its plan
 * and of what has happened. A program that begins anew reads what has happened again and goes on
 * where it was, at the next whole catch.
 *
 * @param forecast what was planned, and judged before anything moved
 * @param mix the shop's work, for which one constant is to be best
 * @param follow control error up to which a controller follows what it is asked
 * @param events what has happened
 */
public record Sweep(PlanForecast forecast, FlowMix mix, Ratio follow, List<SweepEvent> events) {

    /** What comes next. */
    public sealed interface Next {

        /**
         * A catch.
         *
         * @param leg of which leg
         * @param number which catch of that leg, from 1; void ones are counted too
         * @param emptyNanos how long the drain is to stay open before it; 0 = not at all
         * @param inTank what is in the tank before that, where it is known
         * @param left what the scale showed at the end of the catch before, where it stays so
         */
        record Catch(Leg leg, int number, long emptyNanos, Volume inTank, Optional<Mass> left)
                implements Next {

            /** How long it takes as it is planned, ns; emptying the tank first, too. */
            public long nanos() {
                PointForecast.CatchTime time = leg.point().time();
                return time.nanos() + (emptyNanos > 0 ? emptyNanos + time.dripNanos() : 0);
            }
        }

        /** An interlock has acted: a person must look, and confirm the checklist again. */
        record Acknowledge() implements Next {}

        /** The catch tank must be emptied by hand before the next catch. */
        record Empty() implements Next {}

        /** The truck must be filled up before the next catch. */
        record Refill(Volume volume) implements Next {}

        /** The new constant must be entered before its verification. */
        record EnterConstant(TruckConstant constant, String note) implements Next {}

        /** All is done, or cannot be done. */
        record Over(String reason) implements Next {}
    }

    public Sweep {
        events = List.copyOf(events);
    }

    /** Before its first catch. */
    public static Sweep planned(PlanForecast forecast, FlowMix mix, Ratio follow) {
        return new Sweep(forecast, mix, follow, List.of());
    }

    /** After one more event. */
    public Sweep with(SweepEvent event) {
        List<SweepEvent> more = new ArrayList<>(events);
        more.add(event);
        return new Sweep(forecast, mix, follow, more);
    }

    /** All legs, those of the verification last. */
    public List<Leg> legs() {
        List<Leg> legs = new ArrayList<>();
        for (int visit : forecast.visits()) {
            legs.add(new Leg(legs.size() + 1, forecast.points().get(visit), false));
        }
        for (PointForecast point : forecast.verification()) {
            legs.add(new Leg(legs.size() + 1, point, true));
        }
        return legs;
    }

    /** How far a leg has come. */
    public LegProgress progress(Leg leg) {
        return LegProgress.of(leg, repeats(), forecast.plan().verification().repeats(), events);
    }

    /** How often a point is repeated. */
    public Repeats repeats() {
        Repeats ofBay = forecast.setup().repeats();
        return new Repeats(
                forecast.plan().repeats().orElse(ofBay.plan()), ofBay.voidsMax(), Optional.empty());
    }

    /** How many catches have given a result that counts. */
    public long counted() {
        return legs().stream().mapToLong(leg -> progress(leg).series().counted().size()).sum();
    }

    /** How often it was gone on with after an interruption. */
    public long resumptions() {
        return events.stream().filter(SweepEvent.Resumed.class::isInstance).count();
    }

    /** Who has confirmed the checklist, each time that it was, in that order. */
    public List<SweepEvent.Confirmed> confirmations() {
        return events.stream()
                .filter(SweepEvent.Confirmed.class::isInstance)
                .map(SweepEvent.Confirmed.class::cast)
                .toList();
    }

    /** Who has last confirmed the checklist; empty before anybody has. */
    public Optional<String> confirmedBy() {
        return last(SweepEvent.Confirmed.class).map(SweepEvent.Confirmed::by);
    }

    /** Who has last confirmed that speed may be sent; empty where none is. */
    public Optional<String> speedConfirmedBy() {
        return last(SweepEvent.Confirmed.class).flatMap(SweepEvent.Confirmed::speedBy);
    }

    /** The new constant, once it was entered. */
    public Optional<TruckConstant> entered() {
        return last(SweepEvent.ConstantEntered.class).map(SweepEvent.ConstantEntered::constant);
    }

    private <E extends SweepEvent> Optional<E> last(Class<E> kind) {
        for (SweepEvent event : events.reversed()) {
            if (kind.isInstance(event)) {
                return Optional.of(kind.cast(event));
            }
        }
        return Optional.empty();
    }

    /**
     * What is left of it.
     *
     * @param catches as many as are expected
     * @param nanos how long they take, about, ns: draining, filling up and setting the truck in
     *     proportion, and the new constant where one may be entered; nothing of waiting for people
     * @param drawn from the truck
     */
    public record Left(long catches, long nanos, Volume drawn) {}

    /** What is left of it. */
    public Left left() {
        long catches = 0;
        long nanos = 0;
        double litres = 0;
        boolean enters =
                entered().isEmpty() && !forecast.verification().isEmpty() && pointsLeft() == 0;
        for (Leg leg : legs()) {
            LegProgress progress = progress(leg);
            boolean ahead = !leg.verifying() || enters || entered().isPresent();
            if (ahead && !progress.over()) {
                int more = Math.max(1, leg.point().repeats() - progress.series().counted().size());
                catches += more;
                nanos += more * leg.point().time().nanos();
                litres += more * leg.point().drawn().litres();
            }
        }
        long between = 0;
        for (Step step : forecast.steps()) {
            between +=
                    switch (step) {
                        case Step.Drained drained -> drained.nanos();
                        case Step.Refilled refilled -> refilled.nanos();
                        case Step.PointSet set -> set.nanos();
                        case Step.OutletSet set -> set.nanos();
                        case Step.Caught _, Step.ConstantEntered _ -> 0;
                    };
        }
        return new Left(
                catches,
                nanos
                        + between * catches / Math.max(1, forecast.catches())
                        + (enters ? forecast.plan().times().adjustNanos() : 0),
                new Volume(litres));
    }

    /** What comes next. */
    public Next next() {
        Next ahead = ahead();
        // Where nothing is to move any more, nobody need come and confirm it.
        return halted().filter(
                        halt -> !(halt instanceof Next.Acknowledge && ahead instanceof Next.Over))
                .orElse(ahead);
    }

    /** What would come next if nobody had to look first. */
    private Next ahead() {
        int skipped = 0;
        for (Leg leg : legs()) {
            if (leg.verifying() && entered().isEmpty()) {
                return constant();
            }
            LegProgress progress = progress(leg);
            if (!progress.over()) {
                return made(leg, progress.runs().size() + 1);
            }
            skipped += progress.skipped().isPresent() ? 1 : 0;
            if (skipped >= forecast.plan().alone().skippedMost()) {
                return new Next.Over(
                        skipped
                                + (skipped == 1 ? " point" : " points")
                                + " could not be caught, as many as the plan allows"
                                + " (alone.skipped_most); the last one was "
                                + leg.words()
                                + ".");
            }
        }
        return entered().isPresent() ? done(skipped) : constant();
    }

    private static Next done(int skipped) {
        return new Next.Over(
                skipped == 0
                        ? "Every point of the plan and of its verification is done."
                        : skipped
                                + (skipped == 1 ? " point was" : " points were")
                                + " left; every other point of the plan and of its verification is"
                                + " done.");
    }

    /** Whether nothing moves after such a catch before somebody has looked. */
    public static boolean halts(Outcome.Void ended) {
        return Interlock.of(ended.cause()).filter(Interlock::acknowledged).isPresent()
                || ended.cause() == Outcome.Cause.NO_ANSWER;
    }

    /** After a person's stop it is over for now; after an interlock a person must look. */
    private Optional<Next> halted() {
        if (events.isEmpty() || !(events.getLast() instanceof SweepEvent.Caught caught)) {
            return Optional.empty();
        }
        return switch (caught.run().outcome()) {
            case Outcome.Stopped stopped -> Optional.of(new Next.Over(stopped.reason()));
            case Outcome.Refused refused -> Optional.of(new Next.Over(refused.reason()));
            case Outcome.Void v ->
                    halts(v) ? Optional.of(new Next.Acknowledge()) : Optional.empty();
            case Outcome.Measured _ -> Optional.empty();
            case Outcome.Interrupted _ -> Optional.empty();
        };
    }

    /** How many points as found could not be caught. */
    long pointsLeft() {
        return legs().stream()
                .filter(leg -> !leg.verifying() && progress(leg).skipped().isPresent())
                .count();
    }

    /** After the points as found: the new constant, or the end where none is to be entered. */
    private Next constant() {
        SweepAdvice advice = SweepAdvice.after(this);
        return switch (advice) {
            case SweepAdvice.Keep(String reason) -> new Next.Over(reason);
            case SweepAdvice.Enter(TruckConstant constant, String note) -> {
                long left = pointsLeft();
                if (left > 0) {
                    yield new Next.Over(
                            left
                                    + (left == 1 ? " point was" : " points were")
                                    + " left, and a new constant is not entered from what the"
                                    + " others gave, so nothing is verified: put right why, then"
                                    + " begin a new sweep.");
                }
                yield forecast.verification().isEmpty()
                        ? new Next.Over(withoutVerification(constant))
                        : new Next.EnterConstant(constant, note);
            }
        };
    }

    /** That a new constant is not entered where nothing would verify it, as sentences. */
    static String withoutVerification(TruckConstant constant) {
        return "The new constant of "
                + constant.written(constant.value())
                + " was not entered, since the plan has no verification of it"
                + " (verification.points): the truck leaves with the constant as found, and this"
                + " sweep does not pass it.";
    }

    /** The next catch of a leg, or what must happen before it. */
    private Next made(Leg leg, int number) {
        Stock stock = Stock.after(this);
        PointForecast point = leg.point();
        TestPlan.Liquid liquid = forecast.plan().liquid();
        double needed = point.drawn().litres() * stock.given() + liquid.reserve().litres();
        if (liquid.onTruck().filter(full -> full.litres() < needed).isPresent()) {
            return new Next.Over(
                    "A full truck has not enough for the next catch, at "
                            + leg.words()
                            + ": it has given up to "
                            + Figures.number(stock.given())
                            + " times what was asked; see to that first, or plan shorter catches.");
        }
        if (liquid.onTruck().isPresent() && stock.onTruckLitres() < needed) {
            return liquid.refill()
                    ? new Next.Refill(
                            new Volume(liquid.onTruck().get().litres() - stock.onTruckLitres()))
                    : new Next.Over(
                            "The truck has not enough left for the next catch, and liquid.refill is"
                                    + " false.");
        }
        boolean each = forecast.plan().tank().drainedEach();
        boolean full =
                !stock.tankKnown()
                        || each && stock.inTankLitres() > 0
                        || forecast.tankRoom()
                                .filter(room ->
                                        point.overfills(stock.inTankLitres(), room, stock.given()))
                                .isPresent();
        if (full && forecast.emptiedByHand()) {
            return new Next.Empty();
        }
        long drain = forecast.plan().drainNanos(forecast.setup());
        boolean empties = full && drain > 0;
        return new Next.Catch(
                leg,
                number,
                empties ? drain : 0,
                new Volume(stock.inTankLitres()),
                empties ? Optional.empty() : stock.left());
    }

    /**
     * What truck and tank hold after all that has happened.
     *
     * @param tankKnown whether what is in the tank is known
     * @param given what the truck has given at most of what was planned for a catch, 1 or more
     * @param left what the scale showed at the end of the last catch, where that is known
     */
    private record Stock(
            double onTruckLitres,
            double inTankLitres,
            boolean tankKnown,
            double given,
            Optional<Mass> left) {

        static Stock after(Sweep sweep) {
            TestPlan.Liquid liquid = sweep.forecast.plan().liquid();
            double full = liquid.onTruck().map(Volume::litres).orElse(Double.POSITIVE_INFINITY);
            double back = liquid.recirculated().value();
            List<Leg> legs = sweep.legs();
            Stock stock = new Stock(full, 0, false, 1, Optional.empty());
            for (SweepEvent event : sweep.events) {
                stock =
                        switch (event) {
                            case SweepEvent.Caught caught ->
                                    stock.after(caught, legs.get(caught.leg() - 1).point(), back);
                            case SweepEvent.Refilled _ ->
                                    new Stock(
                                            full,
                                            stock.inTankLitres,
                                            stock.tankKnown,
                                            stock.given,
                                            stock.left);
                            case SweepEvent.Emptied _ -> stock.emptied();
                            case SweepEvent.Resumed _ -> stock.unsure();
                            case SweepEvent.Confirmed _ -> stock;
                            case SweepEvent.ConstantEntered _ -> stock;
                        };
            }
            return stock;
        }

        private Stock emptied() {
            return new Stock(onTruckLitres, 0, true, given, Optional.empty());
        }

        private Stock unsure() {
            return new Stock(onTruckLitres, 0, false, given, Optional.empty());
        }

        /**
         * A truck that gives more than it is asked draws more, before and after the catch as well.
         * A catch that came to nothing has drawn as much as any, and left nobody knows how much.
         */
        private Stock after(SweepEvent.Caught caught, PointForecast point, double back) {
            double planned = point.drawn().litres() * (1 - back);
            Optional<CatchResult> result = caught.run().result();
            if (result.isEmpty()) {
                return new Stock(
                        onTruckLitres - planned * given, 0, false, given, Optional.empty());
            }
            double held = caught.emptied() || !tankKnown ? 0 : inTankLitres;
            double measured = result.get().comparison().measured().volume().litres();
            double share = measured / point.caught().litres();
            return new Stock(
                    onTruckLitres - planned * share,
                    held + measured,
                    true,
                    Math.max(given, share),
                    result.get().grossReading());
        }
    }
}

package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Diagnosis;
import catchbay.metrology.FlowMix;
import catchbay.plan.PlanForecast;
import catchbay.plan.Step;
import catchbay.plan.Sweep;
import catchbay.plan.Sweep.Next;
import catchbay.plan.SweepEvent;
import catchbay.plan.SweepResult;
import catchbay.plan.SweepSetup;
import catchbay.plan.Ways;
import catchbay.quantity.Speed;
import catchbay.record.PlanText;
import catchbay.run.ExpectedCatch;
import catchbay.run.Outcome;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup;
import catchbay.run.Series;
import catchbay.run.Session;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What a sweep does next, on catches that go as they should, or as they should not. */
final class SweepTest {

    private static final LocalDate DAY = LocalDate.of(2026, 2, 3);
    static final String PLAN =
            """
            truck = "T-12"
            wanted_percent = 1
            points = [ { speed_mph = 10 }, { speed_mph = 20 } ]
            repeats = { least = 3, most = 4 }
            catch = { seconds = 60 }
            tank = { room_us_gal = 12, drained = "when-full", drain_seconds = 30 }
            liquid = { on_truck_us_gal = 300, refill = true }
            verification.points = [ { speed_mph = 20 }, { speed_mph = 15 } ]
            alone = { skipped_most = 1 }
            """;

    static RunSetup bay() {
        return bay(0);
    }

    /** The example's bay where its supply feeds the truck, so that no speed is sent. */
    static RunSetup supplied() {
        Settings settings = Settings.read(Path.of("../src/examples/full-bay.toml"));
        settings.override("--test", "catch.flow_by", "supply");
        return settings.setup(Optional.of("T-12"), DAY);
    }

    /** The example's bay, its reference a little warmer than the truck. */
    private static RunSetup bay(int hundredthsKelvin) {
        Settings settings = Settings.read(Path.of("../src/examples/full-bay.toml"));
        settings.override("--test", "temperature.truck_meter_celsius", 10.0);
        settings.override(
                "--test", "temperature.reference_celsius", 10.0 + hundredthsKelvin / 100.0);
        return settings.setup(Optional.of("T-12"), DAY);
    }

    static Sweep begun(String plan) {
        return begun(plan, bay());
    }

    static Sweep begun(String plan, RunSetup bay) {
        PlanForecast forecast =
                PlanForecast.of(PlanText.read(TomlFile.of("p.toml", plan).fields()), Ways.of(bay));
        assertEquals(List.of(), forecast.allRefusals());
        return Sweep.planned(forecast, FlowMix.EVEN, Diagnosis.Limits.USUAL.follow())
                .with(new SweepEvent.Confirmed("A. Tester", Optional.of("S. Tester")));
    }

    static RunSetup setup(Sweep sweep, Next.Catch next) {
        return SweepSetup.of(sweep, "sweep", next, bay(), 900_000_000_000L, 3_600_000_000_000L);
    }

    static Sweep ended(Sweep sweep, Next.Catch next, Outcome outcome) {
        int number =
                (int) sweep.events().stream().filter(SweepEvent.Caught.class::isInstance).count();
        return sweep.with(
                new SweepEvent.Caught(
                        next.leg().number(),
                        next.emptyNanos() > 0,
                        new Series.Run("run-" + number, DAY, outcome),
                        Optional.of(setup(sweep, next))));
    }

    /** Each catch goes as it is foreseen, at another temperature than the one before. */
    static Sweep caught(Sweep sweep) {
        Next.Catch next = catching(sweep);
        return ended(sweep, next, ExpectedCatch.of(warmer(sweep, next)));
    }

    static RunSetup warmer(Sweep sweep, Next.Catch next) {
        return SweepSetup.of(
                sweep,
                "sweep",
                next,
                bay(10 * next.number()),
                900_000_000_000L,
                3_600_000_000_000L);
    }

    static Outcome nothing(Cause cause) {
        return new Outcome.Void(cause, "It came to nothing.");
    }

    static Next.Catch catching(Sweep sweep) {
        return assertInstanceOf(Next.Catch.class, sweep.next());
    }

    @Test
    void theTankIsEmptiedFirstAndThenBeforeACatchThatWouldOverflowIt() {
        Sweep sweep = begun(PLAN);
        List<Long> emptied = new ArrayList<>();
        for (int i = 0; i < 5; i++) {
            emptied.add(catching(sweep).emptyNanos() / 1_000_000_000L);
            sweep = caught(sweep);
        }
        // 2.5 gal each at 10 mph; then 5 gal each into what is left of 12.
        assertEquals(List.of(30L, 0L, 0L, 30L, 0L), emptied);
        assertTrue(catching(sweep).left().isPresent() == (catching(sweep).emptyNanos() == 0));
    }

    @Test
    void aVoidCatchLeavesNobodyKnowsHowMuch() {
        Sweep sweep = caught(begun(PLAN));
        assertEquals(0, catching(sweep).emptyNanos());
        sweep = ended(sweep, catching(sweep), nothing(Cause.NOT_SETTLED));
        Next.Catch again = catching(sweep);
        assertEquals(1, again.leg().number());
        assertEquals(3, again.number());
        assertEquals(30_000_000_000L, again.emptyNanos());
        assertEquals(0, again.inTank().litres(), "nothing is expected to run out");
    }

    @Test
    void afterAnInterlockAPersonMustLookFirst() {
        Sweep sweep = begun(PLAN);
        sweep = ended(sweep, catching(sweep), nothing(Cause.SPILL));
        assertInstanceOf(Next.Acknowledge.class, sweep.next());
        sweep = sweep.with(new SweepEvent.Confirmed("B. Tester", Optional.empty()));
        assertEquals(2, catching(sweep).number());
        assertEquals("B. Tester", setup(sweep, catching(sweep)).part().orElseThrow().confirmedBy());
    }

    @Test
    void nobodyMustConfirmThatNothingMovesAnyMore() {
        Sweep sweep = begun(PLAN);
        sweep = ended(sweep, catching(sweep), nothing(Cause.SPILL));
        sweep = sweep.with(new SweepEvent.Confirmed("B. Tester", Optional.empty()));
        sweep = ended(sweep, catching(sweep), nothing(Cause.SPILL));
        assertInstanceOf(Next.Over.class, sweep.next());
    }

    @Test
    void aPointThatCannotBeCaughtIsLeftAndAsManyAsAllowedEndIt() {
        Sweep sweep = begun(PLAN.replace("skipped_most = 1", "skipped_most = 2"));
        sweep = ended(sweep, catching(sweep), nothing(Cause.NOT_SETTLED));
        sweep = ended(sweep, catching(sweep), nothing(Cause.NOT_SETTLED));
        assertEquals(2, catching(sweep).leg().number(), "the rest goes on");
        sweep = ended(sweep, catching(sweep), nothing(Cause.NOT_SETTLED));
        sweep = ended(sweep, catching(sweep), nothing(Cause.NOT_SETTLED));
        Next.Over over = assertInstanceOf(Next.Over.class, sweep.next());
        assertTrue(over.reason().contains("alone.skipped_most"), over.reason());
        assertEquals(
                SweepResult.Closing.UNFINISHED,
                SweepResult.of("s", true, sweep, over.reason(), false).closing());
    }

    /** A valve has emptied it or a person: the next catch would be as large. */
    @ParameterizedTest
    @CsvSource({"30", "0"})
    void aCatchThatOverfillsAnEmptyTankIsNotTriedAgain(int seconds) {
        Sweep sweep =
                begun(
                        PLAN.replace("skipped_most = 1", "skipped_most = 2")
                                .replace("drain_seconds = 30", "drain_seconds = " + seconds));
        sweep = ended(ready(sweep), catching(ready(sweep)), nothing(Cause.OVERFILL));
        assertEquals(
                "1 catch came to nothing; the last one: It came to nothing. The tank was emptied"
                        + " before it, so another catch would end as this one did.",
                sweep.progress(sweep.legs().getFirst()).skipped().orElseThrow());
        sweep = sweep.with(new SweepEvent.Confirmed("A. Tester", Optional.of("S. Tester")));
        assertEquals(2, catching(ready(sweep)).leg().number(), "the rest goes on");
    }

    /** Once it is empty there may be room. */
    @Test
    void aCatchThatOverfillsWhatWasInTheTankIsTriedAgain() {
        Sweep sweep = caught(begun(PLAN));
        assertEquals(0, catching(sweep).emptyNanos());
        sweep = ended(sweep, catching(sweep), nothing(Cause.OVERFILL));
        sweep = sweep.with(new SweepEvent.Confirmed("A. Tester", Optional.of("S. Tester")));
        assertEquals(1, catching(sweep).leg().number());
        assertTrue(catching(sweep).emptyNanos() > 0);
    }

    /** Its tank emptied by hand, where that is what comes next. */
    private static Sweep ready(Sweep sweep) {
        return sweep.next() instanceof Next.Empty
                ? sweep.with(new SweepEvent.Emptied("A. Tester"))
                : sweep;
    }

    @Test
    void ofATruckWithAPointLeftNotAllIsKnown() {
        Sweep sweep = begun(PLAN.replace("skipped_most = 1", "skipped_most = 2"));
        sweep = ended(sweep, catching(sweep), nothing(Cause.OUT_OF_RANGE));
        sweep = ended(sweep, catching(sweep), nothing(Cause.OUT_OF_RANGE));
        while (sweep.next() instanceof Next.Catch) {
            sweep = caught(sweep);
        }
        SweepResult result = SweepResult.of("s", true, sweep, "", false);
        assertEquals(SweepResult.Closing.UNFINISHED, result.closing());
        assertEquals(
                List.of("At 2.5 US gal/min there is no verdict: it was left."), result.reasons());
        String why = result.legs().getFirst().progress().skipped().orElseThrow();
        assertTrue(why.endsWith("(catchbay hunt high)."), why);
    }

    @Test
    void whereAPointIsLeftNoVerificationIsAhead() {
        Sweep sweep = begun(PLAN.replace("skipped_most = 1", "skipped_most = 2"));
        long verified = sweep.forecast().verification().size();
        sweep = ended(sweep, catching(sweep), nothing(Cause.NOT_SETTLED));
        assertEquals(3 + 3 + verified, sweep.left().catches());
        sweep = ended(sweep, catching(sweep), nothing(Cause.NOT_SETTLED));
        assertEquals(3, sweep.left().catches());
        assertTrue(sweep.left().nanos() < 3 * catching(sweep).nanos());
    }

    /** A controller at its limit gives the same, whatever it is asked. */
    @Test
    void aVerificationThatCameToTheSameFlowProvesNothingElsewhere() {
        Sweep asFound = begun(PLAN);
        while (catching(asFound).leg().number() == 1) {
            asFound = caught(asFound);
        }
        Next.Catch at20 = catching(asFound);
        while (asFound.next() instanceof Next.Catch) {
            asFound = caught(asFound);
        }
        Sweep entered =
                asFound.with(
                        new SweepEvent.ConstantEntered(
                                "A. Tester", bay().truck().constant().with(3090)));
        Sweep proven = caught(entered);
        Outcome same = ExpectedCatch.of(setup(asFound, at20));
        String told = reason(ended(proven, catching(proven), same));
        assertTrue(
                told.contains(
                        "Asked for 5 US gal/min and for 3.75 US gal/min the truck gave 5 US gal/min"
                                + " and 5 US gal/min at the verification: less than half as far"
                                + " apart as asked, so nothing proves"),
                told);
        assertTrue(reason(caught(proven)).contains("see whether it was entered"));
    }

    private static String reason(Sweep sweep) {
        SweepResult result = SweepResult.of("s", true, sweep, "", false);
        assertEquals(SweepResult.Closing.NOT_VERIFIED, result.closing());
        return String.join("\n", result.reasons());
    }

    @Test
    void whatIsLeftIsAllOfItAtFirstAndLessWithEachCatch() {
        Sweep sweep = begun(PLAN);
        PlanForecast forecast = sweep.forecast();
        assertEquals(forecast.catches(), sweep.left().catches());
        assertEquals(
                forecast.nanos() - forecast.plan().times().checklistNanos(), sweep.left().nanos());
        assertEquals(forecast.drawn().litres(), sweep.left().drawn().litres(), 1e-9);
        assertEquals(forecast.catches() - 1, caught(sweep).left().catches());
        assertTrue(caught(sweep).left().nanos() < sweep.left().nanos());
    }

    @Test
    void aPersonWhoStopsEndsItAndItGoesOnWithTheNextWholeCatch() {
        Sweep sweep = caught(begun(PLAN));
        sweep = ended(sweep, catching(sweep), new Outcome.Stopped("A. Tester"));
        assertInstanceOf(Next.Over.class, sweep.next());
        sweep = sweep.with(new SweepEvent.Resumed());
        Next.Catch next = catching(sweep);
        assertEquals(1, next.leg().number());
        assertEquals(30_000_000_000L, next.emptyNanos(), "what the tank holds is not known");
    }

    @Test
    void aTruckThatRunsLowIsFilledUpBetweenCatches() {
        Sweep sweep = begun(PLAN.replace("on_truck_us_gal = 300", "on_truck_us_gal = 20"));
        int catches = 0;
        while (sweep.next() instanceof Next.Catch) {
            sweep = caught(sweep);
            catches++;
        }
        assertInstanceOf(Next.Refill.class, sweep.next());
        assertTrue(catches > 1, "catches " + catches);
        assertInstanceOf(Next.Catch.class, sweep.with(new SweepEvent.Refilled("A.")).next());
    }

    /** What it has given more than planned is gone, and so is what ran to the bypass with it. */
    @Test
    void aTruckThatGivesMoreThanItIsAskedRunsLowSooner() {
        assertTrue(untilFilledUp(true) < untilFilledUp(false));
    }

    /** Filling up a truck that is full would help nobody. */
    @Test
    void aTruckThatGivesMoreThanItHoldsEndsTheSweep() {
        Sweep sweep = begun(PLAN.replace("on_truck_us_gal = 300", "on_truck_us_gal = 8"));
        Next.Catch first = catching(sweep);
        sweep = ended(sweep, first, ExpectedCatch.of(at(40, setup(sweep, first))));
        Next.Over over = assertInstanceOf(Next.Over.class, sweep.next());
        assertTrue(over.reason().startsWith("A full truck has not enough"), over.reason());
    }

    /** A catch of a truck that gives what another speed would ask for. */
    private static RunSetup at(double milesPerHour, RunSetup setup) {
        return setup.with(
                setup.asked().at(Speed.ofMilesPerHour(milesPerHour)),
                setup.plan(),
                setup.judgement());
    }

    private static int untilFilledUp(boolean givesTwice) {
        Sweep sweep = begun(PLAN.replace("on_truck_us_gal = 300", "on_truck_us_gal = 20"));
        int catches = 0;
        while (sweep.next() instanceof Next.Catch next) {
            RunSetup setup = warmer(sweep, next);
            sweep = ended(sweep, next, ExpectedCatch.of(givesTwice ? at(20, setup) : setup));
            catches++;
        }
        assertInstanceOf(Next.Refill.class, sweep.next());
        return catches;
    }

    /** Where no valve drains the tank a person empties it, as often as a valve would. */
    @Test
    void aTankWithoutADrainIsEmptiedByHand() {
        Sweep sweep = begun(PLAN.replace("drain_seconds = 30", "drain_seconds = 0"));
        List<Boolean> emptied = new ArrayList<>();
        for (int i = 0; i < 5; i++) {
            emptied.add(sweep.next() instanceof Next.Empty);
            if (sweep.next() instanceof Next.Empty) {
                sweep = sweep.with(new SweepEvent.Emptied("A. Tester"));
            }
            assertEquals(0, catching(sweep).emptyNanos());
            sweep = caught(sweep);
        }
        assertEquals(List.of(true, false, false, true, false), emptied);
        Sweep emptyAgain = sweep.with(new SweepEvent.Emptied("A. Tester"));
        Sweep nothing = ended(emptyAgain, catching(emptyAgain), nothing(Cause.NOT_SETTLED));
        assertInstanceOf(Next.Empty.class, nothing.next(), "nobody knows what is in it");
    }

    /** Before which catches the tank is emptied, by valve or by hand, the plan has told before. */
    @ParameterizedTest
    @CsvSource({"when-full, 30", "when-full, 0", "each, 30", "each, 0"})
    void theTankIsEmptiedWhereThePlanSaysSo(String drained, int seconds) {
        Sweep sweep =
                begun(
                        PLAN.replace("drain_seconds = 30", "drain_seconds = " + seconds)
                                .replace("when-full", drained));
        List<String> planned =
                sweep.forecast().steps().stream()
                        .takeWhile(step -> !(step instanceof Step.ConstantEntered))
                        .map(step ->
                                step instanceof Step.Drained emptied
                                        ? emptied.byHand() ? "by hand" : "by valve"
                                        : "catch")
                        .toList();
        List<String> done = new ArrayList<>();
        while (true) {
            if (sweep.next() instanceof Next.Empty) {
                done.add("by hand");
                sweep = sweep.with(new SweepEvent.Emptied("A. Tester"));
            }
            if (!(sweep.next() instanceof Next.Catch next)) {
                break;
            }
            if (next.emptyNanos() > 0) {
                done.add("by valve");
            }
            done.add("catch");
            sweep = caught(sweep);
        }
        assertEquals(planned, done);
    }

    @Test
    void aTankThatIsEmptiedEachTimeIsAskedForOnce() {
        Sweep sweep =
                begun(
                        PLAN.replace("drain_seconds = 30", "drain_seconds = 0")
                                .replace("when-full", "each"));
        for (int i = 0; i < 3; i++) {
            assertInstanceOf(Next.Empty.class, sweep.next());
            sweep = caught(sweep.with(new SweepEvent.Emptied("A. Tester")));
        }
    }

    /** What each point gave on the way down less on the way up, where a plan goes both ways. */
    @Test
    void hysteresisIsToldOfAPlanThatGoesBothWays() {
        Sweep sweep = begun(PLAN.replace("repeats =", "order = \"up-and-down\"\nrepeats ="));
        while (sweep.next() instanceof Next.Catch) {
            sweep = caught(sweep);
        }
        List<SweepResult.Hysteresis> found =
                SweepResult.of("s", true, sweep, "", false).hysteresis();
        assertEquals(2, found.size());
        assertEquals(0, found.getFirst().downLessUp().value(), 1e-9);
        assertFalse(found.getFirst().stands());
        assertEquals(List.of(), resultOf(PLAN).hysteresis());
    }

    private static SweepResult resultOf(String plan) {
        Sweep sweep = begun(plan);
        while (sweep.next() instanceof Next.Catch) {
            sweep = caught(sweep);
        }
        return SweepResult.of("s", true, sweep, "", false);
    }

    @Test
    void aPartOfASweepIsSetAsItsPlanSays() {
        Sweep sweep = begun(PLAN);
        RunSetup setup = setup(sweep, catching(sweep));
        assertEquals(10, setup.asked().speed().milesPerHour(), 1e-9);
        assertEquals(60_000_000_000L, setup.plan().catchNanos());
        assertEquals(0, setup.plan().drainNanos(), "the tank is emptied before, not after");
        assertTrue(setup.guard().isPresent());
        assertEquals(Session.Stage.AS_FOUND, setup.session().stage());
        assertEquals("sweep-1", setup.repeats().place().orElseThrow().series());
    }
}

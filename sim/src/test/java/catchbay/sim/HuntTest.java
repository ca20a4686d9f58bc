package catchbay.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.app.HuntLoop;
import catchbay.metrology.ConstantAdvice.Control;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.run.HuntEnd;
import catchbay.run.HuntPhase;
import catchbay.run.HuntReading;
import catchbay.run.HuntReading.Answer;
import catchbay.run.HuntResult;
import catchbay.run.HuntRules;
import catchbay.run.HuntSetup;
import catchbay.run.HuntState;
import catchbay.run.MeasuredFlow;
import catchbay.run.Part;
import catchbay.run.RangeEnd;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.FlowBy;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Hunts for the ends of a stand-in truck's range, whose truth is known. That the low end is found
 * by raising the valve until the meter just triggers is common practice, no source.
 */
final class HuntTest {

    /** The reference is certified from 0.1 to 10 L/s; the truck's meter gives 50 pulses a litre. */
    private static final double ASKED = 0.6;

    private static final double PUMP = 1.0;

    private static RunSetup setup(FlowBy flowBy) {
        return Setups.plain(ASKED, Control.CLOSED_ON_METER, flowBy);
    }

    private static Part part(long presenceNanos) {
        return new Part(
                "hunt",
                1,
                "A. Tester",
                Optional.of("A. Tester"),
                Optional.of(new Part.Presence(presenceNanos, presenceNanos)),
                0,
                Optional.empty(),
                Volume.ZERO,
                Optional.empty());
    }

    private static SimOptions options(
            RunSetup setup, long seed, double cutOff, double pump, List<Fault> faults) {
        SimOptions drawn = SimOptions.drawn(seed, setup);
        SimOptions.Truck t = drawn.truck();
        SimOptions.Truck truck =
                new SimOptions.Truck(
                        t.overReadingRatio(),
                        t.lowFlowLossRatio(),
                        cutOff,
                        t.shiftRatio(),
                        pump,
                        t.openLoopErrorRatio(),
                        t.flowNoiseRatio(),
                        t.deadSeconds(),
                        t.lagSeconds(),
                        t.speedLagSeconds(),
                        t.gainPerSecond(),
                        t.totalLagSeconds(),
                        t.totalAtStartLitres(),
                        t.lineSeconds(),
                        t.nominalLitresPerSecond());
        return new SimOptions(
                seed, truck, drawn.bay(), drawn.scale(), drawn.person(), drawn.warmth(), faults);
    }

    private static BayDay day(RunSetup setup, SimOptions options) {
        return new BayDay(new Scenario("hunt", setup, options));
    }

    private static HuntState hunted(BayDay day, HuntSetup setup) {
        return new HuntLoop(day.ports(), (state, now) -> {}).run(setup);
    }

    private static HuntSetup low(RunSetup setup, boolean lowering) {
        HuntRules usual = HuntRules.USUAL;
        assertEquals(List.of(), HuntSetup.problems(RangeEnd.LOW, setup, usual));
        return HuntSetup.of(RangeEnd.LOW, setup, usual, lowering, part(900_000_000_000L));
    }

    private static HuntSetup high(RunSetup setup) {
        HuntRules usual = HuntRules.USUAL;
        assertEquals(List.of(), HuntSetup.problems(RangeEnd.HIGH, setup, usual));
        return HuntSetup.of(RangeEnd.HIGH, setup, usual, false, part(900_000_000_000L));
    }

    private static <R extends HuntResult> R found(Class<R> kind, HuntState ended) {
        HuntEnd end = assertInstanceOf(HuntPhase.Ended.class, ended.phase()).end();
        HuntEnd.Reached reached =
                assertInstanceOf(HuntEnd.Reached.class, end, () -> end + " " + ended.readings());
        return assertInstanceOf(kind, reached.result(), ended.readings()::toString);
    }

    private static String brokenOff(HuntState ended) {
        HuntEnd end = assertInstanceOf(HuntPhase.Ended.class, ended.phase()).end();
        return assertInstanceOf(HuntEnd.BrokenOff.class, end).reason();
    }

    @Test
    void theHiddenCutOffLiesWithinTheIntervalThatIsFound() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        for (long seed = 1; seed <= 20; seed++) {
            double cutOff = 0.12 + 0.015 * seed;
            BayDay day = day(setup, options(setup, seed, cutOff, PUMP, List.of()));
            HuntState ended = hunted(day, low(setup, false));
            HuntResult.LowEnd end = found(HuntResult.LowEnd.class, ended);
            String told = "seed " + seed + ", cut-off " + cutOff + " L/s: " + end;
            assertTrue(end.silent().isPresent(), told);
            assertTrue(end.least().litresPerSecond() <= cutOff, told);
            assertTrue(end.most().litresPerSecond() >= cutOff, told);
            assertTrue(
                    end.most().litresPerSecond() / end.least().litresPerSecond() < 1.5,
                    () -> "it is no wider than two steps: " + told);
            assertTrue(day.world().outputsSafe(), told);
            assertTrue(!flowsAtRest(day), told);
        }
    }

    private static boolean flowsAtRest(BayDay day) {
        day.pass(20_000_000_000L);
        return day.world().flows();
    }

    @Test
    void withFallingFlowItIsFoundAgain() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        double cutOff = 0.22;
        HuntState ended =
                hunted(day(setup, options(setup, 3, cutOff, PUMP, List.of())), low(setup, true));
        HuntResult.LowEnd end = found(HuntResult.LowEnd.class, ended);
        HuntResult.DropOut down = end.dropOut().orElseThrow();
        assertTrue(down.counting().most().litresPerSecond() >= cutOff, end::toString);
        assertTrue(down.silent().orElseThrow().least().litresPerSecond() <= cutOff, end::toString);
    }

    /** By the truth of each window: certified uncertainties hold it with 95 %, and half more. */
    @Test
    void whatFlowsInAStepIsWhatTrulyFlowed() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        for (long seed = 1; seed <= 5; seed++) {
            BayDay day = day(setup, options(setup, seed, 0.2, PUMP, List.of()));
            Map<Integer, FlowRate> truth = new HashMap<>();
            HuntState ended =
                    new HuntLoop(
                                    day.ports(),
                                    (state, now) -> {
                                        if (state.phase() instanceof HuntPhase.Reading reading) {
                                            note(truth, day, state, reading.lines().reference());
                                        }
                                    })
                            .run(low(setup, false));
            int told = 0;
            for (HuntReading reading : ended.readings()) {
                if (reading.flow().isPresent()) {
                    told++;
                    MeasuredFlow flow = reading.flow().get();
                    double flowed = truth.get(reading.number()).litresPerSecond();
                    assertEquals(
                            flowed,
                            flow.rate().litresPerSecond(),
                            1.5 * flow.expanded().value() * flowed,
                            reading::toString);
                } else {
                    // A hand that stays a little below the certified range.
                    assertEquals(Answer.UNTOLD, reading.answer());
                    assertEquals(1, reading.number(), reading::toString);
                }
            }
            assertTrue(told > 2, ended.readings()::toString);
        }
    }

    private static void note(
            Map<Integer, FlowRate> truth, BayDay day, HuntState state, PulseGate window) {
        if (window.closeNanos() > 0) {
            double litres =
                    day.world()
                            .truth()
                            .deliveredBetween(window.openNanos(), window.closeNanos())
                            .litres();
            double seconds = (window.closeNanos() - window.openNanos()) / 1e9;
            truth.put(state.readings().size() + 1, new FlowRate(litres / seconds));
        }
    }

    @Test
    void aMeterThatCountsAtTheSmallestFlowHasNoSilentOne() {
        RunSetup setup = setup(FlowBy.SUPPLY);
        BayDay day = day(setup, options(setup, 4, 0.01, PUMP, List.of()));
        // The throttle behind the bay's own supply is shut, as the cautions ask.
        day.world().truck().byHand(new FlowRate(0));
        HuntState ended = hunted(day, low(setup, false));
        HuntResult.LowEnd end = found(HuntResult.LowEnd.class, ended);
        assertEquals(Optional.empty(), end.silent());
        assertEquals(new FlowRate(0), end.least());
    }

    @Test
    void aThrottleLeftOpenIsStoppedToo() {
        RunSetup setup = setup(FlowBy.SUPPLY);
        BayDay day = day(setup, options(setup, 4, 0.01, PUMP, List.of()));
        assertTrue(brokenOff(hunted(day, low(setup, false))).startsWith("The truck puts out"));
        assertTrue(day.world().outputsSafe());
    }

    @Test
    void aMeterThatNeverCountsHasNoLowEnd() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        HuntState ended =
                hunted(day(setup, options(setup, 4, 0.9, PUMP, List.of())), low(setup, false));
        HuntResult.NotFound end = found(HuntResult.NotFound.class, ended);
        assertTrue(end.reason().contains("hunt.low_to"), end::reason);
        assertTrue(
                ended.readings().stream().allMatch(reading -> reading.answer() == Answer.SILENT),
                ended.readings()::toString);
    }

    /** The person forgets the manual mode: the silent meter makes the controller open its valve. */
    @Test
    void aControllerLeftInAutomaticIsStoppedAsARunaway() {
        RunSetup setup = setup(FlowBy.OPERATOR);
        for (long seed = 1; seed <= 5; seed++) {
            BayDay day = day(setup, options(setup, seed, 0.4, PUMP, List.of()));
            day.world().forgetManual();
            HuntState ended = hunted(day, low(setup, false));
            String reason = brokenOff(ended);
            assertTrue(reason.contains("opens its valve fully"), reason);
            assertTrue(ended.readings().isEmpty(), ended.readings()::toString);
            assertTrue(day.world().outputsSafe());
            assertTrue(!flowsAtRest(day), "the person was asked to stop the flow");
        }
    }

    @Test
    void whatThePumpCanGiveIsFound() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        for (long seed = 1; seed <= 20; seed++) {
            double pump = 0.8 + 0.1 * seed;
            BayDay day = day(setup, options(setup, seed, 0.03, pump, List.of()));
            HuntState ended = hunted(day, high(setup));
            HuntResult.HighEnd end = found(HuntResult.HighEnd.class, ended);
            String told = "seed " + seed + ", pump " + pump + " L/s: " + end;
            var given = end.beyond().orElseThrow().given().orElseThrow();
            // The flow wanders below what the pump can give, never above it.
            assertTrue(given.least().litresPerSecond() <= pump, told);
            assertTrue(given.most().litresPerSecond() >= pump * 0.99, told);
            assertTrue(end.followed().least().litresPerSecond() <= pump, told);
            assertTrue(
                    end.beyond().get().asked().litresPerSecond() * 1.1 >= pump,
                    () -> "it follows all that its meter says is below: " + told);
            assertTrue(day.world().outputsSafe(), told);
        }
    }

    @Test
    void aTruckThatFollowsAllHasNoHighEndWithinWhatWasTried() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        HuntRules rules = upTo(new FlowRate(1.2));
        HuntSetup hunt = HuntSetup.of(RangeEnd.HIGH, setup, rules, false, part(900_000_000_000L));
        HuntState ended = hunted(day(setup, options(setup, 2, 0.03, 5, List.of())), hunt);
        HuntResult.HighEnd end = found(HuntResult.HighEnd.class, ended);
        assertEquals(Optional.empty(), end.beyond());
        assertEquals(1.2, end.asked().litresPerSecond(), 1e-9);
    }

    private static HuntRules upTo(FlowRate most) {
        HuntRules usual = HuntRules.USUAL;
        return new HuntRules(
                usual.low(),
                new HuntRules.Span(Optional.empty(), Optional.of(most)),
                new Ratio(0.25),
                usual.readingNanos(),
                usual.pulsesLeast(),
                usual.countedLeast(),
                usual.gapMost(),
                usual.followedLeast(),
                usual.presenceNanos());
    }

    /** Where the bay sends no speed a person sets each. */
    @Test
    void theHighEndIsFoundByHandAsWell() {
        RunSetup setup = setup(FlowBy.OPERATOR);
        BayDay day = day(setup, options(setup, 6, 0.03, 1.3, List.of()));
        HuntResult.HighEnd end = found(HuntResult.HighEnd.class, hunted(day, high(setup)));
        assertEquals(
                1.3,
                end.beyond().orElseThrow().given().orElseThrow().rate().litresPerSecond(),
                0.02,
                end::toString);
        assertTrue(!flowsAtRest(day));
    }

    /** In its automatic mode a controller whose meter dies opens its valve: the bay stops it. */
    @Test
    void aMeterThatDiesInAHuntForTheHighEndIsStopped() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        for (long seed = 1; seed <= 5; seed++) {
            Fault dead =
                    new Fault(
                            FaultKind.TRUCK_METER_DEAD,
                            Fault.Since.RUN,
                            20_000_000_000L + seed * 7_000_000_000L,
                            0,
                            0,
                            PulseLine.TRUCK);
            BayDay day = day(setup, options(setup, seed, 0.03, 5, List.of(dead)));
            String reason = brokenOff(hunted(day, high(setup)));
            assertTrue(reason.startsWith("Liquid flows, and the truck's meter gave no"), reason);
            assertTrue(!flowsAtRest(day), "the speed was taken away");
        }
    }

    @Test
    void theEmergencyStopEndsItAtOnce() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        BayDay day = day(setup, options(setup, 1, 0.03, PUMP, List.of()));
        HuntState ended =
                new HuntLoop(
                                day.ports(),
                                (state, now) -> {
                                    if (state.readings().size() == 1) {
                                        day.world().emergencyStop(true);
                                    }
                                })
                        .run(high(setup));
        assertTrue(brokenOff(ended).startsWith("The emergency stop is pressed"));
        assertEquals(1, ended.readings().size());
        assertTrue(!flowsAtRest(day));
    }

    @Test
    void anAttendantWhoIsGoneEndsIt() {
        RunSetup setup = setup(FlowBy.GROUND_SPEED);
        BayDay day = day(setup, options(setup, 1, 0.03, 5, List.of()));
        day.world().person().leaves(true);
        HuntSetup hunt =
                HuntSetup.of(RangeEnd.HIGH, setup, HuntRules.USUAL, false, part(60_000_000_000L));
        assertTrue(brokenOff(hunted(day, hunt)).startsWith("Nobody has shown to be there"));
        assertTrue(!flowsAtRest(day));
    }
}

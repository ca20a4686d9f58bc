package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Pressure;
import catchbay.quantity.Temperature;
import catchbay.run.BayCommand.Way;
import catchbay.run.CheckItem.Answer;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PressureReading;
import catchbay.signal.PressureSense;
import catchbay.signal.PulseLine;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;
import catchbay.signal.TemperatureSense;
import catchbay.signal.ThermometerText;

import org.junit.jupiter.api.Test;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/** What is made of what was seen; the limits are common practice, no source. */
final class CheckRulesTest {

    private static final RunSetup.Diverter ENDS =
            new RunSetup.Diverter(RunSetup.Feedback.ENDS, 2_000_000_000L);

    /** An even train of 100 Hz: 10 ms from edge to edge. */
    private static long[] train(int edges) {
        long[] stamps = new long[edges];
        for (int i = 0; i < edges; i++) {
            stamps[i] = 1_000_000_000L + 10_000_000L * i;
        }
        return stamps;
    }

    private static EdgeSpan span(long... stamps) {
        return EdgeSpan.NONE.take(EdgeBatch.of(1, stamps));
    }

    private static CheckItem loop(EdgeSpan running, EdgeSpan stopped) {
        return CheckRules.loop(PulseLine.SPEED, 100, running, stopped);
    }

    private static Map<BayContact, Boolean> told(boolean tank, boolean bypass) {
        Map<BayContact, Boolean> told = new EnumMap<>(BayContact.class);
        told.put(BayContact.DIVERTER_AT_TANK, tank);
        told.put(BayContact.DIVERTER_AT_BYPASS, bypass);
        return told;
    }

    @Test
    void aSpanIsTheSameHoweverItIsSplit() {
        long[] stamps = train(100);
        EdgeSpan whole = span(stamps);
        EdgeBatch batch = EdgeBatch.of(1, stamps);
        for (int i = 1; i < stamps.length; i++) {
            assertEquals(whole, EdgeSpan.NONE.take(batch.head(i)).take(batch.tail(i)));
        }
        assertEquals(100, whole.hertz(), 1e-9);
    }

    @Test
    void anEvenTrainComesBack() {
        assertEquals(Answer.PASSED, loop(span(train(1000)), EdgeSpan.NONE).answer());
    }

    @Test
    void noTrainComesBack() {
        CheckItem dead = loop(EdgeSpan.NONE, EdgeSpan.NONE);
        assertEquals(Answer.FAILED, dead.answer());
        assertTrue(dead.seen().contains("0 edges"), dead.seen());
    }

    @Test
    void aMissingNumberIsSeen() {
        EdgeBatch batch = EdgeBatch.of(1, train(10));
        EdgeSpan gap =
                EdgeSpan.NONE.take(batch).take(EdgeBatch.of(12, 1_110_000_000L, 1_120_000_000L));
        assertEquals(1, gap.missing());
        assertTrue(loop(gap, EdgeSpan.NONE).seen().contains("1 missing"));
        assertEquals(Answer.FAILED, loop(gap, EdgeSpan.NONE).answer());
    }

    /** One of a thousand swallowed before it was numbered changes the rate by 0.1 % only. */
    @Test
    void aPulseThatNobodyNumberedIsSeenByItsSpacing() {
        long[] stamps = train(1001);
        long[] fewer = new long[1000];
        System.arraycopy(stamps, 0, fewer, 0, 500);
        System.arraycopy(stamps, 501, fewer, 500, 500);
        CheckItem item = loop(span(fewer), EdgeSpan.NONE);
        assertEquals(Answer.FAILED, item.answer());
        assertTrue(item.seen().contains("10.00 to 20.00 ms"), item.seen());
    }

    @Test
    void aRateThatIsOffIsSeen() {
        CheckItem item = CheckRules.loop(PulseLine.SPEED, 101, span(train(500)), EdgeSpan.NONE);
        assertEquals(Answer.FAILED, item.answer());
        assertTrue(item.mend().orElseThrow().contains("rate"), item::toString);
    }

    @Test
    void anOutputThatGoesOnAfterItsStopIsSeen() {
        CheckItem item = loop(span(train(500)), span(train(3)));
        assertTrue(item.seen().contains("3 edges after the stop"), item.seen());
        assertEquals(Answer.FAILED, item.answer());
    }

    @Test
    void theDiverterArrives() {
        CheckItem item = CheckRules.move(Way.TANK, ENDS, told(true, false), 420_000_000L);
        assertEquals(Answer.PASSED, item.answer());
        assertEquals("0.42 s, allowed 2.00 s", item.seen());
        assertEquals(
                Answer.PASSED, CheckRules.move(Way.BYPASS, ENDS, told(false, true), 1).answer());
    }

    /** A switch that stays on is told from a flap that stays where it is. */
    @Test
    void oneDeadSwitchIsNotAStuckFlap() {
        CheckItem dead = CheckRules.move(Way.TANK, ENDS, told(true, true), 1);
        assertEquals("diverter-at-bypass did not follow, allowed 2.00 s", dead.seen());
        assertTrue(dead.mend().orElseThrow().contains("that switch"), dead::toString);
        CheckItem stuck = CheckRules.move(Way.TANK, ENDS, told(false, true), 1);
        assertTrue(stuck.mend().orElseThrow().contains("The flap did not move"), stuck::toString);
    }

    @Test
    void aDiverterStandsAtTheBypassBeforeItMoves() {
        assertEquals(Answer.PASSED, CheckRules.stands(ENDS, told(false, true)).answer());
        assertEquals(Answer.FAILED, CheckRules.stands(ENDS, told(true, false)).answer());
        CheckItem lacking = CheckRules.stands(ENDS, Map.of(BayContact.DIVERTER_TRIGGER, false));
        assertEquals("nothing is told of diverter-at-tank, diverter-at-bypass", lacking.seen());
    }

    @Test
    void aContactMustGoAndComeBack() {
        Optional<Boolean> released = Optional.of(false);
        assertEquals(Answer.PASSED, contact(new CheckRules.Handled(released, true, true)).answer());
        assertTrue(
                contact(new CheckRules.Handled(released, false, false))
                        .seen()
                        .contains("did not become active"));
        assertTrue(
                contact(new CheckRules.Handled(released, true, false))
                        .seen()
                        .contains("did not come back"));
        assertEquals(
                Answer.NOT_FITTED,
                contact(new CheckRules.Handled(Optional.empty(), false, false)).answer());
    }

    /** 100 kPa are 14.504 psi (6.894757 kPa, NIST SP 811, Appendix B). */
    @Test
    void aGaugeTellsItsPressureOrWhyNot() {
        PressureSense told =
                PressureSense.SILENT
                        .opened()
                        .take(new PressureReading.Shown(new Pressure(100)))
                        .closed();
        assertEquals(
                "14.5 psi, between 14.5 and 14.5, in 1 readings", CheckRules.gauge(told).seen());
        PressureSense broken =
                PressureSense.SILENT
                        .opened()
                        .take(new PressureReading.Missing("its wire is broken"))
                        .closed();
        assertEquals(Answer.FAILED, CheckRules.gauge(broken).answer());
        assertEquals("0 readings, its wire is broken", CheckRules.gauge(broken).seen());
        PressureSense silent = PressureSense.SILENT.opened().closed();
        assertEquals(Answer.FAILED, CheckRules.gauge(silent).answer());
    }

    private static CheckItem contact(CheckRules.Handled handled) {
        return CheckRules.contact(BayContact.EMERGENCY_STOP, handled, 60);
    }

    @Test
    void whatFailedHasAMendAndNothingElse() {
        assertThrows(
                IllegalArgumentException.class,
                () -> new CheckItem("x", Answer.FAILED, "", Optional.empty()));
        assertThrows(
                IllegalArgumentException.class,
                () -> new CheckItem("x", Answer.PASSED, "", Optional.of("mend")));
    }

    /** Each cause has its own mend; a leap that the next reading confirms passes with a word. */
    @Test
    void aThermometersMendFitsItsCause() {
        TemperatureSense silent = TemperatureSense.starting(5_000_000_000L);
        assertTrue(thermometer(silent).mend().orElseThrow().contains("folder or file"));
        for (var mend :
                Map.of(
                                ThermometerText.WRONG_SUM,
                                "pull-up",
                                ThermometerText.SHORTED,
                                "short",
                                ThermometerText.NOTHING_THERE,
                                "data wire",
                                "its file x cannot be read",
                                "may be read")
                        .entrySet()) {
            CheckItem item =
                    thermometer(silent.take(1, new TemperatureReading.Missing(mend.getKey())));
            assertEquals(
                    "1 answers, 1 of them do not count, the last because " + mend.getKey(),
                    item.seen());
            assertTrue(item.mend().orElseThrow().contains(mend.getValue()), item::toString);
        }
        CheckItem unpowered = thermometer(silent.take(1, shown(85)));
        assertTrue(unpowered.mend().orElseThrow().contains("supply wire"), unpowered::toString);
        TemperatureSense leapt = silent;
        for (int i = 0; i < 20; i++) {
            leapt = leapt.take(i, shown(i < 10 ? 10 : 48));
        }
        CheckItem told = CheckRules.thermometer(TemperaturePlace.TANK, leapt, 20, 20);
        assertEquals(Answer.PASSED, told.answer());
        assertTrue(told.seen().endsWith("the last because it leapt to 48.000 C"), told.seen());
    }

    private static CheckItem thermometer(TemperatureSense sense) {
        return CheckRules.thermometer(TemperaturePlace.TANK, sense, sense.amiss().answers(), 2);
    }

    private static TemperatureReading shown(double celsius) {
        return new TemperatureReading.Shown(new Temperature(celsius));
    }
}

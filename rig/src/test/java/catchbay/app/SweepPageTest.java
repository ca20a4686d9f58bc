package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.FlowMix;
import catchbay.plan.Sweep;
import catchbay.plan.Sweep.Next;
import catchbay.plan.SweepEvent;
import catchbay.plan.SweepResult;
import catchbay.record.SweepText;
import catchbay.run.ExpectedCatch;
import catchbay.run.Outcome;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup;
import catchbay.run.Series;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** What a manager must find on the page of a sweep, and in its JSON, before signing it. */
final class SweepPageTest {

    private static final String PRE_WET =
            """
            application = { rate_us_gal_per_ton = 8, salt_lb_per_lane_mile = 3000, lanes = 2 }
            granular = { on = true, gate = "closed", hopper = "empty" }
            """;

    private static final String THIRD = "{ speed_mph = 20 }, { speed_mph = 30 } ]\nr";

    private static SweepResult result(Sweep sweep) {
        return SweepResult.of("s", false, sweep, "It is over.", false);
    }

    private static String rows(Sweep sweep, int columns) {
        return rows(result(sweep), columns);
    }

    private static String rows(SweepResult result, int columns) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        SweepWords.print(new PrintStream(bytes, true, StandardCharsets.UTF_8), result, columns);
        return bytes.toString(StandardCharsets.UTF_8);
    }

    /** The page as one row, so that it does not matter where it is wrapped. */
    private static String page(Sweep sweep) {
        return rows(sweep, 78).replaceAll("\\s+", " ");
    }

    /** Likewise, of a sweep that ended for a reason. */
    private static String page(Sweep sweep, String end) {
        return rows(SweepResult.of("s", false, sweep, end, false), 78).replaceAll("\\s+", " ");
    }

    private static JsonNode json(Sweep sweep) throws IOException {
        return new ObjectMapper().readTree(SweepText.of(result(sweep)));
    }

    private static Sweep ended(Sweep sweep, Outcome outcome) {
        return SweepTest.ended(sweep, SweepTest.catching(sweep), outcome);
    }

    private static Sweep confirmed(Sweep sweep, String by) {
        return sweep.with(new SweepEvent.Confirmed(by, Optional.of(by)));
    }

    private static Sweep asFound(String plan) {
        Sweep sweep = SweepTest.begun(plan);
        while (sweep.next() instanceof Next.Catch) {
            sweep = SweepTest.caught(sweep);
        }
        return sweep;
    }

    /** Points as found of a truck that errs, per cent. */
    private static Sweep erring(String plan, double meter, double control) {
        Sweep sweep = SweepTest.begun(plan);
        while (sweep.next() instanceof Next.Catch next) {
            Outcome even = ExpectedCatch.of(SweepTest.warmer(sweep, next));
            sweep = ended(sweep, ErringCatch.of(even, meter, control));
        }
        return sweep;
    }

    private static Sweep entered(Sweep sweep, double constant) {
        return sweep.with(
                new SweepEvent.ConstantEntered(
                        "A. Tester", SweepTest.bay().truck().constant().with(constant)));
    }

    private static String ahead(Sweep sweep) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        SweepWords.before(new PrintStream(bytes, true, StandardCharsets.UTF_8), sweep);
        return bytes.toString(StandardCharsets.UTF_8);
    }

    @Test
    void whatIsAheadSaysWhereAHandIsNeeded() {
        String between = "No hand is needed while a catch goes on; between catches ";
        String constant = "a new constant is entered where one is found. Every 15 min";
        Sweep sent = SweepTest.begun(SweepTest.PLAN);
        assertTrue(ahead(sent).contains(between + constant), ahead(sent));
        Sweep byHand = SweepTest.begun(SweepTest.PLAN, SweepTest.supplied());
        assertTrue(
                ahead(byHand)
                        .contains(
                                between
                                        + "the controller is set to the speed of each point, and "
                                        + constant),
                ahead(byHand));
        Sweep verifies = entered(asFound(SweepTest.PLAN), 3090);
        assertTrue(ahead(verifies).contains("No hand is needed once it has begun."));
    }

    @Test
    void aCatchThatDoesNotCountIsOnThePage() throws IOException {
        Sweep sweep = SweepTest.begun(SweepTest.PLAN);
        sweep = ended(sweep, SweepTest.nothing(Cause.NOT_SETTLED));
        sweep = SweepTest.caught(sweep);
        sweep = ended(sweep, SweepTest.nothing(Cause.NOT_SETTLED));
        sweep = ended(confirmed(SweepTest.caught(sweep), "B"), SweepTest.nothing(Cause.SPILL));
        String page = page(sweep);
        assertTrue(page.contains("catches 2 with a result, 3 without: see the points"), page);
        assertTrue(page.contains("Void (not settled): runs run-0, run-2."), page);
        assertTrue(page.contains("Stopped (spill): run run-4. It came to nothing."), page);
        JsonNode runs = json(sweep).get("legs").get(0).get("runs");
        assertEquals("It came to nothing.", runs.get(0).get("reason").asText());
        assertTrue(runs.get(1).get("reason").isNull(), runs::toString);
    }

    @Test
    void aPersonsStopIsOnThePageWithItsReason() {
        Sweep sweep = ended(SweepTest.begun(SweepTest.PLAN), new Outcome.Stopped("B. Tester"));
        assertTrue(
                page(sweep).contains("No result (stopped): run run-0. Stopped by B. Tester;"),
                page(sweep));
    }

    @Test
    void whoConfirmedTheChecklistAgainIsOnThePage() throws IOException {
        Sweep once = SweepTest.begun(SweepTest.PLAN);
        assertTrue(page(once).contains("checklist A. Tester speed confirmed S. Tester"));
        Sweep again = confirmed(once, "B. Tester");
        assertTrue(page(again).contains("checklist A. Tester; again once: B. Tester speed"));
        Sweep often = confirmed(confirmed(again, "A. Tester"), "B. Tester");
        assertTrue(
                page(often).contains("A. Tester; again 3 times: B. Tester (2), A. Tester speed"),
                page(often));
        JsonNode checklist = json(often).get("checklist");
        assertEquals(4, checklist.size());
        assertEquals("S. Tester", checklist.get(0).get("speed_by").asText());
        assertEquals("B. Tester", checklist.get(3).get("by").asText());
    }

    @Test
    void onWhatItRestsIsOnThePage() throws IOException {
        Sweep sweep = asFound(SweepTest.PLAN);
        String page = page(sweep);
        for (String told :
                new String[] {
                    "Sweep s of truck T-12, at Whole bay, 2026-02-03 ",
                    "controller set to 15 US gal a lane-mile over 1 lane ",
                    "outlets all; the plan names none ",
                    "liquid salt brine, 1179.78 +- 2.15 kg/m3 (k=2), measured: hydrometer",
                    "reference METER-1, certificate of 2026-01-05, good until 2099-12-31; measured"
                            + " scale SCALE-1, certificate of 2026-01-05, good until 2099-12-31;"
                            + " beside it, as a check judged by",
                    "judged by meter error at most 2.00 % (common practice, no source), by the rule"
                            + " 'guard band' (the whole of the expanded uncertainty)"
                }) {
            assertTrue(page.contains(told), told + " is not in " + page);
        }
        assertFalse(page.contains("granular"), page);
        JsonNode json = json(sweep);
        assertEquals("[\"2026-02-03\"]", json.get("days").toString());
        assertEquals("salt brine", json.get("liquids").get(0).get("liquid").asText());
        assertEquals("METER-1", json.get("instruments").get(0).get("serial").asText());
        assertTrue(json.get("instruments").get(0).get("measured").asBoolean());
        assertEquals("[1,2]", json.get("instruments").get(1).get("legs").toString());
        assertEquals("meter-error", json.get("verdict_on").asText());
        assertEquals(2, json.get("tolerance_percent").asDouble());
        assertEquals("guard-band", json.get("rule").asText());
        assertEquals(15, json.get("application").get("rate_us_gal_per_lane_mile").asDouble(), 1e-4);
    }

    @Test
    void aPlansOwnJudgementIsTheOneToldOf() throws IOException {
        String plan = SweepTest.PLAN + "verdict = { tolerance_percent = 4, rule = \"four-way\" }\n";
        assertTrue(
                page(asFound(plan))
                        .contains(
                                "at most 4.00 % (set by the shop), by the rule 'four-way' (the"
                                        + " whole of the expanded uncertainty)"),
                page(asFound(plan)));
        assertEquals("four-way", json(asFound(plan)).get("rule").asText());
    }

    /** Gone on with on another day, when the settings let the scale measure. */
    @Test
    void anInstrumentIsToldOfWhereItWasUsed() throws IOException {
        Sweep sweep = entered(asFound(SweepTest.PLAN), 3050);
        Next.Catch next = SweepTest.catching(sweep);
        RunSetup before = SweepTest.setup(sweep, next);
        RunSetup.Plan course = before.plan();
        RunSetup setup =
                before.with(
                        before.asked(),
                        course.with(
                                course.flowBy(), RunSetup.MeasureBy.SCALE, course.crossCheckMax()),
                        before.judgement());
        Series.Run run = new Series.Run("run-6", LocalDate.of(2026, 2, 5), ExpectedCatch.of(setup));
        Sweep later =
                sweep.with(
                        new SweepEvent.Caught(next.leg().number(), true, run, Optional.of(setup)));
        String page = page(later);
        assertTrue(page.contains(", at Whole bay, 2026-02-03 to 2026-02-05 "), page);
        assertTrue(page.contains("2099-12-31; measured, at points 1 and 2 "), page);
        assertTrue(page.contains("2099-12-31; measured, at verification 3 "), page);
        assertEquals("[\"2026-02-03\",\"2026-02-05\"]", json(later).get("days").toString());
    }

    @Test
    void ofPreWettingTheGranularSideIsToldOf() throws IOException {
        String plan = PRE_WET + SweepTest.PLAN.replaceAll("speed_mph", "flow_us_gal_per_min");
        Sweep sweep = SweepTest.begun(plan.replace("= 20 }", "= 5 }").replace("= 15 }", "= 4 }"));
        String page = page(sweep);
        assertTrue(
                page.contains(
                        "controller set to 8 US gal a ton of salt, and to 6000 lb of salt a mile,"
                            + " all lanes together granular side on; gate closed; hopper empty"),
                page);
        assertEquals("closed", json(sweep).get("granular").get("gate").asText());
        assertEquals(8, json(sweep).get("application").get("rate_us_gal_per_ton").asDouble(), 1e-4);
    }

    @Test
    void throughWhichOutletIsToldAtEachPointWhereThePlanNamesOne() {
        Sweep sweep =
                asFound(
                        SweepTest.PLAN.replaceFirst(
                                "speed_mph = 10", "speed_mph = 10, outlet = \"left boom\""));
        String page = page(sweep);
        assertTrue(page.contains("outlets as told at each point"), page);
        assertTrue(page.indexOf("Through left boom.") < page.indexOf("Through all its outlets."));
    }

    /** At another flow a controller shows that it still has what another point must prove. */
    @Test
    void whatAnotherFlowShowsDoesNotReadAsProofOfTheEntering() {
        Sweep sweep = SweepTest.caught(entered(asFound(SweepTest.PLAN), 3090));
        String page = page(SweepTest.caught(sweep));
        assertTrue(
                page.contains(
                        "At 3.75 US gal/min the control error is 0.00 %; with the new constant"
                                + " still in the controller"),
                page);
        assertTrue(
                page.contains(
                        " apart shows that the controller still has it, and not by itself that it"
                                + " was entered; that is not the tolerance of the truck."),
                page);
        Outcome even = ExpectedCatch.of(SweepTest.setup(sweep, SweepTest.catching(sweep)));
        String lost = page(ended(sweep, ErringCatch.of(even, 0, -3)));
        assertTrue(lost.contains("% that would show it to be still held: see"), lost);
    }

    /** The allowance of the proof reads as no tolerance, and what it disproves reads as no pass. */
    @Test
    void aVerificationWithoutTheNewConstantDoesNotReadAsAPass() throws IOException {
        Sweep sweep = SweepTest.caught(entered(asFound(SweepTest.PLAN), 3090));
        assertTrue(result(sweep).legs().get(2).verdict().isPresent());
        String page = page(sweep);
        assertTrue(page.contains(" 0.309 not entered verifying 4"), page);
        assertTrue(page.contains("as left not entered at verification 3; no verdict at"), page);
        assertTrue(
                page.contains(
                        "Up to 1.50 % apart counts as entered; that is not the tolerance of the"
                                + " truck."),
                page);
        JsonNode leg = json(sweep).get("legs").get(2);
        assertEquals("not entered", leg.get("verdict").asText());
        assertEquals("pass", leg.get("verdict_alone").asText());
        assertFalse(leg.get("proven").asBoolean(true));
        assertTrue(json(sweep).get("legs").get(0).get("proven").isNull());
    }

    /** A verdict beside the figure of another error would be read as that one's. */
    @Test
    void theErrorInTheTableIsTheOneThatIsJudged() throws IOException {
        String plan = SweepTest.PLAN + "verdict = { error = \"application\" }\n";
        Sweep sweep = erring(plan, 3.3, 3.4);
        String rows = rows(sweep, 78);
        assertTrue(rows.matches("(?s).*point 1 .* \\+0\\.0\\d\\d .* pass\n.*"), rows);
        assertTrue(rows.contains("\n  Meter error +3.309 +- 0."), rows);
        assertTrue(
                page(sweep)
                        .contains(
                                "the error is the application error, by which the truck is judged."
                                        + " The meter error, on which its constant rests, stands"
                                        + " below each point."),
                rows);
        assertTrue(rows(sweep, 40).contains("    error +0.088 +- "), rows(sweep, 40));
        assertTrue(rows(sweep, 40).contains("\n  Meter error +3.309 +- "), rows(sweep, 40));
        JsonNode leg = json(sweep).get("legs").get(0);
        assertEquals(0.097, leg.get("judged_error_percent").asDouble(), 0.02);
        assertEquals(3.3, leg.get("meter_error_percent").asDouble(), 0.02);
        assertTrue(leg.get("judged_error_within_percent").asDouble() > 0, leg::toString);
        Sweep ofMeter = erring(SweepTest.PLAN, 3.3, 3.4);
        assertTrue(page(ofMeter).contains("the error is the meter error, by which"));
        assertFalse(page(ofMeter).contains("Meter error +3.309"), page(ofMeter));
    }

    /** Errors that cancel in the mean are none that a constant cures, nor are they none. */
    @Test
    void thatNoConstantCuresErrorsThatDifferIsOnThePage() {
        double[] errors = {3, -3, 0.02};
        String plan = SweepTest.PLAN.replace("{ speed_mph = 20 } ]\nr", THIRD);
        Sweep sweep = SweepTest.begun(plan);
        while (sweep.next() instanceof Next.Catch next) {
            Outcome even = ExpectedCatch.of(SweepTest.warmer(sweep, next));
            sweep = ended(sweep, ErringCatch.of(even, errors[next.leg().number() - 1], 0));
        }
        String page = page(sweep);
        assertTrue(
                page.contains(
                        "No new constant: the mean meter error of the points, each flow counting"
                                + " the same, is "),
                page);
        assertTrue(
                page.contains(
                        " Points fail all the same: no single constant cures meter errors that"
                                + " differ from point to point. Look at the meter: losses at low"
                                + " flow, wear, air."),
                page);
        FlowMix mix =
                new FlowMix(
                        FlowMix.Fit.LEAST_SQUARES,
                        List.of(new FlowMix.Duty("town", sweep.legs().get(2).point().flow(), 1)));
        String mixed = page(new Sweep(sweep.forecast(), mix, sweep.follow(), sweep.events()));
        assertTrue(
                mixed.contains(
                        "the meter error weighted by the shop's mix of work (curve.mix) is +0.0"),
                mixed);
        String right = page(erring(SweepTest.PLAN, 0.02, 0));
        assertTrue(right.contains("the mean meter error of the points is +0.0"), right);
        assertFalse(right.contains("Points fail"), right);
    }

    @Test
    void ofATruckThatIsRightThePageSaysWhyNothingIsVerified() {
        Sweep sweep = asFound(SweepTest.PLAN);
        String page = page(sweep);
        assertTrue(page.contains(" verifying 4 3.75 - 15.0 - - - not needed constant"), page);
        assertTrue(
                page.contains(
                        "closing passed There is no new constant, so that no verification is"
                                + " needed: every point of the plan is done."),
                page);
        assertTrue(rows(sweep, 40).contains("  verifying 4: not needed\n"), rows(sweep, 40));
        String waiting = page(erring(SweepTest.PLAN, 3.3, 0));
        assertTrue(waiting.contains("15.0 - - - not caught constant"), waiting);
        assertTrue(
                waiting.contains(
                        "The new constant is not entered yet: the truck has the one as found, and"
                                + " does not pass."),
                waiting);
        assertFalse(waiting.contains("no verification is needed"), waiting);
        Sweep left =
                SweepTest.begun(SweepTest.PLAN.replace("skipped_most = 1", "skipped_most = 2"));
        left = ended(left, SweepTest.nothing(Cause.NOT_SETTLED));
        left = ended(left, SweepTest.nothing(Cause.NOT_SETTLED));
        while (left.next() instanceof Next.Catch) {
            left = SweepTest.caught(left);
        }
        assertFalse(page(left).contains("needed"), page(left));
    }

    @Test
    void aConstantThatIsNotEnteredIsSaidToBeNoneOnce() {
        Sweep sweep = erring(SweepTest.PLAN.replaceFirst("verification.*\n", ""), 3.3, 0);
        String end = ((Next.Over) sweep.next()).reason();
        assertEquals(
                "The new constant of 3099.3 pulses/US gal was not entered, since the plan has no"
                        + " verification of it (verification.points): the truck leaves with the"
                        + " constant as found, and this sweep does not pass it.",
                end);
        String page = page(sweep, end);
        assertTrue(page.contains("advised 3099.3 pulses/US gal"), page);
        assertOnce(end, page);
    }

    @Test
    void aConstantThatWasEnteredAsAdvisedIsToldOnce() {
        Sweep sweep = erring(SweepTest.PLAN, 3.3, 0);
        String page = page(entered(sweep, 3099.3));
        assertTrue(page.contains("entered 3099.3 pulses/US gal, as advised The"), page);
        assertFalse(page.contains("advised 3099.3"), page);
        // The shop's mix of work may have changed meanwhile: nothing else is advised for that.
        String other = page(entered(sweep, 3090));
        assertTrue(other.contains("entered 3090 pulses/US gal, as advised The settings"), other);
        assertFalse(other.contains("3099.3"), other);
    }

    @Test
    void whyAPointWasLeftIsToldOnce() {
        Sweep sweep = ended(SweepTest.begun(SweepTest.PLAN), SweepTest.nothing(Cause.SPILL));
        assertTrue(page(sweep).contains("Stopped (spill): run run-0. It came"), page(sweep));
        sweep = ended(confirmed(sweep, "B. Tester"), SweepTest.nothing(Cause.SPILL));
        String end = ((Next.Over) sweep.next()).reason();
        assertEquals(
                "1 point could not be caught, as many as the plan allows (alone.skipped_most);"
                        + " the last one was 2.5 US gal/min.",
                end);
        String page = page(sweep, end);
        assertTrue(
                page.contains(
                        "Stopped (spill): runs run-0, run-1. Left: 2 catches in a row came to"
                                + " nothing; the last one: It came to nothing."),
                page);
        assertOnce("It came to nothing.", page);
    }

    @Test
    void aPersonsStopIsToldOnce() {
        Outcome.Stopped stop = new Outcome.Stopped("B. Tester");
        Sweep sweep = ended(SweepTest.begun(SweepTest.PLAN), stop);
        assertOnce(stop.reason(), page(sweep, ((Next.Over) sweep.next()).reason()));
    }

    private static void assertOnce(String told, String page) {
        assertTrue(page.contains(told), page);
        assertEquals(page.indexOf(told), page.lastIndexOf(told), page);
    }

    @Test
    void theFiguresOfTheResultSayWhatTheyAre() throws IOException {
        Sweep sweep = entered(asFound(SweepTest.PLAN), 3090);
        JsonNode json = json(SweepTest.caught(SweepTest.caught(sweep)));
        assertEquals("constant_pulses_per_us_gal", json.get("constant_key").asText());
        JsonNode legs = json.get("legs");
        assertTrue(legs.get(0).get("expected_of").isNull(), legs::toString);
        assertEquals("application-error", legs.get(2).get("expected_of").asText());
        assertEquals("control-error", legs.get(3).get("expected_of").asText());
    }

    @Test
    void onANarrowTerminalEachPointHasRowsOfItsOwn() {
        String rows = rows(asFound(SweepTest.PLAN), 40);
        assertTrue(
                rows.contains(
                        "  point 2: pass\n"
                                + "    asked 5.00, given 5.00\n"
                                + "    20.0 mph, 3 catches\n"
                                + "    error +0.009 +- 0.292 %\n"),
                rows);
        assertTrue(rows.contains("  verifying 4: not needed\n    asked 3.75\n"), rows);
    }
}

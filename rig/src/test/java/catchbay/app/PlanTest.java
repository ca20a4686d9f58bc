package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.plan.PlanForecast;
import catchbay.plan.PointForecast;
import catchbay.plan.Step;
import catchbay.plan.Ways;
import catchbay.quantity.VolumeUnit;
import catchbay.record.DocumentException;
import catchbay.record.PlanForecastText;
import catchbay.record.PlanText;
import catchbay.run.RunSetup;

import com.fasterxml.jackson.databind.JsonNode;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * Plans as they are written, and what is foreseen of them on the example's whole bay: sums by hand,
 * and the published rules whose sources stand beside the checks.
 */
final class PlanTest {

    private static final String HEAD =
            """
            truck = "T-12"
            wanted_percent = 0.5
            """;

    private static final String FIVE = "points = [ { speed_mph = 20 } ]\n";

    private static RunSetup bay() {
        return Settings.read(Path.of("../src/examples/full-bay.toml"))
                .setup(Optional.of("T-12"), LocalDate.of(2026, 2, 3));
    }

    /** The controller's total in steps of 0.1 gal: then a catch must be long to be good. */
    private static PlanForecast coarsely(double wanted) {
        Settings settings = Settings.read(Path.of("../src/examples/full-bay.toml"));
        settings.override("--test", "reported.source", "line");
        String plan =
                "truck = \"T-12\"\nwanted_percent = "
                        + wanted
                        + "\npoints = [ { flow_us_gal_per_min = 2.1 } ]";
        return PlanForecast.of(
                PlanText.read(TomlFile.of("p.toml", plan).fields()),
                settings.ways(Optional.of("T-12"), LocalDate.of(2026, 2, 3)));
    }

    private static PlanForecast forecast(String plan) {
        return PlanForecast.of(PlanText.read(TomlFile.of("p.toml", plan).fields()), Ways.of(bay()));
    }

    private static List<String> steps(PlanForecast forecast) {
        return forecast.steps().stream()
                .map(step ->
                        switch (step) {
                            case Step.Caught caught -> caught.verifying() ? "verify" : "catch";
                            case Step.Drained _ -> "drain";
                            case Step.Refilled _ -> "refill";
                            case Step.PointSet set ->
                                    "set " + Math.round(set.point().speed().milesPerHour());
                            case Step.OutletSet set -> "open " + set.outlet().orElse("all");
                            case Step.ConstantEntered _ -> "enter";
                        })
                .toList();
    }

    /**
     * 15 gal/lane-mile at 20 mph: 5 gal/min; 6002 pulses/gal there (its certificate): 60 s are 5
     * gal and 30010 pulses. A minute of delivery at least: the catch-size rule (US Army
     * Quartermaster QM5096; UK SI 1987/51, part III).
     */
    @Test
    void aPointBySpeedAndTheSameByFlow() {
        PlanForecast forecast =
                forecast(
                        HEAD
                                + "points = [ { speed_mph = 20 }, { flow_us_gal_per_min = 5,"
                                + " outlet = \"left boom\" } ]");
        for (PointForecast point : forecast.points()) {
            assertEquals(5, point.flow().perMinute(VolumeUnit.US_GALLON), 1e-9);
            assertEquals(20, point.speed().milesPerHour(), 1e-9);
            assertEquals(60_000_000_000L, point.time().catchNanos());
            assertEquals(5, point.caught().usGallons(), 1e-9);
            assertEquals(30_010, point.pulses().orElseThrow(), 0.5);
            assertTrue(point.met());
            assertEquals(3, point.repeats());
            // The bay's own certificate of 0.25 % is in every repeat alike.
            assertTrue(point.mean().orElseThrow().percent() > 0.25);
            assertTrue(point.mean().orElseThrow().value() < point.single().orElseThrow().value());
        }
        assertEquals(Optional.of("left boom"), forecast.points().getLast().point().outlet());
        assertEquals(List.of(), forecast.allRefusals());
    }

    /** 12004 pulses at 6002 a gallon are 2 gal: 24 s; 10 gal at 5 gal/min are 120 s. */
    @ParameterizedTest
    @CsvSource({"least_pulses = 12004, 24", "least_us_gal = 10, 120", "seconds = 45, 45"})
    void lengths(String length, long seconds) {
        PlanForecast forecast = forecast(HEAD + FIVE + "[catch]\n" + length);
        assertEquals(seconds * 1_000_000_000L, forecast.points().getFirst().time().catchNanos());
        assertEquals(
                seconds < 60,
                forecast.allWarnings().stream().anyMatch(s -> s.contains("one minute of delivery")),
                forecast.allWarnings().toString());
    }

    /** What is wanted closer takes longer catches, and what no catch reaches is said so. */
    @Test
    void lengthFromTheUncertaintyWanted() {
        PointForecast loose = coarsely(20).points().getFirst();
        assertEquals(60_000_000_000L, loose.time().catchNanos());
        double reached = loose.mean().orElseThrow().percent();
        PlanForecast beyond = coarsely(0.05);
        double least = beyond.points().getFirst().mean().orElseThrow().percent();
        assertTrue(least < reached && least > 0.25, least + " < " + reached);
        double between = (least + reached) / 2;
        PointForecast found = coarsely(between).points().getFirst();
        assertTrue(found.met() && found.mean().orElseThrow().percent() <= between);
        assertTrue(found.time().catchNanos() > loose.time().catchNanos());
        assertTrue(found.time().catchNanos() < beyond.points().getFirst().time().catchNanos());
        assertFalse(beyond.points().getFirst().met());
        assertTrue(
                beyond.allWarnings().stream().anyMatch(s -> s.contains("is the most of it")),
                beyond.allWarnings().toString());
    }

    /**
     * 0.05 % of scatter (the usual doubt), 0.06 % wanted: 2.776 x 0.05 / sqrt 5 = 0.0621 for 5
     * runs, 2.571 x 0.05 / sqrt 6 = 0.0525 for 6 (Student's table).
     */
    @Test
    void repeatsForTheirScatter() {
        String repeats = "[repeats]\nleast = 3\nmost = 8\nwanted_percent = 0.06\n";
        assertEquals(6, forecast(HEAD + FIVE + repeats).points().getFirst().repeats());
    }

    /** 5 gal each, a tank of 12 gal: two fit, and before the third it is drained. */
    @Test
    void tankIsDrainedBeforeItOverflows() {
        PlanForecast forecast =
                forecast(HEAD + FIVE + "[tank]\nroom_us_gal = 12\ndrained = \"when-full\"");
        assertEquals(List.of("drain", "catch", "catch", "drain", "catch"), steps(forecast));
        String page = page(forecast, 78);
        assertTrue(page.contains("before catch 1     drain the tank, whatever is in it\n"), page);
        assertTrue(page.contains("before catch 3     drain the tank, 10 US gal\n"), page);
        for (Step step : forecast.steps()) {
            assertTrue(!(step instanceof Step.Caught caught) || caught.inTank().usGallons() <= 12);
        }
        PlanForecast small =
                forecast(HEAD + FIVE + "[tank]\nroom_us_gal = 4\n[catch]\nseconds = 60");
        assertTrue(small.allRefusals().getFirst().contains("would overflow the tank"));
        PlanForecast shortened = forecast(HEAD + FIVE + "[tank]\nroom_us_gal = 4");
        assertEquals(48_000_000_000L, shortened.points().getFirst().time().catchNanos(), 1e3);
        assertEquals(List.of(), shortened.allRefusals());
    }

    /** When a tank is full is not known of one whose room is not said, whatever the scale takes. */
    @Test
    void aTankOfUnknownRoomIsDrainedEachTime() {
        PlanForecast forecast = forecast(HEAD + FIVE + "[tank]\ndrained = \"when-full\"");
        assertEquals(
                List.of("drain", "catch", "drain", "catch", "drain", "catch"), steps(forecast));
        // 300 kg of 1180 kg/m3, about.
        assertTrue(
                forecast.allWarnings().stream()
                        .anyMatch(s ->
                                s.contains("not said what the tank holds")
                                        && s.contains("carries 67.")),
                forecast.allWarnings().toString());
        assertTrue(
                forecast.allWarnings().stream()
                        .anyMatch(s -> s.contains("so it is drained before each catch")));
        String page = page(forecast, 78);
        assertTrue(page.contains("before each catch  drain the tank"), page);
        assertTrue(page.contains("what it holds is not said; the scale under it carries"), page);
        assertFalse(page.contains("tank               holds"), page);
        String said = page(forecast(HEAD + FIVE + "[tank]\nroom_us_gal = 90"), 78);
        assertTrue(said.contains("holds 90 US gal; the scale under it carries 67."), said);
    }

    /** Legitimate in a file: in random order the second visit comes at another time. */
    @Test
    void aPointGivenTwiceIsWarnedOfWhereItOnlyRepeats() {
        String twice = "points = [ { speed_mph = 20 }, { speed_mph = 40 }, { speed_mph = 20 } ]\n";
        PlanForecast up = forecast(HEAD + twice);
        assertTrue(
                up.allWarnings().stream()
                        .anyMatch(s -> s.startsWith("Points 1 and 3 are one and the same")),
                up.allWarnings().toString());
        // Each row has its own catches: 3 of 77 s and drip, rest and drain, not 6.
        List<String> rows = page(up, 78).lines().filter(row -> row.contains(" 20 ")).toList();
        assertEquals(2, rows.size());
        assertEquals(rows.getFirst(), rows.getLast());
        String one = page(forecast(HEAD + FIVE), 78);
        assertTrue(one.contains(rows.getFirst()), one + rows);
        for (String other :
                List.of(
                        "order = \"random\"\nseed = 3\n" + twice,
                        "points = [ { speed_mph = 20 }, { speed_mph = 20, outlet = \"left\" } ]\n",
                        "points = [ { speed_mph = 20 }, { speed_mph = 20, measure_by = \"scale\" }"
                                + " ]\n")) {
            assertTrue(
                    forecast(HEAD + other).allWarnings().stream()
                            .noneMatch(s -> s.contains("one and the same")),
                    other);
        }
    }

    private static String page(PlanForecast forecast, int columns) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        PlanWords.print(new PrintStream(bytes, true, StandardCharsets.UTF_8), forecast, columns);
        return bytes.toString(StandardCharsets.UTF_8);
    }

    @Test
    void whatDoesNotFitAsATableHasARowForEachFigure() {
        PlanForecast forecast =
                forecast(
                        HEAD
                                + "points = [ { speed_mph = 20, outlet = \"left\" }, { speed_mph ="
                                + " 40 } ]\n[verification]\npoints = [ { speed_mph = 20 } ]\n");
        String wide = page(forecast, 76);
        assertTrue(wide.contains("   gal/min    mph catch s     gal   pulses catches"), wide);
        assertTrue(
                wide.contains("  through left:\n         5     20      60       5    30010"), wide);
        assertTrue(wide.contains("  through all its outlets:\n        10     40 "), wide);
        String narrow = page(forecast, 75);
        String table = narrow.substring(narrow.indexOf("\n\n"), narrow.indexOf("time  "));
        assertTrue(table.lines().allMatch(row -> row.length() <= 40), table);
        assertTrue(
                table.contains(
                        "  through left:\n  gal/min   5\n    mph     20\n    catch s 60\n"
                                + "    gal     5\n    pulses  30010\n    catches 3\n"),
                table);
    }

    /** By hand: purge 10 s, settle 5 s, diverter 2 x 1 s, catch 60 s = 77 s at 5 gal/min. */
    @Test
    void liquidOfTheTruck() {
        double draw = 77.0 / 60 * 5;
        assertEquals(3 * draw, forecast(HEAD + FIVE).drawn().usGallons(), 1e-9);
        String carries = "[liquid]\non_truck_us_gal = 15\nreserve_us_gal = 1\n";
        PlanForecast refilled = forecast(HEAD + FIVE + carries);
        assertEquals(
                List.of("drain", "catch", "drain", "catch", "refill", "drain", "catch"),
                steps(refilled));
        assertEquals(2 * draw, refilled.refilled().usGallons(), 1e-9);
        PlanForecast alone = forecast(HEAD + FIVE + carries + "refill = false");
        assertTrue(alone.allRefusals().getFirst().contains("runs short at catch 3,"));
        PlanForecast back =
                forecast(HEAD + FIVE + carries + "refill = false\nrecirculated_percent = 100");
        assertEquals(List.of(), back.allRefusals());
        PlanForecast never = forecast(HEAD + FIVE + "[liquid]\non_truck_us_gal = 5");
        assertTrue(never.allRefusals().getFirst().contains("never refilled during a catch"));
        PlanForecast full = forecast(HEAD + FIVE + "[liquid]\nstorage_room_us_gal = 7");
        assertTrue(full.allRefusals().getFirst().contains("The storage is full before catch 2:"));
    }

    /**
     * 300 kg of brine are 67 gal = 254 L: drips 60 s (Measurement Canada, part 4, section 22). 10 +
     * 5 + 2 + 60 + 60 + 2 = 139 s and 30 + 60 s to drain, three times, after 300 s of checklist.
     */
    @Test
    void time() {
        PlanForecast forecast = forecast(HEAD + FIVE);
        assertEquals(300 + 3 * (139 + 90), forecast.nanos() / 1e9, 1e-6);
        assertEquals(300 + 10 * (139 + 90), forecast.nanosMost() / 1e9, 1e-6);
        String page = page(forecast, 78).replaceAll("\\s+", " ");
        assertTrue(
                page.contains("16.5 min in all, 5.0 of them until the checklist is confirmed;"),
                page);
    }

    /** As in {@link #time}: three times 229 s are 11.45 min, ten times 38.17 min. */
    @Test
    void aPlanThatTakesLongerThanItAllowsIsRefused() {
        PlanForecast tooLong = forecast(HEAD + FIVE + "[alone]\ntime_limit_minutes = 11\n");
        assertEquals(
                List.of(
                        "From the confirmed checklist on it takes 11.45 min, and alone.time_limit"
                                + " allows 11 min; allow more, or plan fewer or shorter catches."),
                tooLong.allRefusals());
        PlanForecast expected = forecast(HEAD + FIVE + "[alone]\ntime_limit_minutes = 12\n");
        assertEquals(List.of(), expected.allRefusals());
        assertTrue(
                expected.allWarnings().stream()
                        .anyMatch(s ->
                                s.contains("10 at a point, it cannot be finished: From the")
                                        && s.contains("it takes, with so many, 38.17 min, and")),
                expected.allWarnings().toString());
        assertTrue(
                forecast(HEAD + FIVE).allWarnings().stream().noneMatch(s -> s.contains("limit")));
    }

    /** Of a supply that feeds the truck: 300 s of checklist and 229 s a catch, as in time(). */
    @Test
    void whatIsSetByHandIsToldAndTakesItsTime() {
        String plan =
                HEAD
                        + """
                        points = [
                          { speed_mph = 10, outlet = "left" },
                          { speed_mph = 20, outlet = "left" },
                        ]
                        verification.points = [ { speed_mph = 20 } ]
                        """;
        PlanForecast forecast =
                PlanForecast.of(
                        PlanText.read(TomlFile.of("p.toml", plan).fields()),
                        Ways.of(SweepTest.supplied()));
        assertEquals(
                List.of(
                        "open left",
                        "set 10",
                        "drain",
                        "catch",
                        "drain",
                        "catch",
                        "drain",
                        "catch",
                        "set 20",
                        "drain",
                        "catch",
                        "drain",
                        "catch",
                        "drain",
                        "catch",
                        "enter",
                        "open all",
                        "set 20",
                        "drain",
                        "verify"),
                steps(forecast));
        assertEquals(300 + 7 * 229 + 300 + 5 * 15, forecast.nanos() / 1e9, 1e-6);
        String page = page(forecast, 78).replaceAll("\\s+", " ");
        for (String told :
                List.of(
                        "before catch 1 let liquid run through 'left' alone before catch 1 set the"
                                + " controller to 10 mph before catch 4 set the controller to 20"
                                + " mph before catch 7 enter the new constant before catch 7 open"
                                + " all outlets before catch 7 set the controller to 20 mph before"
                                + " each catch drain the tank",
                        "A hand is needed at every point: the controller is set to its speed")) {
            assertTrue(page.contains(told), page);
        }
        JsonNode steps = PlanForecastText.of(forecast).get("steps");
        assertEquals("left", steps.get(0).get("outlet").asText());
        assertEquals("set-controller", steps.get(1).get("step").asText());
        assertEquals(10, steps.get(1).get("speed_mph").asDouble(), 1e-9);
    }

    @Test
    void verificationComesWithTheNewConstant() {
        PlanForecast none = forecast(HEAD + FIVE);
        assertTrue(none.allWarnings().stream().anyMatch(s -> s.contains("No verification")));
        PlanForecast both =
                forecast(
                        HEAD
                                + FIVE
                                + "[verification]\npoints = [ { speed_mph = 20 }, { speed_mph = 30"
                                + " } ]");
        assertEquals(
                List.of("enter", "drain", "verify", "drain", "verify"), steps(both).subList(6, 11));
        assertFalse(both.allWarnings().stream().anyMatch(s -> s.contains("erification")));
    }

    /** What one catch is known to differs from the mean of three: by their scatter of 0.05 %. */
    @Test
    void aVerificationIsForeseenWithItsOwnRepeats() {
        String verified = FIVE + "verification = { points = [ { speed_mph = 20 } ], repeats = ";
        PlanForecast once = forecast(HEAD + verified + "1 }");
        PointForecast three = once.points().getFirst();
        PointForecast one = once.verification().getFirst();
        assertEquals(1, one.repeats());
        assertEquals(three.single(), one.mean());
        assertEquals(three.time(), one.time());
        assertEquals(
                three.mean(), forecast(HEAD + verified + "3 }").verification().getFirst().mean());
        double between =
                (three.mean().orElseThrow().percent() + one.mean().orElseThrow().percent()) / 2;
        PlanForecast unmet =
                forecast(HEAD.replace("0.5", String.valueOf(between)) + verified + "1 }");
        assertTrue(unmet.points().getFirst().met());
        assertFalse(unmet.verification().getFirst().met());
        assertEquals(
                1, PlanForecastText.of(unmet).get("verification").get(0).get("repeats").asInt());
        assertTrue(
                unmet.allWarnings().stream()
                        .anyMatch(s ->
                                s.contains("when it is verified, not to the")
                                        && s.contains("20 repeats would reach")),
                unmet.allWarnings().toString());
    }

    @Test
    void whatIsSoAtSeveralPointsIsToldOnce() {
        List<String> warnings =
                forecast(
                                HEAD
                                        + """
                                        points = [ { speed_mph = 10 }, { speed_mph = 20 } ]
                                        verification.points = [ { speed_mph = 20 }, { speed_mph = 15 } ]
                                        catch.seconds = 20
                                        """)
                        .allWarnings();
        assertEquals(
                List.of(
                        "At 2.5, 5 and 3.75 US gal/min: a catch of 20 s holds less than the one"
                                + " minute of delivery that published practice asks of a catch;"
                                + " lengthen it where the tank has room."),
                warnings.stream().filter(s -> s.contains("one minute")).toList());
    }

    /** The reference is certified from 2 to 20 gal/min. */
    @Test
    void outsideTheCertifiedRange() {
        PlanForecast forecast =
                forecast(HEAD + "points = [ { flow_us_gal_per_min = 30 }, { speed_mph = 20 } ]");
        assertTrue(forecast.allRefusals().getFirst().contains("certified 2 US gal/min to 20"));
        assertTrue(forecast.points().getFirst().mean().isEmpty());
        assertTrue(forecast.worst().isEmpty());
        JsonNode json = PlanForecastText.of(forecast);
        assertFalse(json.get("can_start").booleanValue());
        assertTrue(json.get("points").get(0).get("mean_percent").isNull());
    }

    /** A guard band of the whole uncertainty in a tolerance of 0.2 % leaves nothing. */
    @Test
    void aToleranceThatNothingPasses() {
        PlanForecast forecast = forecast(HEAD + FIVE + "[verdict]\ntolerance_percent = 0.2");
        assertTrue(forecast.allWarnings().stream().anyMatch(s -> s.contains("no truck can pass")));
    }

    /** 10 gal/ton on half a ton a mile at 30 mph: 10 x 0.5 x 30 / 60 = 2.5 gal/min. */
    @Test
    void preWet() {
        PlanForecast forecast =
                forecast(
                        HEAD
                                + "points = [ { speed_mph = 30 } ]\n[application]\n"
                                + "rate_us_gal_per_ton = 10\nsalt_tons_per_mile = 0.5");
        assertEquals(
                2.5, forecast.points().getFirst().flow().perMinute(VolumeUnit.US_GALLON), 1e-9);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            textBlock =
                    """
                    points = [ { speed_mph = 20, flow_us_gal_per_min = 5 } ] | points[0]: a point has a speed or a flow
                    points = [ { outlet = "left" } ]     | line 3: points[0]: a point needs its speed or its flow
                    points = [ { speed_mph = 0 } ]       | p.toml line 3: points[0].speed_mph = 0
                    points = []                          | a plan has 1 to 100 points, this one 0
                    seed = 3;points = [ { speed_mph = 2 } ] | line 3: seed = 3: a seed goes with order = "random" only
                    order = "random";points = [ { speed_mph = 2 } ] | seed is missing
                    order = "left";points = [ { speed_mph = 2 } ] | line 3: order = "left"
                    points = [ { speed_mph = 2 } ];[catch];seconds = 5;least_pulses = 3 | line 4: catch: a catch lasts
                    points = [ { speed_mph = 2 } ];[catch];secnds = 5 | line 5: catch.secnds
                    points = [ { speed_mph = 2 } ];[repeats];least = 2 | line 5: repeats.least = 2
                    """)
    void refusedInASentence(String lines, String sentence) {
        String plan = HEAD + lines.replace(';', '\n');
        DocumentException refusal = assertThrows(DocumentException.class, () -> forecast(plan));
        assertTrue(refusal.getMessage().contains(sentence), refusal.getMessage());
    }

    private static PlanForecast withMeters(String plan) {
        return PlanForecast.of(
                PlanText.read(TomlFile.of("p.toml", plan).fields()),
                Settings.read(Path.of("../src/examples/full-bay.toml"))
                        .ways(Optional.of("T-12"), LocalDate.of(2026, 2, 3))
                        .each(CatchSession::untried));
    }

    private static List<String> measuredBy(PlanForecast forecast) {
        return forecast.points().stream().map(point -> point.way().name()).toList();
    }

    /**
     * The example's small meter is certified from 2 to 20 gal/min, its large one from 15 to 150.
     */
    @Test
    void eachPointTakesTheMeterThatIsCertifiedThere() {
        PlanForecast forecast =
                withMeters(
                        HEAD
                                + """
                                points = [
                                    { flow_us_gal_per_min = 5 },
                                    { flow_us_gal_per_min = 17 },
                                    { flow_us_gal_per_min = 17, reference = "large" },
                                    { flow_us_gal_per_min = 17, measure_by = "scale" },
                                    { flow_us_gal_per_min = 30 },
                                ]
                                """);
        assertEquals(List.of(), forecast.allRefusals());
        assertEquals(List.of("small", "small", "large", "scale", "large"), measuredBy(forecast));
        // 60 s of 30 gal/min, at close to 499 pulses a gallon.
        assertEquals(30 * 499, forecast.points().getLast().pulses().orElseThrow(), 30);
        JsonNode written = PlanForecastText.of(forecast);
        assertEquals("scale", written.get("points").get(3).get("measured_by").asText());
    }

    @Test
    void aBandSaysByWhatItsFlowsAreMeasured() {
        PlanForecast forecast =
                withMeters(
                        HEAD
                                + """
                                bands = [
                                    { to_us_gal_per_min = 16, measure_by = "scale" },
                                    { from_us_gal_per_min = 16, reference = "large" },
                                ]
                                points = [
                                    { flow_us_gal_per_min = 10 },
                                    { flow_us_gal_per_min = 16 },
                                    { flow_us_gal_per_min = 18, reference = "small" },
                                ]
                                """);
        assertEquals(List.of("scale", "large", "small"), measuredBy(forecast));
        assertEquals(List.of(), forecast.allRefusals());
    }

    @Test
    void aFlowThatNoMeterIsCertifiedAtCannotStart() {
        List<String> refusals =
                withMeters(HEAD + "points = [ { flow_us_gal_per_min = 1 } ]").allRefusals();
        assertEquals(1, refusals.size(), refusals.toString());
        assertTrue(
                refusals.getFirst().contains("small from 2 US gal/min to 20 US gal/min, large"),
                refusals.getFirst());
        assertTrue(
                withMeters(HEAD + "points = [ { speed_mph = 20, reference = \"huge\" } ]")
                        .allRefusals()
                        .getFirst()
                        .contains("no reference meter called 'huge'; name one of small, large"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{ speed_mph = 5, reference = \"small\", measure_by = \"scale\" }||the scale"
                        + " measures",
                "{ speed_mph = 5 }|{ from_us_gal_per_min = 5 }|a band says by what",
                "{ speed_mph = 5 }|{ measure_by = \"scale\" }, { reference = \"x\" }|overlap",
                "{ speed_mph = 5 }|{ from_us_gal_per_min = 5, to_us_gal_per_min = 5,"
                        + " measure_by = \"scale\" }|must end above where it begins",
            })
    void meansThatContradictEachOther(String point, String band, String sentence) {
        String bands = band == null ? "" : "bands = [ " + band + " ]\n";
        String plan = HEAD + bands + "points = [ " + point + " ]";
        DocumentException refusal = assertThrows(DocumentException.class, () -> forecast(plan));
        assertTrue(refusal.getMessage().contains(sentence), refusal.getMessage());
    }

    /**
     * By hand: three catches with their draining at 2 K an hour. All of a pump's heat stays in what
     * the truck carries at the least: 1000 W for so long in 400 gal of brine of 1180 kg/m3 at 2500
     * J/(kg K).
     */
    @Test
    void recirculatedLiquidWarms() {
        String liquid = FIVE + "[liquid]\nrecirculated_percent = 100\non_truck_us_gal = 400\n";
        PlanForecast typed = forecast(HEAD + liquid + "warming_per_hour_celsius = 2\n");
        assertEquals(2 * typed.nanos() / 3600e9, typed.warmedKelvin().orElseThrow(), 1e-9);
        PlanForecast pumped = forecast(HEAD + liquid + "pump_watts = 1000\n");
        double busySeconds = pumped.steps().stream().mapToLong(Step::nanos).sum() / 1e9;
        double kilograms = 400 * 3.785411784 * 1.18;
        double kelvin = 1000 * busySeconds / (kilograms * 2500);
        assertEquals(kelvin, pumped.warmedKelvin().orElseThrow(), kelvin * 0.03);
        assertTrue(pumped.warmedKelvin().get() > kelvin);
        assertEquals(List.of(), pumped.allRefusals());
        PlanForecast hot =
                forecast(HEAD + liquid + "pump_watts = 1000\nwarming_most_celsius = 0.1\n");
        assertTrue(hot.allRefusals().getFirst().contains("may warm by"), hot.toString());
        PlanForecast unsaid = forecast(HEAD + liquid);
        assertTrue(unsaid.warmedKelvin().isEmpty());
        assertTrue(unsaid.allWarnings().stream().anyMatch(w -> w.contains("is not judged; say")));
        assertTrue(
                forecast(HEAD + FIVE + "[liquid]\npump_watts = 1000\n").warmedKelvin().isEmpty());
    }

    @Test
    void theGranularSideIsWrittenDown() {
        String preWet =
                FIVE + "[application]\nrate_us_gal_per_ton = 30\nsalt_tons_per_mile = 0.5\n";
        PlanForecast told =
                forecast(
                        HEAD
                                + preWet
                                + "[granular]\non = true\ngate = \"closed\"\nhopper ="
                                + " \"empty\"\n");
        assertEquals(List.of(), told.allRefusals());
        assertEquals("closed", PlanForecastText.of(told).get("granular").get("gate").asText());
        assertTrue(told.allWarnings().stream().noneMatch(w -> w.contains("granular")));
        assertTrue(
                forecast(HEAD + preWet).allWarnings().stream()
                        .anyMatch(w -> w.contains("add granular.on")));
        // What is written is not asked for.
        String unsaid = "It is not written down ";
        assertTrue(
                forecast(HEAD + preWet + "[granular]\non = true\n")
                        .allWarnings()
                        .contains(
                                unsaid
                                        + "how the granular side stands; add granular.gate, such as"
                                        + " \"closed\", and granular.hopper, such as"
                                        + " \"empty\"."));
        assertTrue(
                forecast(HEAD + preWet + "[granular]\non = true\ngate = \"closed\"\n")
                        .allWarnings()
                        .contains(
                                unsaid
                                        + "what is in the hopper; add granular.hopper, such as"
                                        + " \"empty\"."));
        assertTrue(
                forecast(HEAD + preWet + "[granular]\non = false\n")
                        .allRefusals()
                        .getFirst()
                        .contains("granular.on is false"));
        assertTrue(
                forecast(HEAD + FIVE + "[granular]\non = true\n")
                        .allRefusals()
                        .getFirst()
                        .contains("straight onto the road"));
    }

    @Test
    void theTableFitsANarrowTerminal() {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        PrintStream out = new PrintStream(bytes, true, StandardCharsets.UTF_8);
        PlanWords.print(
                out,
                PlanForecast.of(
                        PlanText.read(
                                TomlFile.read(
                                                Path.of("../src/examples/flow-range.plan.toml"),
                                                "plan",
                                                "its path")
                                        .fields()),
                        Ways.of(bay())));
        String page = bytes.toString(StandardCharsets.UTF_8);
        assertTrue(page.lines().allMatch(row -> row.length() <= 78), page);
        assertTrue(page.contains("order              up and down again"), page);
        assertTrue(page.contains("refill") || page.contains("before catch"), page);
        assertFalse(page.contains("CANNOT START"), page);
    }
}

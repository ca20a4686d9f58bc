package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.stream.Stream;

/** Sweeps on the example of a whole bay, whose truck over-reads by a known share. */
final class SweepOfTheExampleTest {

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final String PLAN =
            """
            truck = "T-12"
            wanted_percent = 1
            points = [ { speed_mph = 10 }, { speed_mph = 20 }, { speed_mph = 40 } ]
            catch.seconds = 60
            tank = { room_us_gal = 60, drained = "when-full", drain_seconds = 60 }
            """;
    private static final String VERIFICATION =
            "verification.points = [ { speed_mph = 20 }, { speed_mph = 30 } ]\n";

    /** Of two flows, as many catches as must be. */
    private static final String SHORT =
            """
            truck = "T-12"
            wanted_percent = 2
            points = [ { speed_mph = 20 }, { speed_mph = 40 } ]
            repeats = { least = 3, most = 3 }
            catch.seconds = 60
            tank = { room_us_gal = 60, drained = "when-full", drain_seconds = 60 }
            """;

    private static final String WEAK_PUMP = "truck_pump_litres_per_min = 26";
    private static final double GALLONS_IN_A_LITRE = 1 / 3.785411784;

    @TempDir Path folder;
    private String bay;

    @BeforeEach
    void virtualBay() throws IOException {
        bay = bay("bay.toml", "truck_over_reading_percent = 3.5\n");
    }

    private String bay(String name, String truck) throws IOException {
        String example = Files.readString(Path.of("../src/examples/full-bay.toml"));
        String virtual =
                example.replace("provider = \"system\"", "provider = \"virtual\"")
                        .replace("truck_over_reading_percent = 3.5\n", truck);
        return Files.writeString(folder.resolve(name), virtual).toString();
    }

    /** Its pump sags in the beginning, so that a catch or a point comes to nothing. */
    private String saggingPump() throws IOException {
        return bay(
                "sag.toml",
                "truck_over_reading_percent = 3.5\n"
                        + "faults = [\"pump-sag since=run after_s=122 for_s=100 size=0.92\"]\n");
    }

    private CommandLineRun sweep(String plan, String... more) throws IOException {
        Path file = Files.writeString(plan(), plan);
        Stream<String> arguments =
                Stream.concat(
                        Stream.of("sweep", file.toString(), "-s", bay, "--json"), Stream.of(more));
        return CommandLineRun.of(arguments.toArray(String[]::new));
    }

    private static JsonNode told(CommandLineRun run) throws IOException {
        return JSON.readTree(run.output());
    }

    private Path journal(String name) throws IOException {
        try (Stream<Path> files = Files.walk(folder)) {
            return files.filter(file -> file.endsWith("sweeps/" + name + ".jsonl"))
                    .findFirst()
                    .orElseThrow();
        }
    }

    @Test
    void asFoundConstantVerificationAsLeft() throws IOException {
        CommandLineRun run = sweep(PLAN + VERIFICATION);
        assertEquals(0, run.code(), run.errors());
        JsonNode told = told(run);
        assertEquals("passed", told.get("closing").asText(), run.output());
        assertTrue(told.get("corrected").asBoolean(), run.output());
        JsonNode legs = told.get("legs");
        assertEquals(5, legs.size());
        for (String figure : run.output().split("[^0-9.]+")) {
            assertTrue(figure.length() < 15, "digits that say nothing: " + figure);
        }
        for (int leg = 1; leg < 3; leg++) {
            // The stand-in truck loses pulses towards its lowest flow; from 5 gal/min on it is
            // even.
            assertEquals(
                    3.5,
                    legs.get(leg).get("meter_error_percent").asDouble(),
                    legs.get(leg).get("meter_error_within_percent").asDouble());
            assertEquals("fail", legs.get(leg).get("verdict").asText());
        }
        for (int leg = 3; leg < 5; leg++) {
            assertTrue(legs.get(leg).get("verifying").asBoolean());
            assertEquals("pass", legs.get(leg).get("verdict").asText());
            assertTrue(legs.get(leg).get("proven").asBoolean(), run.output());
        }
        double entered = told.get("constant_entered").asDouble();
        assertTrue(entered > 3090 && entered < 3110, run.output());
        assertTrue(
                Files.readString(journal(told.get("sweep").asText()))
                        .contains("do not stop the truck's engine"),
                "whoever confirms shows the cautions, and they are kept");
        assertTrue(!run.errors().contains("[ ]"), run.errors());
        assertEquals(2, told.get("legs").get(3).get("runs").size() + 1);
    }

    @Test
    void whoeverLooksOnIsTold() throws IOException {
        Path events = Path.of(bay).resolveSibling("events.jsonl");
        CommandLineRun run = sweep(PLAN, "--events", events.toString());
        assertTrue(run.errors().contains(" min left."), run.errors());
        List<String> lines = Files.readAllLines(events);
        assertTrue(lines.size() > 3, () -> "only " + lines);
        List<String> runs = told(run).get("legs").findValuesAsText("run");
        for (String line : lines) {
            JsonNode moment = JSON.readTree(line);
            assertEquals(told(run).get("sweep"), moment.get("sweep"), line);
            boolean between = moment.get("state").asText().equals("between-catches");
            // Virtual time waits for no writer: what moments are told is chance, their keys are
            // not.
            assertTrue(between || moment.get("run_seconds").asDouble() >= 0, line);
            assertEquals(between, !moment.has("run"), line);
            if (moment.get("state").asText().equals("confirming")) {
                assertFalse(moment.get("awaits_person").asBoolean(), line);
            }
            assertTrue(between || runs.contains(moment.get("run").asText()), line);
        }
        assertEquals("ended", JSON.readTree(lines.getLast()).get("state").asText());
        CommandLineRun folder = sweep(PLAN, "--events", events.getParent().toString());
        assertEquals(2, folder.code());
        assertTrue(folder.errors().contains("is a folder; name a file or a pipe"), folder.errors());
    }

    /** Whoever is there confirms at once; the emergency stop stays pressed for a while longer. */
    @Test
    void nobodyConfirmsWhileTheEmergencyStopIsPressed() throws IOException {
        bay = bay("stopped.toml", "faults = [\"emergency-stop since=run after_s=30 for_s=25\"]\n");
        CommandLineRun run = sweep(PLAN);
        assertEquals(0, run.code(), run.errors());
        int told = run.errors().indexOf("Contact emergency-stop is still active");
        assertTrue(told > 0, run.errors());
        String stopped = "emergency stop. The emergency stop is pressed";
        assertTrue(run.errors().indexOf(stopped) < told, run.errors());
        assertEquals(
                run.errors().indexOf(stopped), run.errors().lastIndexOf(stopped), run.errors());
    }

    @Test
    void anEmergencyStopThatStaysPressedEndsTheSweep() throws IOException {
        bay = bay("stopped.toml", "faults = [\"emergency-stop since=run after_s=30 for_s=0\"]\n");
        CommandLineRun run = sweep(PLAN);
        assertTrue(run.output().contains("contact emergency-stop is still active"), run.output());
        assertTrue(told(run).get("resumable").asBoolean(), run.output());
    }

    /** A catch or two of a point that was left advise another constant; nobody entered it. */
    @Test
    void wherePointsWereLeftNothingWaitsForAVerification() throws IOException {
        bay =
                bay(
                        "dead.toml",
                        "truck_over_reading_percent = 3.5\n"
                            + "faults = [\"truck-meter-dead since=catch after_s=40 for_s=0\"]\n");
        CommandLineRun run = sweep(PLAN + VERIFICATION);
        assertEquals(1, run.code(), run.errors());
        assertEquals("unfinished", told(run).get("closing").asText(), run.output());
        assertTrue(run.output().contains("there is no verdict"), run.output());
    }

    /** The truck runs dry in its third catch of the first point, and stays so. */
    @Test
    void wherePointsWereLeftNoConstantIsEnteredFromTheOthers() throws IOException {
        bay =
                bay(
                        "dry.toml",
                        "truck_over_reading_percent = 3.5\n"
                                + "faults = [\"truck-dry since=catch after_s=150\"]\n");
        CommandLineRun run =
                sweep(
                        """
                        truck = "T-12"
                        wanted_percent = 2
                        points = [ { speed_mph = 15 }, { speed_mph = 25 } ]
                        repeats = { least = 3, most = 4 }
                        catch.seconds = 20
                        tank = { room_us_gal = 60, drained = "when-full" }
                        verification.points = [ { speed_mph = 25 }, { flow_us_gal_per_min = 5 } ]
                        """);
        assertEquals(1, run.code(), run.errors());
        JsonNode told = told(run);
        assertEquals(2, told.get("legs").get(0).get("counted_runs").asInt(), run.output());
        assertTrue(told.get("constant_advised").asDouble() > 3050, run.output());
        assertTrue(told.get("constant_entered").isNull(), run.output());
        assertEquals(0, told.get("legs").get(2).get("runs").size(), run.output());
        assertEquals("unfinished", told.get("closing").asText(), run.output());
        assertEquals(2, told.get("reasons").size(), run.output());
        assertEquals(
                "2 points were left, and a new constant is not entered from what the others gave,"
                        + " so nothing is verified: put right why, then begin a new sweep.",
                told.get("end").asText());
        assertFalse(told.get("resumable").asBoolean(), run.output());
    }

    /** A weak pump does not follow the larger flow; then the truck runs dry. */
    @Test
    void aTruckThatDidNotFollowFailsWhereAnotherPointWasLeft() throws IOException {
        bay =
                bay(
                        "dry.toml",
                        "truck_over_reading_percent = 3.5\n"
                                + "faults = [\"truck-dry since=catch after_s=600\"]\n");
        weakPump();
        JsonNode told = told(sweep("order = \"down\"\n" + SHORT + VERIFICATION));
        assertTrue(told.get("constant_entered").isNull(), told::toString);
        assertEquals("failed", told.get("closing").asText(), told::toString);
        assertEquals(
                "At 10 US gal/min the truck did not follow.",
                told.get("reasons").get(0).asText(),
                told::toString);
        assertTrue(
                told.get("reasons").get(1).asText().startsWith("At 5 US gal/min there is no verd"),
                told::toString);
    }

    /** Two sections at one flow are two points: one that was left stands for itself. */
    @Test
    void aSectionThatWasNeverCaughtIsNotPassedByAnother() throws IOException {
        bay = saggingPump();
        CommandLineRun run =
                sweep(
                        """
                        truck = "T-12"
                        wanted_percent = 2
                        points = [
                          { speed_mph = 10, outlet = "left boom" },
                          { speed_mph = 10, outlet = "right boom" },
                          { speed_mph = 20 },
                        ]
                        repeats = { least = 3, most = 3 }
                        catch = { seconds = 20, purge_us_gal = 0.1, settle_us_gal = 0.1 }
                        tank = { room_us_gal = 30, drained = "when-full", drain_seconds = 5, drip_seconds = 1 }
                        verification.points = [ { speed_mph = 10, outlet = "left boom" }, { speed_mph = 15 } ]
                        """);
        JsonNode told = told(run);
        assertEquals("right boom", told.get("legs").get(1).get("outlet").asText());
        assertFalse(told.get("legs").get(1).get("skipped").isNull(), run.output());
        assertTrue(told.get("constant_entered").isNull(), run.output());
        assertEquals("unfinished", told.get("closing").asText(), run.output());
        assertTrue(told.get("reasons").toString().contains("right boom"), run.output());
    }

    /** The stand-in's meter is put off by a percent between the way up and the way down. */
    @Test
    void whatChangesBetweenUpAndDownIsTold() throws IOException {
        bay =
                bay(
                        "off.toml",
                        "truck_over_reading_percent = 3.5\n"
                                + "faults = [\"truck-meter-off since=run after_s=1000"
                                + " size=0.01\"]\n");
        CommandLineRun run =
                sweep(
                        """
                        truck = "T-12"
                        wanted_percent = 2
                        order = "up-and-down"
                        points = [ { speed_mph = 20 }, { speed_mph = 40 } ]
                        repeats = { least = 3, most = 3 }
                        catch = { seconds = 60 }
                        tank = { room_us_gal = 30, drained = "when-full" }
                        """);
        JsonNode hysteresis = told(run).get("hysteresis");
        assertEquals(2, hysteresis.size(), run.output());
        double most = hysteresis.get(0).get("down_less_up_percent").asDouble();
        assertEquals(1.03, most, 0.05, run.output());
        assertTrue(
                most > hysteresis.get(0).get("down_less_up_within_percent").asDouble(),
                run.output());
    }

    @Test
    void aNewConstantThatNothingVerifiesClosesNoTruck() throws IOException {
        CommandLineRun run = sweep(PLAN);
        assertEquals(0, run.code(), run.errors());
        assertEquals("not-verified", told(run).get("closing").asText());
        assertTrue(told(run).get("constant_entered").isNull());
    }

    @Test
    void aTruckThatIsRightPassesAsFound() throws IOException {
        bay = bay("right.toml", "truck_over_reading_percent = 0.02\n");
        CommandLineRun run = sweep(PLAN.replace("{ speed_mph = 10 }, ", "") + VERIFICATION);
        assertEquals("passed", told(run).get("closing").asText(), run.errors());
        assertTrue(told(run).get("constant_advised").isNull(), run.output());
        assertFalse(told(run).get("corrected").asBoolean(), run.output());
    }

    /** Whatever the instant of a power cut: finished points stand, and it comes to the same. */
    @Test
    void whatWasInterruptedIsGoneOnWith() throws IOException {
        CommandLineRun whole = sweep(PLAN + VERIFICATION);
        String name = told(whole).get("sweep").asText();
        Path journal = journal(name);
        List<String> lines = Files.readAllLines(journal);
        for (int kept : new int[] {3, 7, lines.size() - 6, lines.size() - 2}) {
            JsonNode again = goneOnWith(name, journal, lines.subList(0, kept));
            assertEquals("passed", again.get("closing").asText(), () -> "after " + kept);
            assertEquals(told(whole).get("constant_entered"), again.get("constant_entered"));
            assertEquals(name, again.get("sweep").asText());
        }
        // The stand-in truck begins anew with its old constant, and the file says that the new one
        // was entered: that nothing proves it is seen.
        // So it is, too, where its own point was verified before.
        for (int cut : new int[] {5, 3}) {
            JsonNode forgotten = goneOnWith(name, journal, lines.subList(0, lines.size() - cut));
            assertEquals("not-verified", forgotten.get("closing").asText(), () -> "cut " + cut);
            assertTrue(
                    forgotten.get("reasons").get(0).asText().endsWith("was entered, and saved."),
                    forgotten::toString);
            JsonNode last = forgotten.get("legs").get(4);
            assertEquals("not entered", last.get("verdict").asText(), forgotten::toString);
            assertFalse(last.get("proven").asBoolean(), forgotten::toString);
        }
    }

    /**
     * A controller that was never given the new number follows by the old one. By the new one it
     * then falls short of what was asked by as much as the two differ: nothing of the truck.
     */
    @Test
    void aConstantThatWasNotEnteredIsNoTruckThatDoesNotFollow() throws IOException {
        bay = bay("far.toml", "truck_over_reading_percent = 15\n");
        String name = told(sweep(SHORT + VERIFICATION)).get("sweep").asText();
        List<String> lines = Files.readAllLines(journal(name));
        int entered = 0;
        while (!lines.get(entered).contains("\"entered\"")) {
            entered++;
        }
        Files.write(journal(name), lines.subList(0, entered + 1));
        CommandLineRun again = CommandLineRun.of("sweep", "--resume", name, "-s", bay, "--json");
        JsonNode told = told(again);
        assertEquals("not-verified", told.get("closing").asText(), again.output());
        assertTrue(
                told.get("reasons").get(0).asText().endsWith("was entered, and saved."),
                again.output());
        for (int leg = 2; leg < 4; leg++) {
            assertEquals("not entered", told.get("legs").get(leg).get("verdict").asText());
            assertTrue(told.get("legs").get(leg).get("followed").asBoolean(), again.output());
        }
    }

    /** The truck gives 5 gal/min of the 6 asked: that tells nothing of two constants 3 % apart. */
    @Test
    void aFlowThatNeitherConstantWouldGiveIsNoConstantThatWasNotEntered() throws IOException {
        bay = bay("supply.toml", "truck_over_reading_percent = 3.5\n");
        edited(Path.of(bay), "flow_by = \"ground-speed\"", "flow_by = \"supply\"");
        JsonNode told =
                told(
                        sweep(
                                SHORT.replace(", { speed_mph = 40 }", "")
                                        + "verification.points = [ { speed_mph = 20 },"
                                        + " { flow_us_gal_per_min = 6 } ]\n"));
        assertTrue(told.get("legs").get(1).get("proven").asBoolean(), told::toString);
        JsonNode other = told.get("legs").get(2);
        assertEquals(-16.7, other.get("application_error_percent").asDouble(), 0.5);
        assertTrue(other.get("followed").asBoolean(), told::toString);
        assertTrue(other.get("proven").isNull(), told::toString);
        assertEquals("pass", other.get("verdict").asText(), told::toString);
        assertEquals(1, told.get("reasons").size(), told::toString);
        assertTrue(
                told.get("reasons").get(0).asText().contains("half as far apart as asked"),
                told::toString);
    }

    /** Both flows of the verification come to the pump's own: that one does not follow is known. */
    @Test
    void aTruckThatNeverFollowsFailsAlthoughNothingProvesItsConstant() throws IOException {
        bay = bay("weak.toml", "truck_over_reading_percent = 3.5\n");
        weakPump();
        JsonNode told =
                told(
                        sweep(
                                SHORT
                                        + "verification.points = [ { speed_mph = 40 },"
                                        + " { speed_mph = 48 } ]\n"));
        String reasons = told.get("reasons").toString();
        assertEquals("failed", told.get("closing").asText(), reasons);
        assertTrue(
                reasons.contains("At verification at 10 US gal/min the truck did not follow."),
                reasons);
        assertTrue(reasons.contains("Nothing proves that the constant was entered"), reasons);
        assertTrue(reasons.contains("less than half as far apart as asked"), reasons);
    }

    @Test
    void thePageSaysThatATruckFailedAsFoundAndWhatStoppedTheBay() throws IOException {
        bay =
                bay(
                        "stopped.toml",
                        "truck_over_reading_percent = 3.5\n"
                                + "faults = [\"emergency-stop since=run after_s=30 for_s=25\"]\n");
        Path plan = Files.writeString(plan(), SHORT + VERIFICATION);
        CommandLineRun run = CommandLineRun.of("sweep", plan.toString(), "-s", bay);
        String page = run.output().replaceAll("\\s+", " ");
        assertTrue(page.contains("as found fail at points 1 and 2 as left pass at"), page);
        assertTrue(page.contains("This truck failed as found; it was corrected, and passes"), page);
        assertTrue(page.contains("closing passed"), page);
        assertTrue(page.contains("8 with a result, 1 without: see the points"), page);
        assertTrue(page.contains("Stopped (emergency stop): run 2"), page);
        assertTrue(page.contains("; again once: "), page);
    }

    private JsonNode goneOnWith(String name, Path journal, List<String> lines) throws IOException {
        Files.writeString(journal, String.join("\n", lines) + "\n{\"ran\":\"cut of");
        CommandLineRun refused = sweep(PLAN + VERIFICATION);
        assertEquals(2, refused.code());
        assertTrue(refused.errors().contains("--resume " + name), refused.errors());
        assertListed(name, "open or cut off");
        CommandLineRun again = resumed(name);
        assertEquals(0, again.code(), again.errors());
        assertListed(name, told(again).get("closing").asText());
        Files.delete(journal(name + "-2"));
        return told(again);
    }

    /** Whatever files it has, a sweep is one row. */
    private void assertListed(String name, String closing) {
        CommandLineRun listed = CommandLineRun.of("history", "--sweeps", "-s", bay);
        List<String> rows =
                listed.output().lines().filter(row -> row.startsWith(name + " ")).toList();
        assertEquals(1, rows.size(), listed.output());
        assertTrue(rows.getFirst().contains(" " + closing + " "), listed.output());
    }

    /** One catch comes to nothing and is made again, and so the last one no longer fits. */
    @Test
    void noCatchBeginsThatTheTimeLimitWouldCutOff() throws IOException {
        bay = saggingPump();
        CommandLineRun run =
                sweep(
                        """
                        truck = "T-12"
                        wanted_percent = 2
                        points = [ { speed_mph = 10 } ]
                        repeats = { least = 3, most = 3 }
                        catch = { seconds = 60, purge_us_gal = 0.1, settle_us_gal = 0.1 }
                        tank = { room_us_gal = 30, drained = "each", drain_seconds = 5, drip_seconds = 1 }
                        alone.time_limit_minutes = 4.7
                        """);
        assertEquals(1, run.code(), run.errors());
        JsonNode told = told(run);
        assertTrue(told.get("resumable").asBoolean(), run.output());
        assertTrue(
                told.get("end").asText().contains("(alone.time_limit) is too short"), run::output);
        assertFalse(run.errors().contains("guard.run_seconds"), run.errors());
    }

    /** Its pump gives 6.8 US gal/min at most: a meter that is right at 6.8 says nothing of 10. */
    @Test
    void aTruckThatDoesNotFollowDoesNotPass() throws IOException {
        bay = bay("weak.toml", "truck_over_reading_percent = 3.5\n");
        weakPump();
        JsonNode told = told(sweep(PLAN + VERIFICATION));
        JsonNode followed = told.get("legs").get(1);
        assertTrue(followed.get("followed").asBoolean(), told::toString);
        assertEquals(5 / 1.035, followed.get("measured_flow_us_gal_per_min").asDouble(), 0.02);
        JsonNode missed = told.get("legs").get(2);
        assertFalse(missed.get("followed").asBoolean(), told::toString);
        assertEquals(10, missed.get("flow_us_gal_per_min").asDouble(), 1e-9);
        assertEquals(
                26 * GALLONS_IN_A_LITRE,
                missed.get("measured_flow_us_gal_per_min").asDouble(),
                0.1);
        assertEquals(
                100 * (26 * GALLONS_IN_A_LITRE / 10 - 1),
                missed.get("application_error_percent").asDouble(),
                1);
        assertEquals("failed", told.get("closing").asText());
        assertTrue(
                told.get("reasons").toString().contains("At 10 US gal/min the truck did not"),
                told::toString);
    }

    private void weakPump() throws IOException {
        Files.writeString(
                Path.of(bay),
                Files.readString(Path.of(bay))
                        .replace("truck_pump_litres_per_min = 90", WEAK_PUMP));
    }

    @Test
    void aConstantThatTheSettingsDoNotHaveIsTold() throws IOException {
        JsonNode told = told(sweep(PLAN + VERIFICATION));
        String entered = told.get("constant_entered").asText();
        String put = "put constant_pulses_per_us_gal = " + entered + " into the section of truck";
        for (CommandLineRun next :
                List.of(
                        sweep(PLAN),
                        CommandLineRun.of("catch", "--truck", "T-12", "-s", bay),
                        CommandLineRun.of("plan", plan().toString(), "-s", bay))) {
            String said = (next.errors() + next.output()).replaceAll("\\s+", " ");
            assertTrue(said.contains(put), said);
        }
        CommandLineRun other = CommandLineRun.of("catch", "--truck", "T-31", "-s", bay);
        assertFalse(other.errors().contains("constant_p"), other.errors());
        setConstant(entered);
        assertFalse(sweep(PLAN).errors().contains("constant_p"));
    }

    private Path plan() {
        return folder.resolve("plan.toml");
    }

    private void setConstant(String number) throws IOException {
        String settings = Files.readString(Path.of(bay));
        Files.writeString(
                Path.of(bay),
                settings.replaceFirst(
                        "constant_pulses_per_us_gal = [0-9.]+",
                        "constant_pulses_per_us_gal = " + number));
    }

    /** Its verification goes on by the constant as it came in, whatever the settings say by now. */
    @Test
    void theNewConstantMayStandInTheSettingsBeforeItIsVerified() throws IOException {
        JsonNode whole = told(sweep(PLAN + VERIFICATION));
        String name = whole.get("sweep").asText();
        Path journal = journal(name);
        List<String> lines = Files.readAllLines(journal);
        Files.write(journal, lines.subList(0, lines.size() - 5));
        setConstant("2900");
        CommandLineRun refused = CommandLineRun.of("sweep", "--resume", name, "-s", bay);
        assertEquals(2, refused.code());
        assertTrue(
                refused.errors().contains("begun with a constant of 3000 pulses/US gal, and the"),
                refused.errors());
        setConstant(whole.get("constant_entered").asText());
        CommandLineRun again = resumed(name);
        assertEquals(0, again.code(), again.errors());
        assertEquals(3000, told(again).get("constant_as_found").asDouble());
        assertTrue(again.errors().contains("2 catches are ahead"), again.errors());
        assertEquals(
                whole.get("legs").get(1).get("meter_error_percent"),
                told(again).get("legs").get(1).get("meter_error_percent"));
    }

    private void edited(Path file, String from, String to) throws IOException {
        String text = Files.readString(file);
        assertTrue(text.contains(from), from);
        Files.writeString(file, text.replace(from, to));
    }

    private CommandLineRun resumed(String name) {
        return CommandLineRun.of("sweep", "--resume", name, "-s", bay, "--json");
    }

    /** A sweep that was cut off so many lines before its end. */
    private String cutOff(int lines) throws IOException {
        String name = told(sweep(PLAN + VERIFICATION)).get("sweep").asText();
        List<String> written = Files.readAllLines(journal(name));
        Files.write(journal(name), written.subList(0, written.size() - lines));
        return name;
    }

    /**
     * What was asked, by what it was measured, and by what it is judged: each catch's trace has it.
     */
    @Test
    void catchesOfOtherSettingsAreNotPutUnderThePointsOfToday() throws IOException {
        String name = cutOff(5);
        String settings = Files.readString(Path.of(bay));
        String first = "sweep " + name + " cannot be gone on with: its catch ";
        String last = "; put back what it was begun with, or begin anew with --anew";
        String[][] changes = {
            {"rate_us_gal_per_lane_mile = 15\nlanes", "rate_us_gal_per_lane_mile = 16\nlanes"},
            {"\nlanes = 1\n", "\nlanes = 2\n"},
            {"name = \"Whole bay\"", "name = \"Other bay\""},
            {"name = \"salt brine\"", "name = \"other brine\""},
            {"serial = \"METER-1\"", "serial = \"METER-9\""},
            {
                "flow_us_gal_per_min = 5.0, pulses_per_us_gal = 6002.0",
                "flow_us_gal_per_min = 5.0, pulses_per_us_gal = 6012.0"
            },
            {"[curve]", "[verdict]\ntolerance_percent = 8\n\n[curve]"},
        };
        String[] told = {
            "asked.rate_us_gal_per_lane_mile = 15, and the settings and its plan now say 16",
            "asked.lanes = 1, and the settings and its plan now say 2",
            "bay.name = Whole bay, and the settings and its plan now say Other bay",
            "liquid.name = salt brine, and the settings and its plan now say other brine",
            "reference.serial = METER-1, and the settings and its plan now say METER-9",
            "reference.points[1].pulses_per_us_gal = 6002, and the settings and its plan now say"
                    + " 6012",
            "verdict.tolerance_percent = 2, and the settings and its plan now say 8",
        };
        for (int i = 0; i < changes.length; i++) {
            Files.writeString(Path.of(bay), settings);
            edited(Path.of(bay), changes[i][0], changes[i][1]);
            CommandLineRun refused = resumed(name);
            assertEquals(2, refused.code(), refused.errors());
            String said = refused.errors().replaceAll("\\s+", " ");
            assertTrue(said.contains(first), said);
            assertTrue(said.contains(" was made with " + told[i]), said);
            assertTrue(said.contains(last), said);
        }
        // What is known of the liquid that day, and of the scale, is each catch's own.
        Files.writeString(Path.of(bay), settings);
        edited(Path.of(bay), "temperature_fahrenheit = 50 ", "temperature_fahrenheit = 52 ");
        assertEquals(0, resumed(name).code());
    }

    @Test
    void aPlanThatWasEditedInTheFileIsSeen() throws IOException {
        String name = cutOff(5);
        edited(journal(name), "{ speed_mph = 40 }", "{ speed_mph = 36 }");
        assertTrue(
                resumed(name).errors().contains("asked.speed_mph = 40, and the"),
                resumed(name).errors());
        edited(journal(name), ", { speed_mph = 36 }", "");
        CommandLineRun shorter = resumed(name);
        assertEquals(2, shorter.code(), shorter.errors());
        edited(journal(name), "\"asset\":\"T-12\"", "\"asset\":\"T-31\"");
        assertTrue(
                resumed(name).errors().contains("says truck T-31, and its plan says T-12; restore"),
                resumed(name).errors());
    }

    /** Finished points stand as long as anything tells of them. */
    @Test
    void aCatchThatWasLostSinceIsTold() throws IOException {
        String name = cutOff(9);
        List<String> before = Files.readAllLines(journal(name));
        String lost = JSON.readTree(before.get(4)).get("run").asText();
        Path traces = journal(name).getParent().resolveSibling("traces");
        Path trace;
        try (Stream<Path> all = Files.walk(traces)) {
            trace =
                    all.filter(f -> f.getFileName().toString().startsWith(lost + "."))
                            .findFirst()
                            .get();
        }
        Path away = folder.resolve("away");
        Files.move(trace, away);
        long counted = catches(name);
        CommandLineRun again = resumed(name);
        assertEquals(0, again.code(), again.errors());
        assertTrue(
                again.errors()
                        .replaceAll("\\s+", " ")
                        .contains(
                                "Catch "
                                        + lost
                                        + " had a result, and does not count any more. No"
                                        + " trace can be read that tells of it. Where there"),
                again.errors());
        List<String> after = Files.readAllLines(journal(name + "-2"));
        assertTrue(after.stream().anyMatch(line -> line.contains("\"lost\":\"" + lost)));
        // Cut off again right then, it counts one less; and restored it counts again.
        int resumed = before.size() + 1;
        Files.write(journal(name + "-2"), after.subList(0, resumed + 1));
        assertEquals(counted - 1, catches(name));
        Files.move(away, trace);
        assertEquals(0, resumed(name).code());
        Files.write(
                journal(name + "-3"),
                Files.readAllLines(journal(name + "-3")).subList(0, resumed + 2));
        assertEquals(counted, catches(name));
    }

    private long catches(String name) {
        CommandLineRun listed = CommandLineRun.of("history", "--sweeps", "-s", bay);
        String row =
                listed.output().lines().filter(r -> r.startsWith(name + " ")).findFirst().get();
        return Long.parseLong(row.trim().split("\\s+")[3]);
    }

    /** One catch must not count twice, under two names. */
    @Test
    void aTraceThatIsNotTheRecordedOneDoesNotCount() throws IOException {
        String name = cutOff(9);
        List<String> before = Files.readAllLines(journal(name));
        Path traces = journal(name).getParent().resolveSibling("traces");
        String ending = ".jsonl.zst";
        Path one = traces.resolve(JSON.readTree(before.get(2)).get("run").asText() + ending);
        Path other = traces.resolve(JSON.readTree(before.get(4)).get("run").asText() + ending);
        Files.copy(one, other, StandardCopyOption.REPLACE_EXISTING);
        CommandLineRun again = resumed(name);
        assertEquals(0, again.code(), again.errors());
        assertTrue(
                again.errors().contains("Its trace is not the one that was recorded."),
                again.errors());
    }

    @Test
    void aNumberThatNoControllerTakesIsSeen() throws IOException {
        String name = cutOff(3);
        String entered =
                Files.readAllLines(journal(name)).stream()
                        .filter(line -> line.contains("\"entered\""))
                        .findFirst()
                        .orElseThrow();
        String number = JSON.readTree(entered).get("constant").asText();
        edited(journal(name), "\"constant\":" + number, "\"constant\":-5");
        CommandLineRun refused = resumed(name);
        assertEquals(2, refused.code(), refused.errors());
        assertTrue(
                refused.errors().contains("-5.0 was entered as the constant, which is none of"),
                refused.errors());
        String told = sweep(PLAN, "--anew").errors();
        assertTrue(told.contains("restore the file from a copy."), told);
    }

    /** The disk lost the last line: all is done, and nothing is to move. */
    @Test
    void whatLacksItsLastLineAloneAsksForNothing() throws IOException {
        JsonNode whole = told(sweep(PLAN + VERIFICATION));
        String name = whole.get("sweep").asText();
        List<String> lines = Files.readAllLines(journal(name));
        Files.write(journal(name), lines.subList(0, lines.size() - 1));
        CommandLineRun again = resumed(name);
        assertEquals("passed", told(again).get("closing").asText(), again.errors());
        assertEquals(1, told(again).get("checklist").size(), again.output());
        assertEquals(whole.get("reasons"), told(again).get("reasons"));
    }

    /** With the new constant in its controller nothing is caught as found any more. */
    @Test
    void aPointAsFoundThatWasLostAfterTheNewConstantEndsIt() throws IOException {
        String name = cutOff(3);
        String lost = JSON.readTree(Files.readAllLines(journal(name)).get(2)).get("run").asText();
        Path traces = journal(name).getParent().resolveSibling("traces");
        try (Stream<Path> all = Files.walk(traces)) {
            for (Path file : all.filter(f -> f.toString().contains(lost + ".")).toList()) {
                Files.delete(file);
            }
        }
        CommandLineRun refused = resumed(name);
        assertEquals(2, refused.code(), refused.errors());
        assertTrue(
                refused.errors()
                        .replaceAll("\\s+", " ")
                        .contains(
                                "the new constant is entered, and a point as found is no longer"
                                        + " known ("
                                        + lost
                                        + " had a result, which is lost)"),
                refused.errors());
    }

    /**
     * A file that nobody can read may be of a sweep that was interrupted, or entered a constant.
     */
    @Test
    void aFileThatCannotBeReadIsTold() throws IOException {
        String name = cutOff(3);
        // Garbage, nothing at all, or what a file system may leave of a file whose bytes it lost.
        for (String text : List.of("{\"catchbay_swe\0\n", "", "\0\0\0\0")) {
            Files.writeString(journal(name), text);
            assertUnreadable(name);
        }
        CommandLineRun other = CommandLineRun.of("catch", "--truck", "T-31", "-s", bay);
        assertFalse(other.errors().contains("cannot be read"), other.errors());
    }

    private void assertUnreadable(String name) throws IOException {
        String told = "the file of sweep " + name + " cannot be read";
        CommandLineRun refused = sweep(PLAN);
        assertEquals(2, refused.code());
        assertTrue(
                refused.errors().contains(told + ", so that nobody knows whether it was"),
                refused.errors());
        String remark = "In the data folder " + told + ". Whether another constant was entered";
        for (CommandLineRun next :
                List.of(
                        sweep(PLAN, "--anew"),
                        CommandLineRun.of("catch", "--truck", "T-12", "-s", bay),
                        CommandLineRun.of("plan", plan().toString(), "-s", bay))) {
            String said = next.errors().replaceAll("\\s+", " ");
            assertTrue(said.contains(remark), said);
        }
        assertEquals(3, CommandLineRun.of("history", "--sweeps", "-s", bay).code());
    }

    @Test
    void aFolderThatIsCalledLikeASweepIsNone() throws IOException {
        String name = told(sweep(PLAN)).get("sweep").asText();
        Files.createDirectory(journal(name).resolveSibling("20260101-000000-T-12.jsonl"));
        CommandLineRun listed = CommandLineRun.of("history", "--sweeps", "-s", bay);
        assertEquals(0, listed.code(), listed.errors());
        assertEquals(0, sweep(PLAN).code());
    }

    @Test
    void aSweepIsNotGoneOnWithOnceAnotherHasEnteredAConstant() throws IOException {
        String name = told(sweep(PLAN + VERIFICATION)).get("sweep").asText();
        List<String> lines = Files.readAllLines(journal(name));
        Files.write(journal(name), lines.subList(0, 7));
        String other = told(sweep(PLAN + VERIFICATION, "--anew")).get("sweep").asText();
        CommandLineRun refused = CommandLineRun.of("sweep", "--resume", name, "-s", bay);
        assertEquals(2, refused.code());
        assertTrue(
                refused.errors().contains("since it began sweep " + other + " has entered"),
                refused.errors());
        CommandLineRun next = sweep(PLAN);
        assertEquals(0, next.code(), "it stands in nobody's way: " + next.errors());
    }

    @Test
    void aPlanTellsOfTheSweepThatStandsInItsWay() throws IOException {
        String name = told(sweep(PLAN)).get("sweep").asText();
        String[] plan = {"plan", plan().toString(), "-s", bay};
        assertFalse(CommandLineRun.of(plan).errors().contains("interrupted"));
        Files.write(journal(name), Files.readAllLines(journal(name)).subList(0, 7));
        CommandLineRun refused = CommandLineRun.of(plan);
        assertEquals(0, refused.code(), refused.errors());
        assertTrue(
                refused.errors()
                        .contains(
                                "Truck T-12 has a sweep that was interrupted, or is under way, "
                                        + name
                                        + ": another is refused until that is over; go on with it"
                                        + " (catchbay sweep --resume "
                                        + name
                                        + "), or begin anew with --anew: what"),
                refused.errors());
    }

    /** What goes on has its own file; until all that happened stands in it the old one counts. */
    @Test
    void aSweepCutOffWhileItIsGoneOnWithLosesNothing() throws IOException {
        JsonNode whole = told(sweep(PLAN + VERIFICATION));
        String name = whole.get("sweep").asText();
        List<String> lines = Files.readAllLines(journal(name));
        Files.write(journal(name), lines.subList(0, lines.size() - 4));
        CommandLineRun first = resumed(name);
        assertEquals(0, first.code(), first.errors());
        List<String> goneOn = Files.readAllLines(journal(name + "-2"));
        for (int kept : new int[] {0, 1, 2, lines.size() - 5}) {
            Files.write(journal(name + "-2"), goneOn.subList(0, kept));
            assertListed(name, "open or cut off");
            CommandLineRun again = resumed(name);
            assertEquals(0, again.code(), again.errors());
            assertEquals(whole.get("legs").get(0), told(again).get("legs").get(0));
            Files.delete(journal(name + "-3"));
        }
    }

    @Test
    void aSweepWithoutACatchStandsInNobodysWay() throws IOException {
        String name = told(sweep(PLAN)).get("sweep").asText();
        List<String> lines = Files.readAllLines(journal(name));
        Files.write(journal(name), lines.subList(0, 2));
        CommandLineRun next = sweep(PLAN);
        assertEquals(0, next.code(), next.errors());
    }

    @Test
    void whatIsNoSweepIsRefused() {
        CommandLineRun run = CommandLineRun.of("sweep", "--resume", "none", "-s", bay);
        assertEquals(2, run.code());
        assertTrue(run.errors().contains("no interrupted sweep is called 'none'"), run.errors());
    }
}

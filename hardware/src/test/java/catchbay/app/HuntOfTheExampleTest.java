package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** Hunts on the example of a whole bay, whose truck's meter and pump have ends that are known. */
final class HuntOfTheExampleTest {

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final double LITRES_PER_US_GALLON = 3.785_411_784;
    private static final double CUT_OFF = 12 / LITRES_PER_US_GALLON;
    private static final double PUMP = 50 / LITRES_PER_US_GALLON;

    @TempDir Path folder;

    private String bay(String truck, String more) throws IOException {
        String example = Files.readString(Path.of("../src/examples/full-bay.toml"));
        String virtual =
                example.replace("provider = \"system\"", "provider = \"virtual\"")
                        .replace("truck_over_reading_percent = 3.5\n", truck);
        return Files.writeString(folder.resolve("bay.toml"), virtual + more).toString();
    }

    private static String truck() {
        return "truck_cut_off_litres_per_min = 12\n";
    }

    private static CommandLineRun hunt(String end, String bay, String... more) {
        List<String> arguments =
                new ArrayList<>(List.of("hunt", end, "-s", bay, "-t", "T-12", "--json"));
        if (!List.of(more).contains("--reference")) {
            arguments.addAll(List.of("--reference", "small"));
        }
        arguments.addAll(List.of(more));
        return CommandLineRun.of(arguments.toArray(String[]::new));
    }

    private static JsonNode told(CommandLineRun run) throws IOException {
        assertEquals(0, run.code(), run.errors() + run.output());
        return JSON.readTree(run.output());
    }

    private CommandLineRun plan(String bay, double gallonsPerMinute) throws IOException {
        Path plan =
                Files.writeString(
                        folder.resolve("plan.toml"),
                        """
                        truck = "T-12"
                        wanted_percent = 2
                        points = [ { flow_us_gal_per_min = %s } ]
                        catch.seconds = 60
                        tank = { room_us_gal = 60, drained = "each", drain_seconds = 60 }
                        """
                                .formatted(gallonsPerMinute));
        return CommandLineRun.of("plan", plan.toString(), "-s", bay, "--json");
    }

    @Test
    void theLowEndIsFoundKeptListedAndKnownToPlans() throws IOException {
        String bay = bay(truck(), "");
        JsonNode low = told(hunt("low", bay, "--lowering"));
        double least = low.get("least_us_gal_per_min").asDouble();
        double most = low.get("most_us_gal_per_min").asDouble();
        assertTrue(least < CUT_OFF && CUT_OFF < most, low::toString);
        assertTrue(low.get("drop_out").has("silent"), low::toString);

        String name = low.get("hunt").asText();
        String data = folder.resolve("catchbay-data").toString();
        CommandLineRun listed = CommandLineRun.of("history", "--hunts", "--data", data);
        assertTrue(listed.output().contains(name), listed.output());
        assertEquals(
                low,
                JSON.readTree(
                        CommandLineRun.of("history", "--hunts", "--data", data, "--json")
                                .output()));
        String none =
                CommandLineRun.of("history", "--hunts", "--data", data, "-t", "T-31").output();
        assertTrue(none.startsWith("No hunt is kept here"), none);

        double silent = low.at("/silent/us_gal_per_min").asDouble();
        double counting = low.at("/counting/us_gal_per_min").asDouble();
        CommandLineRun refused = plan(bay, silent * 0.99);
        assertEquals(1, refused.code());
        assertTrue(refused.output().contains("as hunt " + name + " of 2026-01-05"));
        CommandLineRun warned = plan(bay, (silent + counting) / 2);
        assertEquals(0, warned.code(), warned.output());
        assertTrue(warned.output().contains("it is not known whether the truck's meter counts"));
        assertTrue(!plan(bay, counting * 1.1).output().contains(name));

        List<String> lines =
                Files.readAllLines(folder.resolve("catchbay-data/hunts/" + name + ".jsonl"));
        assertEquals(3 + low.get("steps").size(), lines.size());
        assertTrue(lines.get(1).contains("its meter is silent"), "the cautions are kept");
        assertEquals(low, JSON.readTree(lines.getLast()));
        cutOff(name, lines, bay, silent);
    }

    /** Whatever of a hunt a power cut has left is no result. */
    private void cutOff(String name, List<String> lines, String bay, double silent)
            throws IOException {
        Path file = folder.resolve("catchbay-data/hunts/" + name + ".jsonl");
        String whole = String.join("\n", lines);
        for (String left :
                List.of(
                        "",
                        lines.getFirst(),
                        String.join("\n", lines.subList(0, 3)) + "\n",
                        whole.substring(0, whole.length() - 5))) {
            Files.writeString(file, left);
            assertTrue(!plan(bay, silent * 0.99).output().contains(name), left);
            CommandLineRun listed = CommandLineRun.of("history", "--hunts", "-s", bay);
            boolean torn = !left.endsWith("\n");
            assertTrue(
                    listed.output()
                            .contains(
                                    torn
                                            ? "damaged: not to be read"
                                            : "interrupted, or still under way: no result"),
                    listed.output());
        }
    }

    /** One that was ended, and one that found nothing, are told as well as one that found it. */
    @Test
    void whatFoundNothingIsListedToo() throws IOException {
        String bay = bay(truck(), "[guard]\nrun_seconds = 100\n");
        CommandLineRun ended = hunt("low", bay);
        assertEquals(1, ended.code(), ended.output());
        JsonNode line = JSON.readTree(ended.output());
        CommandLineRun listed = CommandLineRun.of("history", "--hunts", "-s", bay);
        assertEquals(0, listed.code());
        assertTrue(
                listed.output().contains("no result: " + line.get("ended").asText()),
                listed.output());
        assertTrue(
                CommandLineRun.of("history", "--hunts", "-s", bay, "-t", "T-31")
                        .output()
                        .startsWith("No hunt is kept here"));

        CommandLineRun never = hunt("low", bay("truck_cut_off_litres_per_min = 100\n", ""));
        assertEquals(1, never.code(), never.output());
        assertTrue(never.output().contains("\"reason\""), never.output());
        String both = CommandLineRun.of("history", "--hunts", "-s", bay).output();
        assertTrue(both.contains("not found"), both);
    }

    /** A meter certified only above the usual flow: the refusal names what to set. */
    @Test
    void aLargeMeterBeginsWhereItIsCertified() throws IOException {
        String bay = bay("", "");
        CommandLineRun refused = hunt("high", bay, "--reference", "large");
        assertEquals(2, refused.code(), refused.output());
        assertTrue(
                refused.errors().contains("set hunt.high_from_us_gal_per_min to at least 15"),
                refused.errors());
        bay = bay("", "[hunt]\nhigh_from_us_gal_per_min = 16\n");
        JsonNode high = told(hunt("high", bay, "--reference", "large"));
        assertEquals(
                90 / LITRES_PER_US_GALLON, high.at("/beyond/given/us_gal_per_min").asDouble(), 0.5);
    }

    @Test
    void theHighEndIsFoundAndKnownToPlans() throws IOException {
        String bay = bay("truck_cut_off_litres_per_min = 0.1\n", "");
        Files.writeString(
                Path.of(bay),
                Files.readString(Path.of(bay))
                        .replace("pump_litres_per_min = 90", "pump_litres_per_min = 50"));
        JsonNode high = told(hunt("high", bay));
        double asked = high.get("asked_us_gal_per_min").asDouble();
        double beyond = high.at("/beyond/asked_us_gal_per_min").asDouble();
        assertEquals(PUMP, high.at("/beyond/given/us_gal_per_min").asDouble(), PUMP * 0.01);
        assertTrue(asked < PUMP * 1.1 && PUMP < beyond, high::toString);
        CommandLineRun refused = plan(bay, beyond);
        assertEquals(1, refused.code());
        assertTrue(refused.output().contains("The truck does not follow"), refused.output());
        assertTrue(plan(bay, asked + 0.1).output().contains("It is not known whether"));
    }

    @Test
    void byTheScaleTheSameIsFound() throws IOException {
        String bay =
                bay(
                        truck(),
                        """
                        [hunt]
                        low_from_us_gal_per_min = 2
                        low_to_us_gal_per_min = 8
                        reading_seconds = 60
                        """);
        Files.writeString(
                Path.of(bay),
                Files.readString(Path.of(bay))
                        .replace("measure_by = \"reference\"", "measure_by = \"scale\""));
        JsonNode low = told(hunt("low", bay));
        assertTrue(low.get("least_us_gal_per_min").asDouble() < CUT_OFF, low::toString);
        assertTrue(CUT_OFF < low.get("most_us_gal_per_min").asDouble(), low::toString);
        for (JsonNode step : low.get("steps")) {
            double within = step.at("/flow/expanded_percent").asDouble();
            assertTrue(within > 0.05 && within < 3, step::toString);
        }
    }

    @Test
    void whatCannotBeHuntedForIsRefused() throws IOException {
        String bay = bay(truck(), "[hunt]\nlow_from_us_gal_per_min = 0.5\n");
        CommandLineRun below = hunt("low", bay);
        assertEquals(2, below.code());
        assertTrue(
                below.errors().contains("leaves the reference's certified 2.00 US gal/min"),
                below.errors());
        assertEquals(2, hunt("middle", bay).code());
        assertEquals(2, hunt("high", bay, "--lowering").code());
        String line = bay.replace("bay.toml", "line.toml");
        Files.writeString(
                Path.of(line),
                Files.readString(Path.of(bay))
                                .replace(
                                        "low_from_us_gal_per_min = 0.5",
                                        "low_to_us_gal_per_min = 4")
                                .replace(
                                        "source = \"pulses\"",
                                        "source = \"line\"\nstep_us_gal = 0.01")
                        + "[port.controller]\nprovider = \"stand-in\"\n");
        CommandLineRun untapped = hunt("low", line);
        assertEquals(2, untapped.code());
        assertTrue(untapped.errors().contains("reported.source is not pulses"), untapped.errors());
    }
}
